/**
 * Regular expressions of XML Schema, matched against the whole value. They come from files of
 * unknown origin, so they run as a non-deterministic automaton: time grows with pattern × text, and
 * no pattern can make it explode.
 *
 * @source XML Schema Part 2 (Second Edition), Appendix F.
 */

export type XsdPattern = (text: string) => boolean;

type Test = (character: string) => boolean;

/** A state either tests a character and goes on, or branches without one. */
type State =
  | { readonly kind: 'test'; readonly test: Test; next: number }
  | { readonly kind: 'split'; readonly next: number[] }
  | { readonly kind: 'end' };

type Node =
  | { readonly kind: 'test'; readonly test: Test }
  | { readonly kind: 'sequence'; readonly parts: readonly Node[] }
  | { readonly kind: 'choice'; readonly options: readonly Node[] }
  | { readonly kind: 'repeat'; readonly part: Node; readonly least: number; readonly most: number };

const STATE_LIMIT = 20_000;
const DEPTH_LIMIT = 100;
const NAME_START = /^[\p{L}:_]$/u;
const NAME = /^[\p{L}\p{N}\p{M}.\-:_\u00b7]$/u;
const DIGIT = /^\p{Nd}$/u;
const NOT_WORD = /^[\p{P}\p{Z}\p{C}]$/u;

/** A matcher, or null where the pattern is not one of XML Schema or too large to run. */
export function xsdPattern(pattern: string): XsdPattern | null {
  const parser = new PatternParser(pattern);
  const node = parser.parse();
  if (node === null) return null;
  const states: State[] = [{ kind: 'end' }];
  const start = build(node, 0, states);
  if (start === null) return null;
  return (text) => run(states, start, text);
}

function run(states: readonly State[], start: number, text: string): boolean {
  let current = reach(states, [start]);
  for (const character of text) {
    const next: number[] = [];
    for (const index of current) {
      const state = states[index];
      if (state?.kind === 'test' && state.test(character)) next.push(state.next);
    }
    if (next.length === 0) return false;
    current = reach(states, next);
  }
  return current.has(0);
}

/** States reached without a character. */
function reach(states: readonly State[], from: readonly number[]): Set<number> {
  const reached = new Set<number>();
  const open = [...from];
  for (let index = open.pop(); index !== undefined; index = open.pop()) {
    if (reached.has(index)) continue;
    reached.add(index);
    const state = states[index];
    if (state?.kind === 'split') open.push(...state.next);
  }
  return reached;
}

/** Adds the states of a node that goes on to `next`; gives its first state. */
function build(node: Node, next: number, states: State[]): number | null {
  if (states.length > STATE_LIMIT) return null;
  switch (node.kind) {
    case 'test':
      return states.push({ kind: 'test', test: node.test, next }) - 1;
    case 'sequence': {
      let first: number | null = next;
      for (const part of [...node.parts].reverse()) {
        if (first === null) return null;
        first = build(part, first, states);
      }
      return first;
    }
    case 'choice': {
      const starts: number[] = [];
      for (const option of node.options) {
        const start = build(option, next, states);
        if (start === null) return null;
        starts.push(start);
      }
      return states.push({ kind: 'split', next: starts }) - 1;
    }
    case 'repeat':
      return buildRepeat(node, next, states);
  }
}

function buildRepeat(
  { part, least, most }: { part: Node; least: number; most: number },
  next: number,
  states: State[],
): number | null {
  let first: number | null = next;
  if (most === Number.POSITIVE_INFINITY) {
    const loop: State = { kind: 'split', next: [next] };
    const loopIndex = states.push(loop) - 1;
    const body = build(part, loopIndex, states);
    if (body === null) return null;
    loop.next.push(body);
    first = loopIndex;
  } else {
    for (let count = least; count < most && first !== null; count++) {
      const body: number | null = build(part, first, states);
      first = body === null ? null : states.push({ kind: 'split', next: [body, next] }) - 1;
    }
  }
  for (let count = 0; count < least && first !== null; count++) first = build(part, first, states);
  return first;
}

class PatternParser {
  readonly #characters: readonly string[];
  #at = 0;
  #failed = false;

  constructor(pattern: string) {
    this.#characters = [...pattern];
  }

  parse(): Node | null {
    const node = this.#choice(0);
    return this.#failed || this.#at < this.#characters.length ? null : node;
  }

  #choice(depth: number): Node {
    const options = [this.#sequence(depth)];
    while (this.#take('|')) options.push(this.#sequence(depth));
    const [only] = options;
    return options.length === 1 && only !== undefined ? only : { kind: 'choice', options };
  }

  #sequence(depth: number): Node {
    const parts: Node[] = [];
    for (;;) {
      const next = this.#peek();
      if (next === undefined || next === '|' || next === ')' || this.#failed) {
        return { kind: 'sequence', parts };
      }
      parts.push(this.#quantified(this.#atom(depth)));
    }
  }

  #atom(depth: number): Node {
    const character = this.#next();
    if (character === '(') {
      if (depth >= DEPTH_LIMIT) return this.#fail();
      const inside = this.#choice(depth + 1);
      return this.#take(')') ? inside : this.#fail();
    }
    if (character === '[') return { kind: 'test', test: this.#charClass(depth) };
    if (character === '.') return { kind: 'test', test: (each) => each !== '\n' && each !== '\r' };
    if (character === '\\') return { kind: 'test', test: this.#escape() };
    if (character === undefined || '?*+{}]'.includes(character)) return this.#fail();
    return { kind: 'test', test: (each) => each === character };
  }

  #quantified(part: Node): Node {
    if (this.#take('?')) return { kind: 'repeat', part, least: 0, most: 1 };
    if (this.#take('*')) return { kind: 'repeat', part, least: 0, most: Number.POSITIVE_INFINITY };
    if (this.#take('+')) return { kind: 'repeat', part, least: 1, most: Number.POSITIVE_INFINITY };
    if (!this.#take('{')) return part;
    const least = this.#count();
    let most = least;
    if (this.#take(',')) most = this.#peek() === '}' ? Number.POSITIVE_INFINITY : this.#count();
    return this.#take('}') && least <= most ? { kind: 'repeat', part, least, most } : this.#fail();
  }

  #count(): number {
    let digits = '';
    for (let next = this.#peek(); next !== undefined && /[0-9]/.test(next); next = this.#peek()) {
      digits += next;
      this.#at += 1;
    }
    const count = Number(digits);
    if (digits === '' || count > STATE_LIMIT) this.#failed = true;
    return count;
  }

  #charClass(depth: number): Test {
    const isNegative = this.#take('^');
    const tests: Test[] = [];
    let except: Test | null = null;
    while (!this.#failed) {
      const next = this.#next();
      if (next === ']' && tests.length > 0) break;
      if (next === undefined) {
        this.#failed = true;
      } else if (next === '-' && this.#peek() === '[' && tests.length > 0) {
        this.#at += 1;
        if (depth >= DEPTH_LIMIT) this.#failed = true;
        else except = this.#charClass(depth + 1);
        if (!this.#take(']')) this.#failed = true;
        break;
      } else tests.push(this.#classMember(next));
    }
    return (each) =>
      tests.some((test) => test(each)) !== isNegative && (except === null || !except(each));
  }

  /** A single character, a range or an escape inside square brackets. */
  #classMember(first: string): Test {
    let low = first;
    if (first === '\\') {
      const single = this.#singleEscape();
      if (single === null) return this.#escape();
      low = single;
    }
    const isRange =
      this.#peek() === '-' && !['[', ']', undefined].includes(this.#characters[this.#at + 1]);
    if (!isRange) return (each) => each === low;
    this.#at += 1;
    let high = this.#next() ?? '';
    if (high === '\\') high = this.#singleEscape() ?? '';
    const from = low.codePointAt(0) ?? 0;
    const to = high.codePointAt(0) ?? -1;
    if (to < from) this.#failed = true;
    return (each) => {
      const code = each.codePointAt(0) ?? 0;
      return code >= from && code <= to;
    };
  }

  /** The character an escape stands for, or null (and nothing taken) where it stands for a class. */
  #singleEscape(): string | null {
    const next = this.#peek() ?? '';
    const single =
      { n: '\n', r: '\r', t: '\t' }[next] ?? ('\\|.?*+(){}-[]^$'.includes(next) ? next : null);
    if (single !== null && next !== '') this.#at += 1;
    return next === '' ? null : single;
  }

  #escape(): Test {
    const single = this.#singleEscape();
    if (single !== null) return (each) => each === single;
    const letter = this.#next() ?? '';
    const classes: Record<string, Test> = {
      s: (each) => ' \t\n\r'.includes(each),
      i: (each) => NAME_START.test(each),
      c: (each) => NAME.test(each),
      d: (each) => DIGIT.test(each),
      w: (each) => !NOT_WORD.test(each),
    };
    const test = Object.hasOwn(classes, letter.toLowerCase())
      ? classes[letter.toLowerCase()]
      : undefined;
    if (test !== undefined) return letter === letter.toLowerCase() ? test : (each) => !test(each);
    if (letter === 'p' || letter === 'P') return this.#category(letter === 'P');
    this.#failed = true;
    return () => false;
  }

  /** `\p{Lu}` and the like; blocks (`\p{IsGreek}`) are not known. */
  #category(isNegative: boolean): Test {
    let name = '';
    if (this.#take('{')) {
      for (let next = this.#next(); next !== '}'; next = this.#next()) {
        if (next === undefined || name.length > 40) break;
        name += next;
      }
    }
    if (!/^(L[ultmo]?|M[nce]?|N[dlo]?|P[cdseifo]?|Z[slp]?|S[mcko]?|C[cfon]?)$/.test(name)) {
      this.#failed = true;
      return () => false;
    }
    const category = new RegExp(`^\\p{${name}}$`, 'u');
    return (each) => category.test(each) !== isNegative;
  }

  #fail(): Node {
    this.#failed = true;
    return { kind: 'sequence', parts: [] };
  }

  #peek(): string | undefined {
    return this.#characters[this.#at];
  }

  #next(): string | undefined {
    const character = this.#characters[this.#at];
    this.#at += 1;
    return character;
  }

  #take(character: string): boolean {
    if (this.#peek() !== character) return false;
    this.#at += 1;
    return true;
  }
}
