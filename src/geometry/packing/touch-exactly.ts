import type { Contact } from './contacts.ts';
import type { PackSolver } from './pack-solver.ts';
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
  const first = solver.contacts(at, growth);
  if (first === null || first.length === 0 || first.length > MOST_CONTACTS) return null;
  let worst = Number.POSITIVE_INFINITY;
  for (let round = 0; round < ROUNDS; round++) {
    const contacts = round === 0 ? first : solver.again(first, at, s);
    const change = leastChange(contacts, at.length);
    if (change === null) return null;
    s += change.growth;
    let size = Math.abs(change.growth);
    for (let k = 0; k < at.length; k++) {
      const step = change.steps[k] as number;
      at[k] = (at[k] as number) + step;
      size = Math.max(size, Math.abs(step));
    }
    if (!(size < 10 * worst)) return null;
    worst = size;
    if (size < 1e-15 * (1 + Math.abs(s))) break;
  }
  return s;
}

/** Least change that brings every contact to touch: J Jᵀ λ = −rest, change = Jᵀ λ. */
function leastChange(
  contacts: readonly Contact[],
  size: number,
): { readonly growth: number; readonly steps: Float64Array } | null {
  const m = contacts.length;
  const a = normalMatrix(contacts, size);
  const b = Float64Array.from(contacts, ({ rest }) => -rest);
  if (!solveSymmetric(a, b, m)) return null;
  let growth = 0;
  const steps = new Float64Array(size);
  contacts.forEach(({ slope, unknowns, rates }, i) => {
    const lambda = b[i] as number;
    growth -= slope * lambda;
    for (let k = 0; k < unknowns.length; k++) {
      const unknown = unknowns[k] as number;
      steps[unknown] = (steps[unknown] as number) + lambda * (rates[k] as number);
    }
  });
  return { growth, steps };
}

/** J Jᵀ with the growth among the unknowns, unknown by unknown: each has few contacts. */
function normalMatrix(contacts: readonly Contact[], size: number): Float64Array {
  const m = contacts.length;
  const a = new Float64Array(m * m);
  const rows: number[][] = Array.from({ length: size }, () => []);
  const rates: number[][] = Array.from({ length: size }, () => []);
  contacts.forEach((contact, i) => {
    for (let k = 0; k < contact.unknowns.length; k++) {
      const unknown = contact.unknowns[k] as number;
      rows[unknown]?.push(i);
      rates[unknown]?.push(contact.rates[k] as number);
    }
    for (let j = 0; j <= i; j++) a[i * m + j] = contact.slope * (contacts[j] as Contact).slope;
  });
  rows.forEach((column, unknown) => {
    const values = rates[unknown] as number[];
    for (let p = 0; p < column.length; p++) {
      for (let q = 0; q <= p; q++) {
        // Contacts come in order, so that the row is never above the diagonal.
        const at = (column[p] as number) * m + (column[q] as number);
        a[at] = (a[at] as number) + (values[p] as number) * (values[q] as number);
      }
    }
  });
  // More contacts than unknowns are common in regular packings: a little give makes them solvable.
  for (let i = 0; i < m; i++) a[i * m + i] = (a[i * m + i] as number) * (1 + 1e-12) + 1e-13;
  return a;
}
