/** A text as bytes, one character a byte, so that nothing but the mutation changes. */
export const toText = (bytes: Uint8Array): string =>
  Buffer.from(bytes.buffer, bytes.byteOffset, bytes.byteLength).toString('latin1');
export const toBytes = (text: string): Uint8Array => Uint8Array.from(Buffer.from(text, 'latin1'));

export type Random = () => number;

export const below = (random: Random, count: number): number =>
  Math.min(count - 1, Math.floor(random() * count));

export function pick<T>(random: Random, items: readonly T[]): T {
  const item = items[below(random, items.length)];
  if (item === undefined) throw new Error('Nothing to pick from.');
  return item;
}

/** How a text falls into parts that can be moved about; joined they give the text again. */
export type Cut = (text: string) => string[];

export const lines: Cut = (text) => text.split(/(?<=\n)/);
/** Code and value of a DXF tag. */
export const linePairs: Cut = (text) => {
  const all = lines(text);
  return Array.from({ length: Math.ceil(all.length / 2) }, (_, n) =>
    all.slice(n * 2, n * 2 + 2).join(''),
  );
};
/** DXF records: from one code 0 to the next. */
export const dxfRecords: Cut = (text) => {
  const records: string[] = [];
  for (const pair of linePairs(text)) {
    if (records.length === 0 || /^\s*0\s*\n/.test(pair)) records.push(pair);
    else records[records.length - 1] += pair;
  }
  return records;
};
/** Tags and texts of XML. */
export const xmlTags: Cut = (text) => text.split(/(?=<)/);
/** Words, numbers and marks. */
const tokens: Cut = (text) => text.split(/(?<=[\s,;:()"'=<>/[\]{}])|(?=[\s,;:()"'=<>/[\]{}])/);

const NUMBER = /-?\d+(?:\.\d*)?(?:[eE][-+]?\d+)?/g;
const EXTREMES = [
  '0',
  '-0.',
  '-1',
  '1',
  '2',
  '1E308',
  '-1E308',
  '1E-308',
  '1E999',
  '1E12',
  '-1E9',
  '0.1',
  '65536',
  '2147483648',
  '4294967295',
  '9007199254740993',
  '99999999999999999999',
  'NAN',
  'INF',
  '',
  '1.0000001',
  '1E-9',
];
const ODDITIES = [
  '\0',
  '\xef\xbb\xbf',
  '\xff\xfe',
  "'",
  '"',
  ';',
  '*',
  '$',
  '/*',
  '<!--',
  '<![CDATA[',
  '&amp;',
  '&x;',
  '__proto__',
  'constructor',
  '((((((((',
  '))))',
  '\\X2\\00',
  '\r',
  '\n\n',
  '=1+1',
  '../../x',
  '{}',
  '[',
  ': &a *a',
  '%%c',
  '\\P',
  '%',
  '\t',
  '  ',
  'true',
  'null',
];

type Change = (text: string, cut: Cut, random: Random) => string;

/** A run of parts taken out. */
const drop: Change = (text, cut, random) => {
  const parts = cut(text);
  parts.splice(below(random, parts.length), 1 + below(random, random() < 0.2 ? 50 : 3));
  return parts.join('');
};

const repeat: Change = (text, cut, random) => {
  const parts = cut(text);
  const at = below(random, parts.length);
  const run = parts.slice(at, at + 1 + below(random, 4));
  const times = random() < 0.1 ? 2000 : 1 + below(random, 4);
  if (run.join('').length * times > 2_000_000) return text;
  parts.splice(at, 0, ...Array.from({ length: times }, () => run).flat());
  return parts.join('');
};

const swap: Change = (text, cut, random) => {
  const parts = cut(text);
  const a = below(random, parts.length);
  const b = below(random, parts.length);
  [parts[a], parts[b]] = [parts[b] ?? '', parts[a] ?? ''];
  return parts.join('');
};

/** One part where another was. */
const replace: Change = (text, cut, random) => {
  const parts = cut(text);
  parts[below(random, parts.length)] = parts[below(random, parts.length)] ?? '';
  return parts.join('');
};

const oddNumber: Change = (text, cut, random) => {
  const parts = cut(text);
  // Some parts hold no number: a few are tried.
  for (let tries = 0; tries < 8; tries += 1) {
    const at = below(random, parts.length);
    const part = parts[at] ?? '';
    const found = [...part.matchAll(NUMBER)];
    if (found.length === 0) continue;
    const one = pick(random, found);
    const end = one.index + one[0].length;
    parts[at] = part.slice(0, one.index) + pick(random, EXTREMES) + part.slice(end);
    break;
  }
  return parts.join('');
};

/** A word or mark of one part where one of another was. */
const crossed: Change = (text, cut, random) => {
  const parts = cut(text);
  const at = below(random, parts.length);
  const own = tokens(parts[at] ?? '');
  const other = tokens(parts[below(random, parts.length)] ?? '');
  own[below(random, own.length)] = pick(random, other.length > 0 ? other : ['']);
  parts[at] = own.join('');
  return parts.join('');
};

const oddText: Change = (text, _, random) => {
  const at = below(random, text.length + 1);
  const what = pick(random, ODDITIES).repeat(random() < 0.05 ? 3000 : 1);
  return text.slice(0, at) + what + text.slice(at + (random() < 0.5 ? what.length : 0));
};

const cutShort: Change = (text, _, random) => text.slice(0, below(random, text.length + 1));

const bytesChanged: Change = (text, _, random) => {
  const at = below(random, Math.max(1, text.length));
  const byte = String.fromCharCode(below(random, 256));
  return text.slice(0, at) + byte + text.slice(at + below(random, 3));
};

const CHANGES: readonly Change[] = [
  drop,
  repeat,
  swap,
  replace,
  oddNumber,
  oddNumber,
  oddNumber,
  crossed,
  crossed,
  oddText,
  bytesChanged,
];

/** A text with one to eight changes. */
export function mutateText(text: string, cuts: readonly Cut[], random: Random): string {
  let changed = text;
  const count = 1 + below(random, random() < 0.5 ? 2 : 8);
  for (let n = 0; n < count && changed !== ''; n += 1) {
    changed = pick(random, CHANGES)(changed, pick(random, cuts), random);
  }
  return random() < 0.03 ? cutShort(changed, lines, random) : changed;
}
