import { awgAreaMm2, KCMIL_MM2 } from './conductor-size.ts';
import { type DesignationToken, designationTokens, type Mark } from './designation-tokens.ts';
import { HALF_CORE, tidyDesignation } from './tidy-designation.ts';

/** What a cable designation says, as far as it is understood. */
export interface Designation {
  /** Conductors of one cable; fibres of an optical cable. */
  readonly cores: number | null;
  readonly sizeMm2: number | null;
  /** Separate round cables laid. */
  readonly bodies: number;
  readonly bundle: 'trefoil' | 'flat' | null;
  /** What is left once numbers are taken out: construction words and codes. */
  readonly construction: string | null;
  readonly standard: string | null;
  readonly voltage: string | null;
  readonly isFibre: boolean;
  /** A conductor of another size inside the same cable, as written: `+ 35`, `/16`. */
  readonly otherConductor: string | null;
  /** A separate conductor laid along with it, as written: `+ E`, `+ 1x70`. */
  readonly alongside: string | null;
  /** Sentences on what could be read in more than one way. */
  readonly doubts: readonly string[];
}

const VOLTAGE =
  /(?<![\w.,/])\d{1,4}(?:[.,]\d{1,2})?(?: ?\/ ?\d{1,4}(?:[.,]\d{1,2})?)?(?: ?\(\d{1,4}(?:[.,]\d{1,2})?\))? ?k?V(?![\p{L}\d])/iu;
const STANDARD =
  /(?<![\p{L}\d])(?:BS|IEC|EN|DIN|VDE|NF|UNE|HD|ISO|SS|NEN|CEI|UL)(?:[ -](?:EN|IEC|VDE|C|HD)){0,2}[ -]?\d{2,6}(?:[-.:]\d{1,4}){0,4}(?![\p{L}\d])/iu;
const FIBRE_WORDS =
  /(?<![\p{L}\d])(?:fib(?:re|er)s?|optical|optic|lwl|sm|mm|os[12]|om[1-5]|g\.?65[0-9][a-d]?\d?)(?![\p{L}\d])|(?:9|50|62[.,]5)\/125/iu;
const CORE_CLADDING = /(?<![\d.,])(?:9|50|62[.,]5)\/125(?: ?[µu]m)?/iu;
const TELEPHONE = /(?<![\p{L}\d])(?:J|JE|A|S|G)-[\p{L}\d]/iu;
const EARTH_WORD = /^(?:e|pe|n|pen|ecc|cpc|earth|ground|gnd|terre|erde)$/iu;
const MOST_CORES = 1_000;
/** Pairs and triples are made up to this size; larger ones are separate cables. */
const LARGEST_TWISTED_MM2 = 1.5;

/**
 * Reads a designation such as `4c x 16 SWA`, `3x1x240 RM/35`, `2//(4c 240)` or `H07RN-F 3G1.5`.
 * Never throws; what it can't tell is null or a doubt.
 */
export function readDesignation(written: string): Designation {
  const text = tidyDesignation(written);
  const standard = STANDARD.exec(text)?.[0] ?? null;
  const voltage = VOLTAGE.exec(text.replace(STANDARD, blank))?.[0] ?? null;
  const bare = [STANDARD, VOLTAGE, CORE_CLADDING].reduce(
    (rest, pattern) => rest.replace(pattern, blank),
    text,
  );
  const tokens = designationTokens(bare);
  const parts = splitParts(bare, tokens);
  const isTelephone = TELEPHONE.test(bare);
  const isFibre = parts.main.some(({ mark }) => mark === 'fibres') || isFibreText(text, parts);
  const core = readCore(parts, isTelephone, isFibre);
  const size = core.size === null ? null : sizeOf(core.size, isTelephone);
  const along = readTail(bare, parts, core.cores);
  return {
    cores: core.cores,
    sizeMm2: isFibre ? null : size,
    bodies: core.bodies,
    bundle: bundleOf(text, core.bodies, core.cores),
    construction: constructionOf(bare, parts.used),
    standard,
    voltage,
    isFibre,
    otherConductor: along.inside ?? parts.screen ?? (HALF_CORE.test(written) ? '½ core' : null),
    alongside: along.outside,
    doubts: [...core.doubts, ...along.doubts],
  };
}

const blank = (found: string) => ' '.repeat(found.length);

interface Factor {
  readonly value: number;
  readonly mark: Mark | null;
  /** An x, a bracket or a mark follows, so that it can multiply what comes next. */
  readonly isJoined: boolean;
}

interface Parts {
  readonly main: readonly Factor[];
  /** Tokens after a plus. */
  readonly tail: readonly DesignationToken[];
  readonly screen: string | null;
  /** Tokens that were read as numbers, not as construction. */
  readonly used: readonly DesignationToken[];
}

/** Numbers with their marks in order; what stands after a plus is kept apart. */
function splitParts(text: string, tokens: readonly DesignationToken[]): Parts {
  const main: { value: number; mark: Mark | null; isJoined: boolean }[] = [];
  const tail: DesignationToken[] = [];
  const used: DesignationToken[] = [];
  let screen: string | null = null;
  tokens.forEach((token, index) => {
    const before = tokens[index - 1];
    const last = main[main.length - 1];
    const isTail = tail.length > 0 && tail[tail.length - 1] === before;
    if (isTail && (token.type !== 'word' || EARTH_WORD.test(text.slice(token.start, token.end)))) {
      tail.push(token);
      used.push(token);
    } else if (token.type === 'number') {
      if (before?.type === 'sign' && before.sign === '/' && last !== undefined) {
        if (token.value === 0 && last.mark === null) last.mark = 'aught';
        else screen = String(token.value);
      } else {
        const after = tokens[index + 1];
        const isJoined = after?.type === 'mark' || (after?.type === 'sign' && after.sign !== '-');
        main.push({ value: token.value, mark: null, isJoined });
      }
      used.push(token);
    } else if (token.type === 'mark') {
      if (last !== undefined) last.mark = joinMarks(last.mark, token.mark);
      used.push(token);
    } else if (token.type === 'sign') {
      const after = tokens[index + 1];
      if (token.sign === '+' && main.length > 0 && tail.length === 0) tail.push(token);
      else if (token.sign === '(' && last !== undefined && after?.type === 'number') {
        if (last.mark === null) last.mark = 'times';
      }
      if (isNumeric(before) || isNumeric(after)) used.push(token);
    }
  });
  return { main, tail, screen, used };
}

/** "12 core fibre" has two marks: the fibre says what the cores are. "4/0 AWG" stays aught. */
function joinMarks(first: Mark | null, second: Mark): Mark {
  if (first === null || second === 'fibres') return second;
  return first;
}

const isNumeric = (token: DesignationToken | undefined) =>
  token?.type === 'number' || token?.type === 'mark';

interface Core {
  readonly cores: number | null;
  readonly bodies: number;
  readonly size: Factor | null;
  readonly doubts: readonly string[];
}

const CORES_PER: Readonly<Partial<Record<Mark, number>>> = {
  cores: 1,
  'cores with earth': 1,
  fibres: 1,
  pairs: 2,
  triples: 3,
  quads: 4,
};
const SIZE_MARKS: ReadonlySet<Mark | null> = new Set<Mark | null>([
  'mm2',
  'mm',
  'awg',
  'aught',
  'kcmil',
]);

function readCore(parts: Parts, isTelephone: boolean, isFibre: boolean): Core {
  const factors = parts.main.filter(({ value }) => value > 0);
  const at = factors.findIndex(({ mark }) => mark !== null && CORES_PER[mark] !== undefined);
  const counted = factors[at];
  if (counted !== undefined && counted.mark !== null) {
    // "16 mm² 4 core", "18 AWG 2/C": the size may stand first.
    const isSize = ({ mark }: Factor) => mark !== null && SIZE_MARKS.has(mark);
    const before = factors.slice(0, at).filter((factor) => !isSize(factor));
    const bodies = product(before.filter(({ isJoined }) => isJoined));
    const rest = factors.slice(at + 1);
    const size = rest.find(isSize) ?? factors.slice(0, at).find(isSize) ?? rest[0] ?? null;
    const per = CORES_PER[counted.mark] ?? 1;
    const doubts = before
      .filter(({ isJoined }) => !isJoined)
      .map(({ value }) => `What the ${value} counts is not clear.`);
    return checked({ cores: counted.value * per, bodies, size, doubts });
  }
  const times = factors.filter(({ mark }) => mark === 'times');
  const plain = factors.filter(({ mark }) => mark !== 'times');
  const unmarked = readUnmarked(plain, isTelephone, isFibre);
  return checked({ ...unmarked, bodies: unmarked.bodies * product(times) });
}

/** `a x b`, `a x b x c`, `a x b x 1 x d`: what each number counts follows from how many there are. */
function readUnmarked(factors: readonly Factor[], isTelephone: boolean, isFibre: boolean): Core {
  const [a, b, c, d] = factors;
  if (a === undefined) return { cores: null, bodies: 1, size: null, doubts: [] };
  if (b === undefined) {
    if (isFibre) return { cores: a.value, bodies: 1, size: null, doubts: [] };
    return { cores: null, bodies: 1, size: SIZE_MARKS.has(a.mark) ? a : null, doubts: [] };
  }
  if (c === undefined) return { cores: a.value, bodies: 1, size: b, doubts: [] };
  if (d === undefined) return readThree(a, b, c, isTelephone);
  if (c.value === 1) return { cores: 1, bodies: a.value * b.value, size: d, doubts: [] };
  return {
    cores: null,
    bodies: 1,
    size: null,
    doubts: ['It has more numbers than a designation has.'],
  };
}

function readThree(a: Factor, b: Factor, size: Factor, isTelephone: boolean): Core {
  if (b.value === 1) return { cores: 1, bodies: a.value, size, doubts: [] };
  const isTwisted =
    b.value <= 4 && (isTelephone || sizeOf(size, isTelephone) <= LARGEST_TWISTED_MM2);
  if (isTwisted) return { cores: a.value * b.value, bodies: 1, size, doubts: [] };
  const doubts =
    size.value < 4 && a.value > 1
      ? [`It may be ${a.value} cables of ${b.value} cores, or one cable of ${a.value} groups.`]
      : [];
  return { cores: b.value, bodies: a.value, size, doubts };
}

function checked(core: Core): Core {
  const isWhole = core.cores === null || (Number.isInteger(core.cores) && core.cores <= MOST_CORES);
  const isFewBodies = Number.isInteger(core.bodies) && core.bodies >= 1 && core.bodies <= 100;
  if (isWhole && isFewBodies) return core;
  return {
    cores: isWhole ? core.cores : null,
    bodies: isFewBodies ? core.bodies : 1,
    size: core.size,
    doubts: [...core.doubts, 'The number of cores or of cables makes no sense.'],
  };
}

function product(factors: readonly Factor[]): number {
  return factors.reduce((total, { value }) => total * value, 1);
}

function sizeOf(size: Factor, isTelephone: boolean): number {
  switch (size.mark) {
    case 'awg':
      return awgAreaMm2(size.value);
    case 'aught':
      return awgAreaMm2(1 - size.value);
    case 'kcmil':
      return size.value * KCMIL_MM2;
    default:
      // Telephone cables state the diameter of the wire.
      return isTelephone && size.value < 1.5 ? (Math.PI * size.value ** 2) / 4 : size.value;
  }
}

interface Tail {
  readonly inside: string | null;
  readonly outside: string | null;
  readonly doubts: readonly string[];
}

/**
 * What stands after a plus. Beside single cores it is a conductor of its own; a size behind a
 * multi-core (`3x70+35`) is a smaller conductor in the same cable; a bare `+ E` is laid alongside.
 */
function readTail(text: string, parts: Parts, cores: number | null): Tail {
  const [first] = parts.tail;
  const last = parts.tail[parts.tail.length - 1];
  if (first === undefined || last === undefined) return { inside: null, outside: null, doubts: [] };
  const written = text.slice(first.start, last.end).trim();
  const hasSize = parts.tail.some((token) => token.type === 'number');
  return hasSize && cores !== null && cores > 1
    ? { inside: written, outside: null, doubts: [] }
    : { inside: null, outside: written, doubts: [] };
}

function bundleOf(text: string, bodies: number, cores: number | null): 'trefoil' | 'flat' | null {
  if (bodies < 2) return null;
  if (/(?<!\p{L})flat(?!\p{L})/iu.test(text)) return 'flat';
  if (/(?<!\p{L})tre-?foil(?!\p{L})/iu.test(text)) return 'trefoil';
  return cores === 1 && bodies % 3 === 0 ? 'trefoil' : null;
}

/** "MM" and "SM" mean fibre only where no size is given; after a number mm is a unit. */
function isFibreText(text: string, parts: Parts): boolean {
  if (parts.main.some(({ mark }) => mark !== null && SIZE_MARKS.has(mark))) return false;
  // A size without its unit: the SM behind 4x240 is a sector-shaped conductor.
  if (
    parts.main.length > 1 &&
    !FIBRE_WORDS.test(text.replace(/(?<!\p{L})[SM]M(?!\p{L})/giu, ' '))
  ) {
    return false;
  }
  return FIBRE_WORDS.test(text);
}

const FILLING_WORDS =
  /(?<![\p{L}\d])(?:cables?|kabel|câbles?|no|of|off|trefoil|flat|each|per|phase)(?![\p{L}\d])/giu;

function constructionOf(text: string, used: readonly DesignationToken[]): string | null {
  const characters = [...text.split('')];
  for (const { start, end } of used) characters.fill(' ', start, end);
  const words = characters
    .join('')
    .replace(FILLING_WORDS, ' ')
    .replace(/\s+/gu, ' ')
    .replace(/^[\s,;:.+/-]+|[\s,;:.+/-]+$/gu, '');
  return /[\p{L}\d]/u.test(words) ? words : null;
}
