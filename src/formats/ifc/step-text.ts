/**
 * Strings of ISO 10303-21 files: written in printable ASCII with control directives, read with all
 * of them.
 *
 * @source ISO 10303-21:2016, clause 6.4.3.
 */

/**
 * A text as a quoted STEP string: quotes and backslashes doubled, what is outside printable ASCII
 * as `\X2\…\X0\` (16 bit) or `\X4\…\X0\` (beyond), control characters too.
 */
export function stepString(text: string): string {
  let out = '';
  let run = '';
  let runKind: 'X2' | 'X4' | null = null;
  const closeRun = () => {
    if (runKind !== null) out += `\\${runKind}\\${run}\\X0\\`;
    run = '';
    runKind = null;
  };
  for (const character of text) {
    const read = character.codePointAt(0) ?? 0;
    // Half a surrogate pair is no character and can't be written.
    const code = read >= 0xd800 && read <= 0xdfff ? 0xfffd : read;
    if (code >= 32 && code < 127) {
      closeRun();
      out += character === "'" ? "''" : character === '\\' ? '\\\\' : character;
      continue;
    }
    const kind = code > 0xffff ? 'X4' : 'X2';
    if (runKind !== kind) closeRun();
    runKind = kind;
    run += code
      .toString(16)
      .toUpperCase()
      .padStart(kind === 'X2' ? 4 : 8, '0');
  }
  closeRun();
  return `'${out}'`;
}

/**
 * The text of a STEP string, given what stands between its quotes. Bytes beyond ASCII, which the
 * standard does not allow but programs write, are read as UTF-8 by the caller. A broken directive
 * stays as it is.
 */
export function stepText(raw: string): string {
  if (!raw.includes('\\') && !raw.includes("''")) return raw;
  const wide = (digits: string, size: number) => {
    let text = '';
    for (let i = 0; i + size <= digits.length; i += size) {
      const code = Number.parseInt(digits.slice(i, i + size), 16);
      text += code <= 0x10ffff ? String.fromCodePoint(code) : '\ufffd';
    }
    return text;
  };
  let page = 1;
  return raw.replace(DIRECTIVE, (match, x2, x4, x1, s, p) => {
    if (match === "''") return "'";
    if (match === '\\\\') return '\\';
    if (x2 !== undefined) return wide(x2, 4);
    if (x4 !== undefined) return wide(x4, 8);
    if (x1 !== undefined) return String.fromCharCode(Number.parseInt(x1, 16));
    if (p !== undefined) {
      page = p.charCodeAt(0) - 64;
      return '';
    }
    return pageCharacter(page, s);
  });
}

const DIRECTIVE =
  /''|\\\\|\\X2\\((?:[0-9A-Fa-f]{4})*)\\X0\\|\\X4\\((?:[0-9A-Fa-f]{8})*)\\X0\\|\\X\\([0-9A-Fa-f]{2})|\\S\\([\s\S])|\\P([A-I])\\/g;

/** A character of the upper half of an ISO 8859 part. */
function pageCharacter(page: number, character: string): string {
  const byte = (character.charCodeAt(0) & 0x7f) + 0x80;
  if (page === 1) return String.fromCharCode(byte);
  return new TextDecoder(`iso-8859-${page}`).decode(Uint8Array.of(byte));
}
