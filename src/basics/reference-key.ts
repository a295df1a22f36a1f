/**
 * Tokens of a reference: runs of letters and runs of digits, without case and leading zeros, so
 * that `R1`, `r-01` and `R 01` are the same and `1-11` and `11-1` are not.
 */
export function referenceTokens(text: string): string[] {
  const plain = text.normalize('NFKC').toLowerCase();
  const tokens = plain.match(/\p{L}+|\d+/gu) ?? [];
  return tokens.map((token) => (/^\d/u.test(token) ? token.replace(/^0+(?=\d)/u, '') : token));
}

/** One text a reference is compared by; empty where the text holds no letter or digit. */
export function referenceKey(text: string): string {
  return referenceTokens(text).join(' ');
}

/** The reference as written, but for case and the width of gaps. */
export function writtenForm(text: string): string {
  return text.normalize('NFKC').trim().replace(/\s+/gu, ' ').toUpperCase();
}

/**
 * A key in which the characters people mistake for each other are one: O and 0; I, l and 1. Used
 * for suggestions and to notice two references that differ in nothing else; never to match.
 */
export function lookAlikeKey(text: string): string {
  const plain = text.normalize('NFKC').toUpperCase().replace(/O/gu, '0').replace(/[IL]/gu, '1');
  return referenceKey(plain);
}

/** How a text names something: as a whole, as an entry of a list, or as words within it. */
export type MentionKind = 'whole' | 'entry' | 'words';

export interface Mention {
  readonly written: string;
  readonly key: string;
  readonly kind: MentionKind;
}

const LONGEST_TEXT = 400;
const MOST_WORDS = 40;
const LONGEST_WINDOW = 3;

/**
 * Everything in a text that may be a reference. Words within a sentence count only when they hold
 * letters and digits and what stands beside them can't belong to the reference: in `P-101 A` there
 * is no `P-101`, in `cable P-101 spare` there is.
 */
export function mentionsIn(text: string): readonly Mention[] {
  const whole = text.slice(0, LONGEST_TEXT).trim();
  const found = new Map<string, Mention>();
  const add = (written: string, kind: MentionKind) => {
    const key = referenceKey(written);
    if (key !== '' && !found.has(key)) found.set(key, { written: written.trim(), key, kind });
  };
  add(whole, 'whole');
  const entries = whole.split(/[,;|\n\r:]|\s[&+]\s|\sand\s|\sund\s|\set\s|\sy\s/iu);
  for (const entry of entries) {
    if (entries.length > 1) add(entry, 'entry');
    for (const part of strokeParts(entry)) add(part, 'entry');
    // What stands in brackets is said beside the reference, not part of it: "tray R-01 (2)".
    for (const chunk of entry.split(/[()[\]{}"“”„]+/u)) {
      for (const window of wordWindows(chunk)) add(window, 'words');
    }
  }
  return [...found.values()];
}

/** `P-101/P-102` names two; `P/101` and `P-101/2` name one. */
function strokeParts(entry: string): readonly string[] {
  const parts = entry.split('/').map((part) => part.trim());
  return parts.length > 1 && parts.every(isMixedWord) ? parts : [];
}

function isMixedWord(word: string): boolean {
  return !/\s/u.test(word) && /\p{L}/u.test(word) && /\d/u.test(word);
}

function wordWindows(entry: string): string[] {
  const words = entry.trim().split(/\s+/u).slice(0, MOST_WORDS);
  const windows: string[] = [];
  for (let start = 0; start < words.length; start++) {
    for (let size = 1; size <= LONGEST_WINDOW && start + size <= words.length; size++) {
      const window = words.slice(start, start + size).join(' ');
      if (!/\p{L}/u.test(window) || !/\d/u.test(window)) continue;
      if (standsAlone(words[start - 1]) && standsAlone(words[start + size])) windows.push(window);
    }
  }
  return windows;
}

/** A neighbour that can't be part of the reference: none, a plain word, or a reference itself. */
function standsAlone(neighbour: string | undefined): boolean {
  if (neighbour === undefined) return true;
  return (
    /^\p{L}{3,}[.,]?$/u.test(neighbour) || isMixedWord(neighbour) || /^[-–—=]+$/u.test(neighbour)
  );
}
