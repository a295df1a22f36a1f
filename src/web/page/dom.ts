type Child = Node | string | null | undefined;
type Value = string | boolean | ((event: Event) => void) | undefined;

export type Attributes = Readonly<Record<string, Value>>;

/**
 * An element with its attributes and children. Strings become text nodes, never markup, so that names
 * from drawings and models stay names. Functions are listeners of the event they are named after.
 */
export function h<K extends keyof HTMLElementTagNameMap>(
  name: K,
  attributes: Attributes,
  ...children: readonly Child[]
): HTMLElementTagNameMap[K] {
  return dress(document.createElement(name), attributes, children);
}

/** The same for drawings. */
export function svg<K extends keyof SVGElementTagNameMap>(
  name: K,
  attributes: Attributes,
  ...children: readonly Child[]
): SVGElementTagNameMap[K] {
  const element = document.createElementNS('http://www.w3.org/2000/svg', name);
  return dress(element as SVGElementTagNameMap[K], attributes, children);
}

function dress<E extends Element>(
  element: E,
  attributes: Attributes,
  children: readonly Child[],
): E {
  for (const [key, value] of Object.entries(attributes)) {
    if (typeof value === 'function') element.addEventListener(key, value);
    else if (value === true) element.setAttribute(key, '');
    else if (typeof value === 'string') element.setAttribute(key, value);
  }
  element.append(...solid(children));
  return element;
}

/** Puts other content in the place of an element's own; what has the focus keeps it by its id. */
export function fill(element: Element, ...children: readonly Child[]): void {
  const focused = element.contains(document.activeElement) ? document.activeElement?.id : '';
  element.replaceChildren(...solid(children));
  if (focused) document.getElementById(focused)?.focus();
}

function solid(children: readonly Child[]): (Node | string)[] {
  return children.filter((child): child is Node | string => child !== null && child !== undefined);
}

/** An element of the page's own shell. */
export function part(id: string): HTMLElement {
  const element = document.getElementById(id);
  if (element === null) throw new Error(`The page has no part ${id}.`);
  return element;
}

export function button(id: string, text: string, press: () => void, isPressed?: boolean) {
  return h(
    'button',
    {
      id,
      type: 'button',
      click: press,
      ...(isPressed === undefined ? {} : { 'aria-pressed': String(isPressed) }),
    },
    text,
  );
}

/** A labelled box for a text or a number. */
export function field(
  id: string,
  label: string,
  value: string,
  options: { readonly type?: 'text' | 'number'; readonly hint?: string } = {},
): { readonly row: HTMLElement; readonly box: HTMLInputElement } {
  const box = h('input', {
    id,
    type: options.type ?? 'text',
    value,
    autocomplete: 'off',
    ...(options.type === 'number' ? { step: 'any', min: '0' } : {}),
    ...(options.hint === undefined ? {} : { placeholder: options.hint }),
  });
  return { row: h('div', { class: 'field' }, h('label', { for: id }, label), box), box };
}

/** A labelled choice. */
export function choice<V extends string>(
  id: string,
  label: string,
  options: readonly (readonly [value: V, text: string])[],
  chosen: V,
  onChange: (value: V) => void,
): HTMLElement {
  return h(
    'div',
    { class: 'field' },
    h('label', { for: id }, label),
    h(
      'select',
      { id, change: (event) => onChange((event.target as HTMLSelectElement).value as V) },
      ...options.map(([value, text]) => h('option', { value, selected: value === chosen }, text)),
    ),
  );
}

export function table(
  heads: readonly string[],
  rows: readonly (readonly (Node | string)[])[],
): HTMLElement {
  return h(
    'div',
    { class: 'wide', tabindex: '0' },
    h(
      'table',
      {},
      h('thead', {}, h('tr', {}, ...heads.map((text) => h('th', { scope: 'col' }, text)))),
      h(
        'tbody',
        {},
        ...rows.map((cells) => h('tr', {}, ...cells.map((cell) => h('td', {}, cell)))),
      ),
    ),
  );
}
