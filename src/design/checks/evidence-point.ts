/**
 * One point of a record against the seal: covered, beyond it, not said by the record, or not
 * known of the seal.
 */
export interface Point {
  readonly name: string;
  readonly state: 'covered' | 'outside' | 'not stated' | 'not known';
  readonly text: string;
}

/** A point where the record gives the most that was tested. */
export function atMost(
  name: string,
  limit: number | undefined,
  value: number | null,
  unit: string,
): Point {
  if (limit === undefined) return { name, state: 'not stated', text: '' };
  if (value === null) return { name, state: 'not known', text: '' };
  const text = `${name} ${round(value)} ${unit}, tested to ${round(limit)} ${unit}`;
  return { name, state: value <= limit + 1e-9 ? 'covered' : 'outside', text };
}

/** A point where the record gives the least that was tested. */
export function atLeast(
  name: string,
  limit: number | undefined,
  value: number | null,
  unit: string,
): Point {
  if (limit === undefined) return { name, state: 'not stated', text: '' };
  if (value === null) return { name, state: 'not known', text: '' };
  const text = `${name} ${round(value)} ${unit}, tested from ${round(limit)} ${unit}`;
  return { name, state: value >= limit - 1e-9 ? 'covered' : 'outside', text };
}

function round(value: number): string {
  return String(Math.round(value * 100) / 100);
}
