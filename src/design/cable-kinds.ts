import { greatestOf } from '../basics/extremes.ts';
import type { Cable } from '../model/cable.ts';
import { dataSeparationMm, type SegregationClass } from './tables/data-separation.ts';

/** Name of the class of a body that must stand apart: power or data; null for the others. */
export function separationClassOf(cable: Cable): 'power' | 'data' | null {
  if (cable.circuit === 'LV' || cable.circuit === 'HV') return 'power';
  return cable.circuit === 'data' ? 'data' : null;
}

/**
 * Segregation class by what the schedule says of the screen; b (category 5e/6, unscreened) where
 * it says nothing.
 * @source EN 50174-2, classes by screen as listed in an electrical handbook (2017).
 */
export function segregationClassOf(cable: Cable): {
  readonly name: SegregationClass;
  readonly isAssumed: boolean;
} {
  const text = `${cable.type ?? ''} ${cable.construction ?? ''}`.slice(0, 200).toLowerCase();
  if (/\bcat\.?\s{0,2}7/.test(text)) return { name: 'd', isAssumed: false };
  if (/\b(?:(?:s|f|sf)\/(?:u|f)?tp|[sf]tp|screened|shielded)\b/.test(text)) {
    return { name: 'c', isAssumed: false };
  }
  return { name: 'b', isAssumed: !/\b(?:u\/utp|utp|unscreened|cat\.?\s{0,2}[56])/.test(text) };
}

/**
 * Single-phase circuits that a power cable counts for: three for three lines, one otherwise. Its
 * current is not in a schedule, so each counts as at most 20 A.
 * @source EN 50174-2, counting of circuits: three-phase as three, from memory.
 */
function circuitCount(cable: Cable): number {
  const cores = (cable.cores ?? 0) * Math.max(1, cable.bodies);
  return cores >= 4 || cable.bodies >= 3 ? 3 : 1;
}

/** The separation that power and data ask for in one hole, mm; 0 where not both pass. */
export function powerFromDataMm(cables: readonly Cable[]): number {
  const data = cables.filter((cable) => separationClassOf(cable) === 'data');
  const power = cables.filter((cable) => separationClassOf(cable) === 'power');
  const circuits = power.reduce((count, cable) => count + circuitCount(cable), 0);
  const neededMm = data.map((cable) =>
    dataSeparationMm(segregationClassOf(cable).name, 'none or non-metallic', circuits),
  );
  return greatestOf(neededMm, 0);
}

/** Whether a cable has one core only: by its count, else by what its type says. */
export function isSingleCore(cable: Cable): boolean {
  if (cable.cores !== null) return cable.cores === 1;
  const text = `${cable.type ?? ''} ${cable.construction ?? ''}`.slice(0, 200).toLowerCase();
  return /\b(?:1c|1-core|1 core|single[- ]core)\b/.test(text);
}
