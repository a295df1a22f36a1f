/** Longest text a cell holds. @source ECMA-376 leaves it open; 32,767 is what spreadsheet programs take. */
const LONGEST_CELL_TEXT = 32_767;

/**
 * Text as a cell may hold it: characters that XML 1.0 forbids become U+FFFD, so that a reader sees
 * that something stood there; line ends become line feeds; too long a text is cut and says so.
 */
export function cellText(text: string): string {
  const plain = replaceForbidden(text.replaceAll('\r\n', '\n').replaceAll('\r', '\n'));
  if (plain.length <= LONGEST_CELL_TEXT) return plain;
  const note = ' … (cut)';
  return `${plain.slice(0, LONGEST_CELL_TEXT - note.length)}${note}`;
}

/**
 * Cell text inside XML. `_xHHHH_` stands for a character in SpreadsheetML strings, so a text that
 * happens to look like one has its underscore written that way itself.
 * @source ECMA-376 part 1, 22.9.2.19 (ST_Xstring).
 */
export function cellXml(text: string): string {
  return escapeXml(cellText(text).replace(/_(?=x[0-9A-Fa-f]{4}_)/g, '_x005F_'));
}

/** The five characters that XML markup needs escaped. */
export function escapeXml(text: string): string {
  return text
    .replaceAll('&', '&amp;')
    .replaceAll('<', '&lt;')
    .replaceAll('>', '&gt;')
    .replaceAll('"', '&quot;')
    .replaceAll("'", '&apos;');
}

/** Whether a program that reads this text as typed would take it for a formula. */
export function looksLikeFormula(text: string): boolean {
  return /^[=+\-@\t\r\n]/.test(text);
}

/**
 * Header and footer text: `&` begins a code there, so it is doubled. All parts together may have 255
 * characters, so each is cut.
 */
export function headerText(text: string, most: number): string {
  return cellText(text).replaceAll('\n', ' ').slice(0, most).replaceAll('&', '&&');
}

function replaceForbidden(text: string): string {
  // biome-ignore lint/suspicious/noControlCharactersInRegex: they are what is being replaced.
  return text.replace(/[\u0000-\u0008\u000B\u000C\u000E-\u001F\uFFFE\uFFFF]|\p{Surrogate}/gu, '�');
}
