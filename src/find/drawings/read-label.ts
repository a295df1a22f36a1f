import type { Section, ServiceKind, SizeBasis } from '../../model/building.ts';

/** A size that a text gives, millimetres. */
export interface LabelSize {
  readonly section: Section;
  /** `nominal` where the text names a series (DN, NB), `outside` and `bore` where it says so. */
  readonly basis: SizeBasis;
  /** The part of the text that says it. */
  readonly text: string;
}

/** A height that a text gives. */
export interface LabelHeight {
  readonly heightMm: number;
  /** What lies at it. */
  readonly point: 'centre' | 'underside' | 'top' | 'invert';
  readonly text: string;
}

/** What a text beside a service or an opening says of it. */
export interface LabelReading {
  /** How many there are; null where the text gives no number. */
  readonly count: number | null;
  readonly sizes: readonly LabelSize[];
  /** As written; a range such as "D-01 to D-04" is written out. */
  readonly references: readonly string[];
  readonly height: LabelHeight | null;
  /** Thickness of a wall or slab ("200 thk"). */
  readonly thicknessMm: number | null;
  readonly kind: ServiceKind | null;
  /** The text calls it an opening, a hole or a sleeve. */
  readonly isOpening: boolean;
}

const LONGEST_TEXT = 400;

/** Not in the middle of a reference such as LV-1-03. */
const NUMBER = '(?<!(?:[-/.\\d]|(?![xØ])\\p{L}))(\\d{1,5}(?:\\.\\d{1,3})?)';
/** Where a number may begin: not in the middle of a reference. */
const START = '(?<!(?:[-/.\\d]|(?![xØ])\\p{L}))';
const NEXT_NUMBER = '(\\d{1,5}(?:\\.\\d{1,3})?)';
const INCHES = '(\\d{1,3}(?:[ -]\\d{1,2}\\/\\d{1,2})|\\d{1,2}\\/\\d{1,2}|\\d{1,3}(?:\\.\\d{1,3})?)';
const INCH_MARK = `(?:"|''|″|”|\\s?IN(?:CH(?:ES)?)?\\b)`;
const UNIT = '(?:\\s?(MM|CM|M)\\b)?';
const COUNT_WORD =
  '(?:NOS?\\b\\.?|NR\\b\\.?|EA\\b\\.?|OFF\\b|PCS\\b\\.?|STK\\b\\.?|STCK\\b\\.?|PZ\\b\\.?|UDS?\\b\\.?|QTY\\b|ШТ\\b\\.?)';
/** After its number: not the sign of a number that follows. */
const ROUND_WORD =
  '(?:Ø(?!\\s?\\d)|DIAM?(?:ETER)?\\b\\.?(?!\\s?\\d)|ROUND\\b|DURCHM(?:ESSER)?\\b\\.?)';
const HOLLOW =
  'DUCTS?|CONDUITS?|PIPES?|SLEEVES?|LEERROHRE?|(?:KABEL)?SCHUTZROHRE?|KSR|ROHRE?|FOURREAUX?|TUBES?|TUBOS?|TUBI|CAVIDOTT[IO]|ELETRODUTOS?|MANTELBUI[SZ](?:EN)?|BUIS|TREKKERØR|VARERØR|(?:KABEL)?SKYDDSRÖR|RUR[AY]|CHRÁNIČK[AY]|SUOJAPUTK(?:I|ET)|HOLES?|CORES?|CABLES?|ТРУБА|ТРУБЫ';

type SizeRule = {
  readonly pattern: RegExp;
  /** A sign that must be there at all: looked for first, as most texts lack it. */
  readonly needs?: RegExp;
  readonly read: (match: readonly string[]) => { sizes: Omit<LabelSize, 'text'>[]; count?: number };
};

const round = (diameterMm: number, basis: SizeBasis = 'unknown'): Omit<LabelSize, 'text'> => ({
  section: { type: 'circle', diameterMm },
  basis,
});
const box = (widthMm: number, heightMm: number): Omit<LabelSize, 'text'> => ({
  section: { type: 'rectangle', widthMm, heightMm },
  basis: 'unknown',
});

const FEET_SIGN = /\d['’]\s?-?\s?\d/;
const FEET = `(\\d{1,2})['’]\\s?-?\\s?(\\d{1,2}(?:[ -]\\d\\/\\d{1,2})?)["″”]`;
const INCHES_SIGN = /["″”']|\bIN/;

/** In order: the first that fits takes its part of the text away from the others. */
const SIZE_RULES: readonly SizeRule[] = [
  // 2'-0" x 1'-0"
  {
    needs: FEET_SIGN,
    pattern: rule(`${FEET}\\s?W?\\s?x\\s?${FEET}`),
    read: ([, a, b, c, d]) => ({ sizes: [box(feet(a, b), feet(c, d))] }),
  },
  // 1'-6" dia
  {
    needs: FEET_SIGN,
    pattern: rule(`(?:${ROUND_WORD}\\s?)?${FEET}\\s?${ROUND_WORD}`),
    read: ([, a, b]) => ({ sizes: [round(feet(a, b))] }),
  },
  // 12"x4" · 24"W x 4"H; a bare number before conduits is how many there are: 4 x 5" conduits
  {
    needs: INCHES_SIGN,
    pattern: rule(
      `${INCHES}(${INCH_MARK})?\\s?W?\\s?x\\s?${INCHES}${INCH_MARK}\\s?H?(?!\\s?(?:Ø|DIA|ROUND))(?=\\s?(${HOLLOW}|C\\b)?)`,
    ),
    read: ([, a, mark, b, word]) =>
      mark === undefined && word !== undefined && Number(a) <= MOST_COUNTED
        ? { sizes: [round(inches(b))], ...counted(a) }
        : { sizes: [box(inches(a), inches(b))] },
  },
  // 4-4"C, but 4-1/2" is one of four and a half
  {
    needs: INCHES_SIGN,
    pattern: rule(
      `${START}(\\d{1,2})\\s?-\\s?(\\d{1,2}(?:\\.\\d{1,3})?|\\d{1,2}[ -]\\d\\/\\d{1,2})${INCH_MARK}(?:\\s?${ROUND_WORD})?`,
    ),
    read: ([, count, size]) => ({ sizes: [round(inches(size))], ...counted(count) }),
  },
  // 4 no. 4" dia · 4x4" · 4" dia · dia 4"
  {
    needs: INCHES_SIGN,
    pattern: rule(
      `(?:\\b(\\d{1,3})\\s?(?:${COUNT_WORD}|x)\\s?)?(?:${ROUND_WORD}\\s?)?${START}${INCHES}${INCH_MARK}(?:\\s?${ROUND_WORD})?`,
    ),
    read: ([, count, size]) => ({ sizes: [round(inches(size))], ...counted(count) }),
  },
  // M25 conduit · Leerrohr M50: outside by the thread that the fittings have
  {
    needs: new RegExp(HOLLOW, 'u'),
    pattern: rule(
      `(?:${START}(\\d{1,2})\\s?(?:x\\s?)?(?:(?:${HOLLOW})\\s)?)?\\bM\\s?(16|20|25|32|40|50|63|75)\\b(?![-/.])`,
    ),
    read: ([, count, size]) => ({
      sizes: [round(Number(size), 'outside')],
      ...counted(count),
    }),
  },
  // Ø110x6.6 · PE 110x6.6: outside and thickness of its wall
  {
    needs: /x/,
    pattern: rule(
      `(?:${START}(\\d{1,2})\\s?x\\s?)?(?:Ø\\s?)?${START}${NEXT_NUMBER}\\s?x\\s?(\\d{1,2}\\.\\d{1,2})(?![\\d])(?:\\s?MM\\b)?`,
    ),
    read: ([, count, size, wall]) =>
      Number(wall) * THINNEST_RATIO <= Number(size)
        ? { sizes: [round(Number(size), 'outside')], ...counted(count) }
        : { sizes: [] },
  },
  // 2/100 · 2/100mm
  {
    pattern: rule(`${START}(\\d{1,2})\\s?\\/\\s?${NEXT_NUMBER}${UNIT}(?![-/."″”\\d])`),
    read: ([, count, size, unit]) =>
      Number(count) >= 2 && Number(count) <= MOST_COUNTED && metric(size, unit) >= LEAST_OF_MANY_MM
        ? { sizes: [round(metric(size, unit))], ...counted(count) }
        : { sizes: [] },
  },
  // 3-100Ø · 2/150 dia
  {
    pattern: rule(`${START}(\\d{1,2})\\s?[-–/]\\s?${NEXT_NUMBER}${UNIT}\\s?${ROUND_WORD}`),
    read: ([, count, size, unit]) => ({ sizes: [round(metric(size, unit))], ...counted(count) }),
  },
  // 4 fourreaux Ø110 · 3 Leerrohre DN 110 · 6 ducts 100 dia · 3 rury XYZ 110
  {
    pattern: rule(
      `${START}(\\d{1,2})\\s?(?:${HOLLOW})\\s(?:[A-Z]{2,4}\\s)??(?:(?:Ø|(OD|DE|DA|ID|DN|NB|NW)\\b)\\s?)?${NEXT_NUMBER}${UNIT}(?!\\s?x\\s?\\d)(?:\\s?${ROUND_WORD})?`,
    ),
    read: ([, count, word, size, unit]) => ({
      sizes: [round(metric(size, unit), word === undefined ? 'unknown' : basisOf(word))],
      ...counted(count),
    }),
  },
  // 400x300x200: width, height, depth
  {
    needs: /x/,
    pattern: rule(`\\b${NUMBER}${UNIT}\\s?x\\s?${NUMBER}${UNIT}\\s?x\\s?${NUMBER}${UNIT}`),
    read: ([, a, , b, , , unit]) => ({ sizes: [box(metric(a, unit), metric(b, unit))] }),
  },
  // OD 110 · ID 100 · DE 110 · DN 100 · NB 150
  {
    pattern: rule(
      `(?:\\b(\\d{1,3})\\s?(?:${COUNT_WORD}|x)\\s?)?\\b(OD|O\\.D\\.|DE|DA|ID|I\\.D\\.|DI|DN|NB|NW)\\s?[=:]?\\s?${NEXT_NUMBER}${UNIT}`,
    ),
    read: ([, count, word, size, unit]) => ({
      sizes: [round(metric(size, unit), basisOf(word))],
      ...counted(count),
    }),
  },
  {
    pattern: rule(
      `(?:\\b(\\d{1,3})\\s?(?:${COUNT_WORD}|x)\\s?)?\\b${NUMBER}${UNIT}\\s?(OD|O\\.D\\.|ID|I\\.D\\.|NB|DN)(?![A-Z0-9])`,
    ),
    read: ([, count, size, unit, word]) => ({
      sizes: [round(metric(size, unit), basisOf(word))],
      ...counted(count),
    }),
  },
  // 4x150 dia · 2 No. 100 dia · 150 dia
  {
    pattern: rule(
      `(?:\\b(\\d{1,3})\\s?(?:${COUNT_WORD}|x)\\s?)?\\b${NUMBER}${UNIT}\\s?${ROUND_WORD}`,
    ),
    read: ([, count, size, unit]) => ({ sizes: [round(metric(size, unit))], ...counted(count) }),
  },
  // 4 x Ø110 · Ø50 · dia 50
  {
    pattern: rule(
      `(?:(?<!(?:[-/.\\d]|(?![xØ])\\p{L}))(\\d{1,3})\\s?(?:${COUNT_WORD}|x)?\\s?)?(?:Ø|\\bDIAM?(?:ETER)?\\b\\.?)\\s?[=:]?\\s?${NEXT_NUMBER}${UNIT}`,
    ),
    read: ([, count, size, unit]) => ({ sizes: [round(metric(size, unit))], ...counted(count) }),
  },
  // 2 No. 100 ducts · 4 nos 110
  {
    pattern: rule(`\\b(\\d{1,3})\\s?${COUNT_WORD}\\s?x?\\s?${NUMBER}${UNIT}(?!\\s?x\\s?\\d)`),
    read: ([, count, size, unit]) => ({ sizes: [round(metric(size, unit))], ...counted(count) }),
  },
  // 2 no. 300x50
  {
    pattern: rule(
      `\\b(\\d{1,3})\\s?${COUNT_WORD}\\s?${NUMBER}(?:\\s?MM)?\\s?W?\\s?x\\s?${NUMBER}${UNIT}`,
    ),
    read: ([, count, a, b, unit]) => ({
      sizes: [box(metric(a, unit), metric(b, unit))],
      ...counted(count),
    }),
  },
  // 4x100 ducts, 4x100: a small number before a much larger one is a count
  {
    pattern: rule(`\\b(\\d{1,2})\\s?x\\s?${NUMBER}${UNIT}(?!\\s?(?:x|C\\b|MM2|MM²|SQ))`),
    read: ([, a, b, unit]) =>
      Number(a) <= MOST_COUNTED && metric(b, unit) >= FEWEST_TIMES * Number(a)
        ? { sizes: [round(metric(b, unit))], ...counted(a) }
        : { sizes: [box(metric(a, unit), metric(b, unit))] },
  },
  // W300 x H50
  {
    pattern: rule(`\\bW\\s?${NEXT_NUMBER}\\s?x\\s?H\\s?${NEXT_NUMBER}${UNIT}`),
    read: ([, a, b, unit]) => ({ sizes: [box(metric(a, unit), metric(b, unit))] }),
  },
  // 300x50 · 300W x 50H
  {
    pattern: rule(`\\b${NUMBER}(?:\\s?(?:MM|CM|M)\\b)?\\s?W?\\s?x\\s?${NUMBER}${UNIT}\\s?H?\\b`),
    read: ([, a, b, unit]) => ({ sizes: [box(metric(a, unit), metric(b, unit))] }),
  },
  // 100 duct · 100mm conduits
  {
    pattern: rule(`\\b${NUMBER}${UNIT}\\s?(?:[A-Z]{2,12}\\s)?(?:${HOLLOW})\\b`),
    read: ([, size, unit]) =>
      metric(size, unit) >= SMALLEST_MM ? { sizes: [round(metric(size, unit))] } : { sizes: [] },
  },
  // duct 100 · sleeve 160mm
  {
    pattern: rule(`\\b(?:${HOLLOW})\\s${NUMBER}${UNIT}(?![-/A-Z0-9.])`),
    read: ([, size, unit]) =>
      metric(size, unit) >= SMALLEST_MM ? { sizes: [round(metric(size, unit))] } : { sizes: [] },
  },
];

/** Pipes have walls no thicker than a fifth of their outside. Our choice. */
const THINNEST_RATIO = 5;
/** "2/100" is two of 100; smaller numbers after a stroke are dates and fractions. Our choice. */
const LEAST_OF_MANY_MM = 32;
/** "4x100" counts, "50x25" does not: our own choice, from the sizes that trunking and ducts have. */
const MOST_COUNTED = 24;
const FEWEST_TIMES = 5;
/** A bare number after a word is a size from here on, else a number of its own ("duct 3"). */
const SMALLEST_MM = 16;

/** Numbers of things without a size beside them: "6 way", "4 no.", "ducts x 4". */
const COUNTS_BEFORE_SIZES: readonly RegExp[] = [
  rule('^\\s*\\(\\s?(\\d{1,2})\\s?\\)(?:\\s?-(?=\\s))?(?=\\s?\\d)'),
  rule('\\b(\\d{1,3})[ -]?WAYS?\\b'),
  rule('(?:^|\\s)X\\s?(\\d{1,2})(?![\\d.])'),
];
/** "4 ducts": a number too small for a size. */
const COUNT_OF_THINGS = rule(`${START}(\\d|1[0-5])\\s(?:${HOLLOW})\\b`);
/** "4 KSR", "2 st." with the one size of the label: a number that begins it and a word behind. */
const COUNT_AT_START =
  /^\s*(\d{1,2})\s(?!(?:HRS?|HOURS?|STD|PHASE|CORES?|LAYERS?|FLOORS?|STOREYS?|ST FL|M|MM|CM|KV|WAY)\b)\p{L}{2,}/gu;
const NUMBER_WORDS: ReadonlyMap<string, number> = new Map([
  ['TWO', 2],
  ['THREE', 3],
  ['FOUR', 4],
  ['FIVE', 5],
  ['SIX', 6],
  ['EIGHT', 8],
]);
const COUNT_IN_WORDS = rule(`^\\s*(${[...NUMBER_WORDS.keys()].join('|')})(?=\\s\\d)`);
const COUNT_ALONE = rule(`\\b(\\d{1,3})\\s?${COUNT_WORD}`);

/** Cable make-up, times, scales and dates: numbers that are no sizes. */
const NOT_SIZES: readonly RegExp[] = [
  rule(
    '\\b\\d{1,3}\\s?x\\s?\\d{0,2}\\s?C?\\s?x?\\s?\\d{1,4}(?:\\.\\d)?\\s?(?:MM2|MM²|SQ\\.?\\s?MM|SQMM)',
  ),
  rule(
    '\\b\\d{1,3}\\s?C(?:ORE)?\\s?x?\\s?\\d{1,4}(?:\\.\\d)?(?:\\s?(?:MM2|MM²|SQ\\.?\\s?MM|SQMM))?\\b',
  ),
  rule('\\b1\\s?:\\s?\\d{1,5}\\b'),
  rule('\\b\\d{1,4}(?:\\.\\d)?\\s?(?:KV|V|A|KW|KVA|HZ|KG|°|%)(?![A-Z])'),
  rule('\\bIP\\s?\\d{2}\\b'),
];

const THICKNESS = rule(`\\b${NUMBER}${UNIT}\\s?(?:THK|THICK|DICK|D=|ÉP|EP)\\b\\.?`);

const HEIGHT_BEFORE = rule(
  '(?:^|[\\s(@])(U\\/S|UNDERSIDE|BOP|BOT(?:TOM)?|B\\/O|UK|SOFFIT|C\\/L|CL|CENTRE\\s?LINE|CENTERLINE|AXIS|IL|INV(?:ERT)?(?:\\s?LEVEL)?|' +
    'TOP|T\\/O|OK|OBV|EL(?:EV)?|LVL|LEVEL|HEIGHT|HT|@)\\.?\\s?[:=@]?\\s?([+\\-±]?\\s?\\d{1,6}(?:\\.\\d{1,3})?)\\s?(MM|M)?\\b(?:\\s?(?:AFFL|A\\.F\\.F\\.L\\.?|AFL|AFF|FFL|SSL|AOD|ÜBER OKFF|OKFF))?',
);
const HEIGHT_AFTER = rule(
  '([+\\-±]?\\s?\\d{1,6}(?:\\.\\d{1,3})?)\\s?(MM|M)?\\s?(?:AFFL|A\\.F\\.F\\.L\\.?|AFL|AFF|AOD|OKFF)(?:\\s?(?:TO\\s)?(U\\/S|UNDERSIDE|C\\/L|CL|CENTRE|TOP|IL|INVERT))?',
);

/**
 * What a text says. Upper and lower case are the same; `×`, `*` and `X` between numbers are one.
 * The text is cut at 400 letters; every rule looks at it once.
 */
export function readLabel(text: string): LabelReading {
  // All that a label can say has a figure in it.
  if (!/\d/.test(text)) return { ...SAYS_NOTHING, kind: kindOf(text.toUpperCase()) };
  const original = text.slice(0, LONGEST_TEXT);
  const rest = new Working(original);
  const height = takeHeight(rest);
  const thicknessMm = takeThickness(rest);
  const kind = kindOf(rest.text);
  const isOpening =
    /\b(?:OPENING|OPNG|HOLE|SLEEVE|CORE|BWIC|DURCHBRUCH|RESERVATION|HUECO|FORO)S?\b/.test(
      rest.text,
    );
  for (const pattern of NOT_SIZES) rest.takeAll(pattern, () => true);
  const sizes: LabelSize[] = [];
  let count: number | null = null;
  const takeCount = (pattern: RegExp) =>
    rest.takeAll(pattern, ([, number]) => {
      count ??= NUMBER_WORDS.get(number ?? '') ?? Number(number);
      return true;
    });
  for (const pattern of COUNTS_BEFORE_SIZES) takeCount(pattern);
  takeCount(COUNT_IN_WORDS);
  for (const { pattern, needs, read } of SIZE_RULES) {
    if (needs !== undefined && !needs.test(rest.text)) continue;
    rest.takeAll(pattern, (match, taken) => {
      const found = read(match);
      const sane = found.sizes.filter(isSaneSize);
      if (sane.length === 0) return false;
      sizes.push(...sane.map((size) => ({ ...size, text: taken })));
      count ??= found.count ?? null;
      return true;
    });
  }
  takeCount(COUNT_ALONE);
  takeCount(COUNT_OF_THINGS);
  if (sizes.length === 1 && sizes[0]?.section.type === 'circle') takeCount(COUNT_AT_START);
  const { references, count: named } = takeReferences(rest, count);
  return { count: count ?? named, sizes, references, height, thicknessMm, kind, isOpening };
}

const SAYS_NOTHING: LabelReading = {
  count: null,
  sizes: [],
  references: [],
  height: null,
  thicknessMm: null,
  kind: null,
  isOpening: false,
};

function isSaneSize({ section }: Omit<LabelSize, 'text'>): boolean {
  const sizes =
    section.type === 'circle' ? [section.diameterMm] : [section.widthMm, section.heightMm];
  return sizes.every((size) => size >= 3 && size <= 6000);
}

function rule(source: string): RegExp {
  return new RegExp(source, 'gu');
}

function counted(text: string | undefined): { count?: number } {
  const count = Number(text);
  return text !== undefined && text !== '' && count > 0 ? { count } : {};
}

const metric = (text: string | undefined, unit: string | undefined): number =>
  Number(text) * (unit === 'M' ? 1000 : unit === 'CM' ? 10 : 1);

function inches(text: string | undefined): number {
  const parts = (text ?? '').split(/[ -]/);
  let total = 0;
  for (const part of parts) {
    const [over, under] = part.split('/');
    total += under === undefined ? Number(over) : Number(over) / Number(under);
  }
  return Number.isFinite(total) ? Math.round(total * 25.4 * 1e6) / 1e6 : 0;
}

/** Whole feet, and inches with a fraction. */
function feet(whole: string | undefined, rest: string | undefined): number {
  return Math.round((Number(whole) * 304.8 + inches(rest)) * 1e6) / 1e6;
}

function basisOf(word: string | undefined): SizeBasis {
  switch (word?.replaceAll('.', '')) {
    case 'OD':
    case 'DE':
    case 'DA':
      return 'outside';
    case 'ID':
    case 'DI':
      return 'bore';
    default:
      return 'nominal';
  }
}

const KIND_PATTERNS: readonly (readonly [ServiceKind, RegExp])[] = [
  ['carrier', /\b(?:TRAY|LADDER|TRUNKING|BASKET|KABELRINNE|KABELTRASSE|BANDEJA|KABELGOOT)S?\b/],
  ['conduit', /\b(?:CONDUIT|LEERROHR|SCHUTZROHR|FOURREAU|MANTELBUIS)[ESX]?\b/],
  ['duct', /\b(?:DUCT|DUCTWORK|LÜFTUNG|GAINE|CONDUCTO)S?\b/],
  ['pipe', /\b(?:PIPE|ROHR|TUYAU|TUBERIA|TUBO|TRUBA|ТРУБА)S?\b/],
  ['cable', /\b(?:CABLE|KABEL|CAVO|CABO|КАБЕЛЬ)S?\b/],
];

function kindOf(text: string): ServiceKind | null {
  return KIND_PATTERNS.find(([, pattern]) => pattern.test(text))?.[0] ?? null;
}

function takeThickness(rest: Working): number | null {
  let found: number | null = null;
  rest.takeAll(THICKNESS, ([, size, unit]) => {
    found ??= metric(size, unit);
    return true;
  });
  return found;
}

function takeHeight(rest: Working): LabelHeight | null {
  let found: LabelHeight | null = null;
  rest.takeAll(HEIGHT_BEFORE, ([, word, value, unit], taken) => {
    found ??= { heightMm: heightMm(value, unit), point: heightPoint(word), text: taken };
    return true;
  });
  rest.takeAll(HEIGHT_AFTER, ([, value, unit, word], taken) => {
    found ??= { heightMm: heightMm(value, unit), point: heightPoint(word), text: taken };
    return true;
  });
  return found;
}

/** "+2.400" is in metres, "2400" in millimetres, where no unit stands beside them. */
function heightMm(text: string | undefined, unit: string | undefined): number {
  const clean = (text ?? '').replace(/[\s±]/g, '');
  const value = Number(clean);
  const isMetres = unit === 'M' || (unit !== 'MM' && clean.includes('.'));
  return isMetres ? value * 1000 : value;
}

function heightPoint(word: string | undefined): LabelHeight['point'] {
  const text = word ?? '';
  if (/^(?:U\/S|UNDER|BO|B\/O|UK|SOFFIT)/.test(text)) return 'underside';
  if (/^(?:TOP|T\/O|OK|OBV)/.test(text)) return 'top';
  return /^(?:IL|INV)/.test(text) ? 'invert' : 'centre';
}

/** A text from which the parts that were understood are taken away; places stay the same. */
class Working {
  readonly original: string;
  text: string;

  constructor(original: string) {
    this.original = original;
    this.text = samePlaces(original);
  }

  /** Offers each match; what `use` accepts becomes blanks. */
  takeAll(pattern: RegExp, use: (match: readonly string[], taken: string) => boolean): void {
    for (const match of [...this.text.matchAll(pattern)]) {
      const [whole] = match;
      if (
        whole === '' ||
        !use(match, this.original.slice(match.index, match.index + whole.length).trim())
      ) {
        continue;
      }
      this.text =
        this.text.slice(0, match.index) +
        ' '.repeat(whole.length) +
        this.text.slice(match.index + whole.length);
    }
  }
}

/** Upper case and one sign for each meaning, letter for letter, so that places stay the same. */
function samePlaces(text: string): string {
  let out = '';
  for (let i = 0; i < text.length; i++) {
    const char = text.charAt(i);
    const upper = char.toUpperCase();
    if (/[øØ⌀∅φΦϕ]/.test(char)) out += 'Ø';
    else if (/[×✕*]/.test(char)) out += 'x';
    else if (/[xX]/.test(char) && isBetweenNumbers(text, i)) out += 'x';
    else if (
      char === ',' &&
      /\d/.test(text.charAt(i - 1)) &&
      /^\d{1,2}(?!\d)/.test(text.slice(i + 1, i + 4))
    )
      out += '.';
    else out += upper.length === 1 ? upper : char;
  }
  return out;
}

/** An x with a number (or its unit) before it and a number or a diameter sign after it. */
function isBetweenNumbers(text: string, at: number): boolean {
  return (
    /[\d"″”'](?:\s?(?:mm|cm|m|w))?\s?$/i.test(text.slice(Math.max(0, at - 6), at)) &&
    /^\s?(?:[\dØø⌀]|dia|DN|OD|ID|H\s?\d)/i.test(text.slice(at + 1, at + 5))
  );
}

const LONGEST_RANGE = 200;

/**
 * References: words with a letter and a digit in them, or a short word of letters with a number
 * behind it. What else the text holds is not understood and stays out.
 */
function takeReferences(
  rest: Working,
  count: number | null,
): { references: string[]; count: number | null } {
  const found: { text: string; start: number; end: number }[] = [];
  const token = /[\p{L}\p{N}](?:[\p{L}\p{N}\-_/.#+]*[\p{L}\p{N}])?/gu;
  const tokens = [...rest.text.matchAll(token)].map((match) => ({
    text: match[0],
    start: match.index,
    end: match.index + match[0].length,
  }));
  for (let i = 0; i < tokens.length; i++) {
    const here = tokens[i];
    const next = tokens[i + 1];
    if (here === undefined) continue;
    if (isReference(here.text)) found.push(here);
    else if (
      next !== undefined &&
      /^\p{Lu}{1,4}$/u.test(here.text) &&
      !NO_REFERENCE.has(here.text) &&
      /^\d{1,4}[A-Z]?$/.test(next.text) &&
      next.start - here.end === 1 &&
      rest.text.charAt(here.end) === ' '
    ) {
      found.push({ text: `${here.text} ${next.text}`, start: here.start, end: next.end });
      i += 1;
    }
  }
  return writeOut(rest, found, count);
}

const NO_REFERENCE: ReadonlySet<string> = new Set(
  'NO NOS NR OFF DIA DIAM MM CM TO BIS FROM AND UND THE FOR OF AT IN ON TYP TYPE FFL SSL AFFL TRAY DUCT PIPE WALL ROOM AXIS LEVEL LVL SHEET REV DWG'.split(
    ' ',
  ),
);

function isReference(token: string): boolean {
  if (token.length < 2 || token.length > 32) return false;
  if (!/\p{L}/u.test(token) || !/\p{N}/u.test(token)) return false;
  if (/^[\d.]+(?:MM2?|MM²|CM|M|M2|KV|V|A|KW|NO|NOS|X|ST|ND|RD|TH|C|THK)$/.test(token)) return false;
  return !/^\d+(?:\.\d+)?X\d/.test(token);
}

/** Ranges ("D-01 to D-04", "D-01…04") are written out; single references stay as they are. */
function writeOut(
  rest: Working,
  found: readonly { text: string; start: number; end: number }[],
  counted: number | null,
): { references: string[]; count: number | null } {
  const references: string[] = [];
  let count: number | null = null;
  for (let i = 0; i < found.length; i++) {
    const here = found[i];
    if (here === undefined) continue;
    const written = rest.original.slice(here.start, here.end);
    const inOne = rangeInOne(written, counted);
    if (inOne !== null) {
      references.push(...inOne);
      count ??= inOne.length;
      continue;
    }
    const next = found[i + 1];
    const between =
      next === undefined ? rest.text.slice(here.end) : rest.text.slice(here.end, next.start);
    const end =
      next !== undefined && /^\s*(?:TO|BIS|THRU|-|–|—|\.{2,3}|…)\s*$/.test(between)
        ? rest.original.slice(next.start, next.end)
        : (/^\s*(?:TO|BIS|THRU|–|—|\.{2,3}|…)\s*(\d{1,4})(?!\d)/.exec(between)?.[1] ?? null);
    const range = end === null ? null : rangeBetween(written, end);
    if (range !== null) {
      references.push(...range);
      count ??= range.length;
      if (next !== undefined && end === rest.original.slice(next.start, next.end)) i += 1;
    } else references.push(written);
  }
  return { references, count };
}

/**
 * A range written as one word: "D-01..06", and "D1-D4" where the count says that it is one (a cable
 * may be called after its two ends).
 */
function rangeInOne(word: string, counted: number | null): string[] | null {
  const dots = /^(.*?\d)\.{2,3}(\d{1,4})$/.exec(word);
  if (dots !== null) return rangeBetween(dots[1] ?? '', dots[2] ?? '');
  const dash = /^(\p{L}+-?\d{1,4})-(\p{L}+-?\d{1,4}|\d{1,4})$/u.exec(word);
  const range = dash === null ? null : rangeBetween(dash[1] ?? '', dash[2] ?? '');
  return range !== null && range.length === counted ? range : null;
}

/** "D-01" to "D-04" or "04": four references; null where the two are no range. */
function rangeBetween(first: string, last: string): string[] | null {
  const from = /^(.*?)(\d+)$/.exec(first);
  const to = /^(.*?)(\d+)$/.exec(last);
  if (from === null || to === null) return null;
  const [, prefix = '', low = ''] = from;
  const [, prefixTo = '', high = ''] = to;
  if (prefixTo !== '' && prefixTo.toUpperCase() !== prefix.toUpperCase()) return null;
  const start = Number(low);
  const end = Number(high);
  if (!(end > start) || end - start >= LONGEST_RANGE) return null;
  const out: string[] = [];
  for (let number = start; number <= end; number++) {
    out.push(prefix + String(number).padStart(low.length, '0'));
  }
  return out;
}
