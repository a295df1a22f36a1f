import type { SheetCell } from '../../formats/shared/sheet-table.ts';

/** Which sign parts whole from fraction in a table's texts. */
export type DecimalSign = 'comma' | 'point' | 'unknown';

/** A measured value with its bounds where the cell gives them. */
export interface Measure {
  readonly value: number;
  readonly smallest: number | null;
  readonly largest: number | null;
  /** Unit written in the cell itself; it wins over the heading's. */
  readonly unit: string | null;
}

const NUMBER = String.raw`\d{1,9}(?:[.,' ]\d{1,9}){0,3}`;
const UNIT = String.raw`(mm|cm|inches|inch|in|"|″|m|kg\/km|kg\/m|lb\/ft)?\.?`;
const LEAD = String.raw`(?:ca\.?|approx\.?|abt\.?|about|nom\.?|~|≈|o\.?d\.?|d(?:ia)?\.?|[Øø⌀∅])?`;
const SINGLE = new RegExp(String.raw`^${LEAD} ?[=:]? ?(${NUMBER}) ?${UNIT}\*?$`, 'iu');
const SPREAD = new RegExp(
  String.raw`^${LEAD} ?(${NUMBER}) ?(?:mm)? ?(?:±|\+\/-|\+-) ?(${NUMBER}) ?${UNIT}$`,
  'iu',
);
const RANGE = new RegExp(
  String.raw`^${LEAD} ?(${NUMBER}) ?(?:mm)? ?(?:-|–|—|…|\.\.\.?|to|bis|à|\/) ?(${NUMBER}) ?${UNIT}$`,
  'iu',
);

/**
 * A measure from a cell: `24.5`, `24,5 mm`, `Ø24`, `24±0.5`, `23–25`, `0.95 in`; null for anything
 * else, also for a number whose decimal sign can't be told (`1,250` in a table without other).
 */
export function readMeasure(cell: SheetCell, decimal: DecimalSign): Measure | null {
  if (cell.number !== null) {
    return { value: cell.number, smallest: null, largest: null, unit: null };
  }
  const text = cell.text.replace(/ /gu, ' ').replace(/ {2,}/gu, ' ').trim().slice(0, 60);
  const single = SINGLE.exec(text);
  if (single !== null) {
    const value = readNumber(single[1] ?? '', decimal);
    return value === null
      ? null
      : { value, smallest: null, largest: null, unit: unitOf(single[2]) };
  }
  const spread = SPREAD.exec(text);
  if (spread !== null) {
    const value = readNumber(spread[1] ?? '', decimal);
    const by = readNumber(spread[2] ?? '', decimal);
    if (value === null || by === null || by >= value) return null;
    return { value, smallest: value - by, largest: value + by, unit: unitOf(spread[3]) };
  }
  const fraction = INCH_FRACTION.exec(text);
  if (fraction !== null) return inchFraction(fraction);
  const range = RANGE.exec(text);
  if (range === null) return null;
  const smallest = readNumber(range[1] ?? '', decimal);
  const largest = readNumber(range[2] ?? '', decimal);
  if (smallest === null || largest === null || smallest >= largest) return null;
  return { value: (smallest + largest) / 2, smallest, largest, unit: unitOf(range[3]) };
}

/** `1/2"`, `1 1/4 in`: parts of an inch, not from one to the other. */
const INCH_FRACTION = new RegExp(
  String.raw`^${LEAD} ?(?:(\d{1,2})[ -])?(\d{1,2})\/(2|4|8|16|32|64) ?(?:inches|inch|in|"|″)\.?$`,
  'iu',
);

function inchFraction([, whole = '0', part, parts]: RegExpExecArray): Measure {
  const value = Number(whole) + Number(part) / Number(parts);
  return { value, smallest: null, largest: null, unit: 'in' };
}

function unitOf(written: string | undefined): string | null {
  if (written === undefined || written === '') return null;
  return written === '"' || written === '″' ? 'in' : written.toLowerCase();
}

/** A number as written; null where the sign could part thousands as well as fractions. */
function readNumber(written: string, decimal: DecimalSign): number | null {
  const text = written.replace(/[' ]/gu, '');
  const commas = text.split(',').length - 1;
  const points = text.split('.').length - 1;
  if (commas === 0 && points === 0) return Number(text);
  if (commas > 0 && points > 0) {
    const isCommaLast = text.lastIndexOf(',') > text.lastIndexOf('.');
    const plain = isCommaLast
      ? text.replace(/\./gu, '').replace(',', '.')
      : text.replace(/,/gu, '');
    return finite(plain);
  }
  if (commas + points > 1) return finite(text.replace(/[.,]/gu, ''));
  if (points === 1) {
    const isThousand = decimal === 'comma' && /^\d{1,3}\.\d{3}$/u.test(text);
    return finite(isThousand ? text.replace('.', '') : text);
  }
  if (!/^\d{1,3},\d{3}$/u.test(text) || text.startsWith('0,')) {
    return finite(text.replace(',', '.'));
  }
  if (decimal === 'comma') return finite(text.replace(',', '.'));
  return decimal === 'point' ? finite(text.replace(',', '')) : null;
}

function finite(text: string): number | null {
  const value = Number(text);
  return Number.isFinite(value) ? value : null;
}

/** The decimal sign of a table's texts, from those that leave no choice. */
export function decimalSignOf(texts: Iterable<string>): DecimalSign {
  let commas = 0;
  let points = 0;
  for (const text of texts) {
    if (/(?<![\d.,])\d{1,3},(?:\d{1,2}|\d{4,6})(?![\d.,])/u.test(text)) commas += 1;
    if (/(?<![\d.,])\d{1,3}\.(?:\d{1,2}|\d{4,6})(?![\d.,])/u.test(text)) points += 1;
  }
  if (commas > points) return 'comma';
  return points > commas ? 'point' : 'unknown';
}

const MM_PER: Readonly<Record<string, number>> = {
  mm: 1,
  cm: 10,
  m: 1000,
  in: 25.4,
  inch: 25.4,
  inches: 25.4,
};

/** Millimetres in one of a unit as written; null for a unit of something else. */
export function mmPer(unit: string): number | null {
  return MM_PER[unit] ?? null;
}
