/**
 * Text codes of drawings turned into plain text. Single-line text knows `%%` codes and `\U+XXXX`;
 * multi-line text has braces, stacked fractions and formatting codes as well.
 * Each function walks its text once, so that no text can make it slow.
 */

const PERCENT_SIGNS: Readonly<Record<string, string>> = { d: '°', p: '±', c: 'Ø', '%': '%' };

/** Plain text of a single-line TEXT, ATTRIB or ATTDEF value. */
export function plainText(raw: string): string {
  let out = '';
  let i = 0;
  while (i < raw.length) {
    const char = raw.charAt(i);
    if (char === '%' && raw.charAt(i + 1) === '%') {
      const [text, length] = percentCode(raw, i);
      out += text;
      i += length;
    } else if (char === '\\' && isUnicodeCode(raw, i)) {
      out += String.fromCharCode(Number.parseInt(raw.slice(i + 3, i + 7), 16));
      i += 7;
    } else if (char === '^' && i + 1 < raw.length) {
      out += caretChar(raw.charAt(i + 1));
      i += 2;
    } else {
      out += char;
      i += 1;
    }
  }
  return out;
}

/** Plain text of an MTEXT value; paragraphs become lines. */
export function plainMtext(raw: string): string {
  let out = '';
  let i = 0;
  while (i < raw.length) {
    const char = raw.charAt(i);
    if (char === '{' || char === '}') i += 1;
    else if (char === '\\') {
      const [text, length] = backslashCode(raw, i);
      out += text;
      i += length;
    } else if (char === '%' && raw.charAt(i + 1) === '%') {
      const [text, length] = percentCode(raw, i);
      out += text;
      i += length;
    } else if (char === '^' && i + 1 < raw.length) {
      out += caretChar(raw.charAt(i + 1));
      i += 2;
    } else {
      out += char;
      i += 1;
    }
  }
  return out;
}

function percentCode(raw: string, at: number): readonly [string, number] {
  const code = raw.charAt(at + 2).toLowerCase();
  const sign = Object.hasOwn(PERCENT_SIGNS, code) ? PERCENT_SIGNS[code] : undefined;
  if (sign !== undefined) return [sign, 3];
  // %%u, %%o and %%k turn underline, overline and strike-through on and off.
  if (code === 'u' || code === 'o' || code === 'k') return ['', 3];
  const digits = raw.slice(at + 2, at + 5);
  if (/^\d{3}$/.test(digits)) return [String.fromCharCode(Number(digits)), 5];
  return ['%%', 2];
}

function isUnicodeCode(raw: string, at: number): boolean {
  return /^\\U\+[0-9A-Fa-f]{4}$/.test(raw.slice(at, at + 7));
}

/** `^I` is a tab, `^J` and `^M` line ends, `^ ` a caret; the rest are control characters. */
function caretChar(next: string): string {
  if (next === 'J' || next === 'M') return '\n';
  if (next === 'I') return ' ';
  return next === ' ' ? '^' : '';
}

function backslashCode(raw: string, at: number): readonly [string, number] {
  const code = raw.charAt(at + 1);
  switch (code) {
    case 'P':
    case 'X':
    case 'N':
      return ['\n', 2];
    case '~':
      return [' ', 2];
    case '\\':
    case '{':
    case '}':
      return [code, 2];
    case 'L':
    case 'l':
    case 'O':
    case 'o':
    case 'K':
    case 'k':
      return ['', 2];
    case 'U':
      if (isUnicodeCode(raw, at)) {
        return [String.fromCharCode(Number.parseInt(raw.slice(at + 3, at + 7), 16)), 7];
      }
      return ['', 2];
    case 'M':
      // \M+nXXXX: a character of another code page, which has no place in the plain text.
      return /^\\M\+\d[0-9A-Fa-f]{4}$/.test(raw.slice(at, at + 8)) ? ['\uFFFD', 8] : ['', 2];
    case 'S':
      return stackedFraction(raw, at);
    case 'A':
    case 'C':
    case 'c':
    case 'F':
    case 'f':
    case 'H':
    case 'Q':
    case 'T':
    case 'W':
    case 'p': {
      const end = raw.indexOf(';', at);
      // A code without its semicolon runs on for ever; then only the code itself is dropped.
      return end === -1 ? ['', 2] : ['', end - at + 1];
    }
    default:
      return [code, code === '' ? 1 : 2];
  }
}

/** `\S1/2;`, `\S1#2;` and `\S+0.1^-0.1;`: as "1/2". */
function stackedFraction(raw: string, at: number): readonly [string, number] {
  const end = raw.indexOf(';', at);
  if (end === -1) return ['', 2];
  const inside = raw.slice(at + 2, end);
  return [inside.replace(/[#^]\s?/, '/'), end - at + 1];
}
