import { type XsdPattern, xsdPattern } from '../shared/xsd-pattern.ts';
import type { IdsRestriction, IdsValue } from './ids-file.ts';

/** A value of a model, as IDS compares it. Numbers are in IDS units. */
export type ComparedValue =
  | { readonly kind: 'text'; readonly text: string }
  | { readonly kind: 'number'; readonly value: number }
  | { readonly kind: 'boolean'; readonly value: boolean };

const EPSILON = 1e-6;

/**
 * Whether two numbers count as equal: |x − v| ≤ |v|·ε + ε with ε = 1e-6. The limit itself counts as
 * equal, as the published cases have it, so the rounding of the difference is allowed for.
 *
 * @source IDS 1.0, `tolerance.md` and the published cases of `testcases/tolerance`.
 */
export function isEqualNumber(x: number, v: number): boolean {
  const reach = Math.abs(v) * EPSILON + EPSILON;
  return Math.abs(x - v) <= reach * (1 + 1e-9);
}

/** The number an IDS file writes, or null where it isn't one. @source IDS 1.0, `DataTypes.md`. */
export function idsNumber(text: string): number | null {
  return DOUBLE.test(text) && /\d/.test(text) ? Number(text) : null;
}

/** `true`, `false`, `1` or `0`; null for anything else. @source IDS 1.0, `DataTypes.md`. */
function idsBoolean(text: string): boolean | null {
  if (text === 'true' || text === '1') return true;
  return text === 'false' || text === '0' ? false : null;
}

/** Shapes of written values by XML base type. @source IDS 1.0, `DataTypes.md`, "XML base types". */
export const WRITTEN_AS: Readonly<Record<string, RegExp>> = {
  anyUri: /^\S+$/,
  boolean: /^(true|false|0|1)$/,
  date: /^\d{4}-\d{2}-\d{2}(Z|([+-]\d{2}:\d{2}))?$/,
  dateTime: /^\d{4}-\d{2}-\d{2}T\d{2}:\d{2}:\d{2}(\.\d+)?(Z|([+-]\d{2}:\d{2}))?$/,
  double: /^([-+]?[0-9]*\.?[0-9]*([eE][-+]?[0-9]+)?|NaN|\+INF|-INF)$/,
  duration: /^[-+]?P(\d+Y)?(\d+M)?(\d+D)?(T(\d+H)?(\d+M)?(\d+S)?)?$/,
  integer: /^[+-]?(\d+)$/,
  string: /^[\s\S]*$/,
  time: /^\d{2}:\d{2}:\d{2}(\.\d+)?(Z|([+-]\d{2}:\d{2}))?$/,
};

const DOUBLE = /^[-+]?[0-9]*\.?[0-9]*([eE][-+]?[0-9]+)?$/;

/** Whether a value of a model is what the IDS asks for. */
export function matchesValue(asked: IdsValue, found: ComparedValue): boolean {
  return asked.kind === 'simple' ? equals(asked.text, found) : isWithin(asked, found);
}

/** Whether a text matches: for names, classes and the like. */
export function matchesText(asked: IdsValue, text: string): boolean {
  return matchesValue(asked, { kind: 'text', text });
}

/** Whether a restriction sets bounds, which all values of a list must keep. */
export function hasBounds(asked: IdsValue): boolean {
  return (
    asked.kind === 'restriction' &&
    [asked.minInclusive, asked.maxInclusive, asked.minExclusive, asked.maxExclusive].some(
      (bound) => bound !== null,
    )
  );
}

/** Written values of a simple value or an enumeration. */
export function writtenValues(asked: IdsValue): readonly string[] {
  return asked.kind === 'simple' ? [asked.text] : asked.enumeration;
}

/** The matcher of a pattern, made once; null where it can't be run. */
export function patternMatcher(pattern: string): XsdPattern | null {
  const known = matchers.get(pattern);
  if (known !== undefined) return known;
  const made = xsdPattern(pattern);
  // A cache without a limit would keep every pattern of every file ever read.
  if (matchers.size > 1000) matchers.clear();
  matchers.set(pattern, made);
  return made;
}

const matchers = new Map<string, XsdPattern | null>();

function equals(written: string, found: ComparedValue): boolean {
  switch (found.kind) {
    case 'text':
      return written === found.text;
    case 'boolean':
      return idsBoolean(written) === found.value;
    case 'number': {
      const number = idsNumber(written);
      return number !== null && isEqualNumber(found.value, number);
    }
  }
}

function isWithin(asked: IdsRestriction, found: ComparedValue): boolean {
  if (asked.enumeration.length > 0 && !asked.enumeration.some((each) => equals(each, found))) {
    return false;
  }
  if (asked.patterns.length > 0 && !matchesPattern(asked.patterns, found)) return false;
  return keepsLength(asked, found) && keepsBounds(asked, found);
}

function matchesPattern(patterns: readonly string[], found: ComparedValue): boolean {
  if (found.kind === 'number') return false;
  const text = found.kind === 'text' ? found.text : String(found.value);
  return patterns.some((pattern) => patternMatcher(pattern)?.(text) ?? false);
}

function keepsLength(asked: IdsRestriction, found: ComparedValue): boolean {
  const { length, minLength, maxLength } = asked;
  if (length === null && minLength === null && maxLength === null) return true;
  if (found.kind !== 'text') return false;
  const count = [...found.text].length;
  return (
    (length === null || count === length) &&
    (minLength === null || count >= minLength) &&
    (maxLength === null || count <= maxLength)
  );
}

/**
 * A number that equals a bound within the tolerance lies on it: inside an inclusive bound, outside
 * an exclusive one.
 *
 * @source IDS 1.0, published cases `testcases/tolerance`, "range"; the page `tolerance.md` says that
 * ranges have no tolerance, and the cases decide.
 */
function keepsBounds(asked: IdsRestriction, found: ComparedValue): boolean {
  const keeps = (bound: string | null, isKept: (order: number) => boolean) => {
    if (bound === null) return true;
    const order = compareWith(bound, found);
    return order !== null && isKept(order);
  };
  return (
    keeps(asked.minInclusive, (order) => order >= 0) &&
    keeps(asked.maxInclusive, (order) => order <= 0) &&
    keeps(asked.minExclusive, (order) => order > 0) &&
    keeps(asked.maxExclusive, (order) => order < 0)
  );
}

/** Order of a found value against a bound; dates and times order as texts of one form. */
function compareWith(bound: string, found: ComparedValue): number | null {
  if (found.kind === 'number') {
    const number = idsNumber(bound);
    if (number === null) return null;
    return isEqualNumber(found.value, number) ? 0 : found.value - number;
  }
  if (found.kind === 'boolean' || !/^[\d:T.Z+-]+$/.test(found.text)) return null;
  return found.text < bound ? -1 : found.text > bound ? 1 : 0;
}
