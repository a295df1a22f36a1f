import type { Contact, PackSolver } from './pack-solver.ts';
import { solveSymmetric } from './solve-symmetric.ts';

/** More contacts than this are left to settling: the dense factor no longer pays. */
const MOST_CONTACTS = 400;
const ROUNDS = 6;

/**
 * Moves `at` and the growth so that the contacts pressed at this growth touch exactly, by Newton's
 * method on their distances (least change of the unknowns). At the largest growth of a layout the
 * pressed contacts are the ones that hold it, so this lands on it to rounding. Returns the growth the
 * solution stands at, or null when it can't be done; what holds is for the caller to measure.
 */
export function touchExactly(solver: PackSolver, at: Float64Array, growth: number): number | null {
  let s = growth;
  const first = solver.contacts(at, growth, 0);
  if (first === null || first.length === 0 || first.length > MOST_CONTACTS) return null;
  let worst = Number.POSITIVE_INFINITY;
  for (let round = 0; round < ROUNDS; round++) {
    const contacts = round === 0 ? first : sameContacts(solver, at, s, first);
    if (contacts === null) return null;
    const change = leastChange(contacts);
    if (change === null) return null;
    s += change.growth;
    change.unknowns.forEach((step, unknown) => {
      at[unknown] = (at[unknown] as number) + step;
    });
    const size = Math.abs(change.growth) + change.largest;
    if (!(size < 10 * worst)) return null;
    worst = size;
    if (size < 1e-15 * (1 + Math.abs(s))) break;
  }
  return s;
}

/** The first contacts again after a move, found among all that are near. */
function sameContacts(
  solver: PackSolver,
  at: Float64Array,
  growth: number,
  first: readonly Contact[],
): Contact[] | null {
  const near = solver.contacts(at, growth, Number.NEGATIVE_INFINITY);
  if (near === null) return null;
  const byUnknowns = new Map<string, Contact[]>();
  for (const contact of near) {
    const key = contact.unknowns.join(' ');
    const list = byUnknowns.get(key);
    if (list === undefined) byUnknowns.set(key, [contact]);
    else list.push(contact);
  }
  const found: Contact[] = [];
  for (const contact of first) {
    const same = (byUnknowns.get(contact.unknowns.join(' ')) ?? []).find((other) =>
      alike(contact, other),
    );
    if (same === undefined) return null;
    found.push(same);
  }
  return found;
}

/** The same wall of several: its direction has hardly changed. */
function alike(a: Contact, b: Contact): boolean {
  let dot = 0;
  a.rates.forEach((rate, k) => {
    dot += rate * (b.rates[k] as number);
  });
  return dot > 0.9 * (a.rates.length > 2 && a.unknowns.length > 3 ? 1 : 0.9);
}

/** Least change that brings every contact to touch: J Jᵀ λ = −rest, change = Jᵀ λ. */
function leastChange(contacts: readonly Contact[]): {
  readonly growth: number;
  readonly unknowns: ReadonlyMap<number, number>;
  readonly largest: number;
} | null {
  const m = contacts.length;
  const a = new Float64Array(m * m);
  const b = new Float64Array(m);
  contacts.forEach((p, i) => {
    b[i] = -p.rest;
    for (let j = 0; j <= i; j++) {
      const value = inner(p, contacts[j] as Contact);
      a[i * m + j] = value;
      a[j * m + i] = value;
    }
    // More contacts than unknowns are common in regular packings: a little give makes them solvable.
    a[i * m + i] = (a[i * m + i] as number) * (1 + 1e-12) + 1e-13;
  });
  if (!solveSymmetric(a, b, m)) return null;
  let growth = 0;
  const unknowns = new Map<number, number>();
  contacts.forEach(({ slope, unknowns: columns, rates }, i) => {
    const lambda = b[i] as number;
    growth -= slope * lambda;
    columns.forEach((unknown, k) => {
      unknowns.set(unknown, (unknowns.get(unknown) ?? 0) + lambda * (rates[k] as number));
    });
  });
  let largest = 0;
  for (const step of unknowns.values()) largest = Math.max(largest, Math.abs(step));
  return { growth, unknowns, largest };
}

function inner(p: Contact, q: Contact): number {
  let total = p.slope * q.slope;
  for (let k = 0; k < p.unknowns.length; k++) {
    const at = q.unknowns.indexOf(p.unknowns[k] as number);
    if (at >= 0) total += (p.rates[k] as number) * (q.rates[at] as number);
  }
  return total;
}
