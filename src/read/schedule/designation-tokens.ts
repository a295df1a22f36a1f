/** What a number in a designation counts or measures. */
export type Mark =
  | 'times'
  | 'cores'
  | 'cores with earth'
  | 'pairs'
  | 'triples'
  | 'quads'
  | 'fibres'
  | 'mm2'
  | 'mm'
  | 'awg'
  | 'aught'
  | 'kcmil';

export type DesignationToken = { readonly start: number; readonly end: number } & (
  | { readonly type: 'number'; readonly value: number }
  | { readonly type: 'mark'; readonly mark: Mark }
  | { readonly type: 'sign'; readonly sign: 'x' | '+' | '/' | '(' | ')' | '-' }
  | { readonly type: 'word' }
);

/** Words that say what the number before them is, in the languages schedules are kept in. */
const MARK_WORDS: Readonly<Record<string, Mark>> = Object.fromEntries(
  Object.entries({
    times: 'no nos nr off st stk',
    cores:
      'c co core cores cored cond conds conductor conductors ader adern aderig adrig aders ' +
      'conducteur conducteurs ame ames conductor conductores hilo hilos polo polos poli polig ' +
      'ledare led leder ledere conduttori conduttore kabelader',
    'cores with earth': 'g',
    pairs: 'p pr prs tsp pair pairs paar paare paarig paire paires par pares coppia coppie pari da',
    triples: 't tr tst triple triples triad triads tp',
    quads: 'quad quads quarte quartes vierer',
    fibres:
      'f fo fibre fibres fiber fibers fibras fibra fasern faser fib fibr vezels vezel fibrer lwl',
    mm2: 'mm2 sqmm sq mmq qmm',
    mm: 'mm',
    awg: 'awg ga gauge',
    kcmil: 'kcmil mcm kcm',
  }).flatMap(([mark, words]) => words.split(' ').map((word) => [word, mark as Mark])),
);

/** Letters straight after a number that are words of construction, not part of a code. */
const ARMOUR_WORDS = new Set(['swa', 'awa', 'sta', 'ata', 'dsta', 'swb', 'xlpe', 'pvc', 'lsf']);

const NUMBER = /\d+(?:[.,]\d+)?/y;
const LETTERS = /\p{L}+/uy;
const CODE = /\p{L}[\p{L}\d]*(?:[-.][\p{L}\d]+|\([\p{L}\d]+\)[\p{L}\d]*)*/uy;

/**
 * A designation cut into numbers, marks (what a number counts), signs and words. Works along the
 * text once; every pattern is anchored and without nested repeats that could run away.
 */
export function designationTokens(text: string): DesignationToken[] {
  const tokens: DesignationToken[] = [];
  let at = 0;
  while (at < text.length) {
    const before = tokens[tokens.length - 1];
    const isGlued = before?.end === at;
    const next = tokenAt(text, at, before, isGlued);
    if (next === null) at += 1;
    else {
      if (next.type === 'word' && next.start < at) tokens.pop();
      tokens.push(next);
      at = next.end;
    }
  }
  return tokens;
}

function tokenAt(
  text: string,
  at: number,
  before: DesignationToken | undefined,
  isGlued: boolean,
): DesignationToken | null {
  const character = text.charAt(at);
  if (text.startsWith('//', at)) return { type: 'mark', mark: 'times', start: at, end: at + 2 };
  if ('+/()-'.includes(character)) {
    return { type: 'sign', sign: character as '+', start: at, end: at + 1 };
  }
  const number = matchAt(NUMBER, text, at);
  if (number !== null) {
    const value = Number(number.replace(',', '.'));
    return { type: 'number', value, start: at, end: at + number.length };
  }
  if (before?.type === 'number') {
    const marked = afterNumber(text, at, before, isGlued);
    if (marked !== null) return marked;
  }
  const letters = matchAt(LETTERS, text, at);
  if (letters === null) return null;
  if (/^x$/i.test(letters) && before !== undefined && before.type !== 'word') {
    return { type: 'sign', sign: 'x', start: at, end: at + 1 };
  }
  // "4-core", "3/C".
  if (before?.type === 'sign' && (before.sign === '-' || before.sign === '/') && isGlued) {
    const word = letters.toLowerCase();
    const mark = Object.hasOwn(MARK_WORDS, word) ? MARK_WORDS[word] : undefined;
    if (mark !== undefined) return { type: 'mark', mark, start: at, end: at + letters.length };
  }
  const code = matchAt(CODE, text, at) ?? letters;
  return { type: 'word', start: at, end: at + code.length };
}

/** What may follow a number: `x`, a mark, `cx`, or the rest of a code that begins with a digit. */
function afterNumber(
  text: string,
  at: number,
  number: DesignationToken,
  isGlued: boolean,
): DesignationToken | null {
  const letters = (matchAt(LETTERS, text, at) ?? '').toLowerCase();
  if (letters === '') return null;
  // "2XSL…", "6491X": codes that begin with digits.
  const isKnown = Object.hasOwn(MARK_WORDS, letters.replace(/x$/u, '')) || letters === 'x';
  const isCode = number.end - number.start >= 4 || (letters.length >= 3 && !isKnown);
  if (isGlued && isCode && !ARMOUR_WORDS.has(letters) && startsText(text, number)) {
    const code = matchAt(CODE, text, at) ?? letters;
    return { type: 'word', start: number.start, end: at + code.length };
  }
  if (letters === 'mm' && text.charAt(at + 2) === '2') {
    return { type: 'mark', mark: 'mm2', start: at, end: at + 3 };
  }
  if (letters === 'x') return { type: 'sign', sign: 'x', start: at, end: at + 1 };
  // "4cx16", "4x"…: the x belongs to what follows.
  const word = letters.length > 1 && letters.endsWith('x') ? letters.slice(0, -1) : letters;
  const mark = Object.hasOwn(MARK_WORDS, word) ? MARK_WORDS[word] : undefined;
  if (mark !== undefined && (isGlued || word.length > 1 || 'cgpf'.includes(word))) {
    const follows = text.charAt(at + word.length);
    // "F/UTP" after a number is a screen, not a fibre.
    if (!(word === 'f' && follows === '/')) {
      return { type: 'mark', mark, start: at, end: at + word.length };
    }
  }
  return null;
}

/** A number that opens the text or follows a space may be the first sign of a code: 2XSL… */
function startsText(text: string, number: DesignationToken): boolean {
  return number.start === 0 || text.charAt(number.start - 1) === ' ';
}

function matchAt(pattern: RegExp, text: string, at: number): string | null {
  pattern.lastIndex = at;
  return pattern.exec(text)?.[0] ?? null;
}
