import { escapeMarkup } from '../../draw/svg.ts';

/** A piece of HTML markup, already escaped. */
export type Html = string;

export type HtmlAttributes = Readonly<Record<string, string | undefined>>;

/** An element with both its tags, since HTML takes `<div/>` for an opening tag alone. */
export function tag(name: string, attributes: HtmlAttributes, ...children: readonly Html[]): Html {
  const text = Object.entries(attributes)
    .filter(([, value]) => value !== undefined)
    .map(([key, value]) => ` ${key}="${escapeMarkup(value ?? '')}"`)
    .join('');
  return `<${name}${text}>${children.join('')}</${name}>`;
}

/** Text of the input or of ours, made safe for markup. */
export function words(content: string): Html {
  return escapeMarkup(content);
}

/** A table of texts; the first row names the columns. */
export function textTable(
  headings: readonly string[],
  rows: readonly (readonly string[])[],
  kind: string,
): Html {
  return tag(
    'table',
    { class: kind },
    tag('thead', {}, tag('tr', {}, ...headings.map((text) => tag('th', {}, words(text))))),
    tag(
      'tbody',
      {},
      ...rows.map((row) => tag('tr', {}, ...row.map((text) => tag('td', {}, words(text))))),
    ),
  );
}

/**
 * A whole document that needs nothing from anywhere: its policy forbids scripts and requests, so
 * that text of an input could do nothing even where it were not escaped.
 */
export function htmlDocument(title: string, style: string, body: readonly Html[]): string {
  return [
    '<!doctype html>',
    '<html lang="en"><head><meta charset="utf-8">',
    '<meta http-equiv="Content-Security-Policy" content="default-src \'none\'; style-src \'unsafe-inline\'">',
    '<meta name="viewport" content="width=device-width">',
    tag('title', {}, words(title)),
    `<style>${style}</style></head><body>`,
    ...body,
    '</body></html>',
    '',
  ].join('\n');
}
