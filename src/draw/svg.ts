/** A piece of SVG markup, already escaped. */
export type Svg = string;

/** Coordinates are written to a hundredth of a millimetre, so that the same seal gives the same text. */
export function n(value: number): string {
  const rounded = Math.round(value * 100) / 100;
  return String(rounded === 0 ? 0 : rounded);
}

export type Attributes = Readonly<Record<string, string | number | undefined>>;

/** An element; numbers are rounded, texts escaped, undefined attributes left out. */
export function el(name: string, attributes: Attributes, ...children: readonly Svg[]): Svg {
  const text = Object.entries(attributes)
    .filter(([, value]) => value !== undefined)
    .map(
      ([key, value]) =>
        ` ${key}="${typeof value === 'number' ? n(value) : escapeMarkup(value ?? '')}"`,
    )
    .join('');
  return children.length === 0
    ? `<${name}${text}/>`
    : `<${name}${text}>${children.join('')}</${name}>`;
}

/** Text made safe for markup: what XML forbids is replaced, what it means is escaped. */
export function escapeMarkup(text: string): string {
  return (
    text
      // biome-ignore lint/suspicious/noControlCharactersInRegex: they are what is being replaced.
      .replace(/[\u0000-\u001F\u007F\uFFFE\uFFFF]|\p{Surrogate}/gu, '�')
      .replaceAll('&', '&amp;')
      .replaceAll('<', '&lt;')
      .replaceAll('>', '&gt;')
      .replaceAll('"', '&quot;')
      .replaceAll("'", '&apos;')
  );
}

export const INK = '#1D2733';
export const SLATE = '#55606B';
export const FAINT = '#9AA5AC';
export const PAPER = '#FFFFFF';
export const CABLE = '#8E989E';
export const TUBE = '#DDE2E4';
const SEALANT = '#C9D3CF';

export interface TextOptions {
  readonly size: number;
  readonly anchor?: 'start' | 'middle' | 'end';
  readonly bold?: boolean;
  readonly fill?: string;
  /** Degrees, clockwise, about the text's own point. */
  readonly turn?: number;
  /** A rim behind of this colour, so that it reads over hatching. */
  readonly halo?: string;
}

/** A line of text; `y` is its base line. */
export function text(x: number, y: number, content: string, options: TextOptions): Svg {
  return el(
    'text',
    {
      x,
      y,
      'font-size': options.size,
      'text-anchor': options.anchor === 'start' ? undefined : options.anchor,
      'font-weight': options.bold ? 'bold' : undefined,
      fill: options.fill ?? INK,
      transform:
        options.turn === undefined ? undefined : `rotate(${n(options.turn)} ${n(x)} ${n(y)})`,
      ...(options.halo
        ? {
            stroke: options.halo,
            'stroke-width': options.size * 0.32,
            'stroke-linejoin': 'round',
            'paint-order': 'stroke',
          }
        : {}),
    },
    escapeMarkup(content),
  );
}

export function line(
  x1: number,
  y1: number,
  x2: number,
  y2: number,
  attributes: Attributes = {},
): Svg {
  return el('line', { x1, y1, x2, y2, stroke: INK, 'stroke-width': 0.18, ...attributes });
}

/** A whole drawing of a given size in millimetres; its user unit is a millimetre on paper. */
export function page(widthMm: number, heightMm: number, title: string, body: readonly Svg[]): Svg {
  return el(
    'svg',
    {
      xmlns: 'http://www.w3.org/2000/svg',
      width: `${n(widthMm)}mm`,
      height: `${n(heightMm)}mm`,
      viewBox: `0 0 ${n(widthMm)} ${n(heightMm)}`,
      'font-family': "'DejaVu Sans', Verdana, sans-serif",
      role: 'img',
    },
    el('title', {}, escapeMarkup(title)),
    HATCHES,
    el('rect', { width: widthMm, height: heightMm, fill: PAPER }),
    ...body,
  );
}

/** Patterns, told apart by form and not by colour. @source ISO 128-50 for hatching at 45°. */
const HATCHES = [
  '<defs>',
  '<pattern id="host" width="2.4" height="2.4" patternUnits="userSpaceOnUse" patternTransform="rotate(45)">',
  `<line x1="0" y1="0" x2="0" y2="2.4" stroke="${FAINT}" stroke-width="0.22"/></pattern>`,
  '<pattern id="hollow" width="1" height="1" patternUnits="userSpaceOnUse" patternTransform="rotate(-45)">',
  `<line x1="0" y1="0" x2="0" y2="1" stroke="${SLATE}" stroke-width="0.28"/></pattern>`,
  '<pattern id="sealant" width="1.3" height="1.3" patternUnits="userSpaceOnUse">',
  `<rect width="1.3" height="1.3" fill="${SEALANT}"/><circle cx="0.35" cy="0.35" r="0.16" fill="${SLATE}"/><circle cx="1" cy="1" r="0.16" fill="${SLATE}"/></pattern>`,
  '</defs>',
].join('');
