import type { ModelRecords } from './records.ts';
import { refOf, refsOf } from './values.ts';

/** An assignment by its record's number, and units in it. */
export interface AssignedUnits {
  readonly assignment: number;
  readonly units: readonly number[];
}

/**
 * Units the project assigns that lead to a record which is not there or broken. web-ifc never ends
 * on one of them, whichever quantity it is for, so they are kept from it.
 */
export function brokenUnits(step: ModelRecords): readonly AssignedUnits[] {
  const unsound = new Set(step.unsoundIds);
  const isWhole = (id: number, depth: number): boolean => {
    if (!step.has(id) || unsound.has(id) || depth > DEEPEST) return false;
    const needed = NEEDED[step.typeOf(id)];
    if (needed === undefined) return true;
    const value = step.attributes(id)[needed];
    const next = refOf(value);
    const parts = next === null ? refsOf(value) : [next];
    return parts.length > 0 && parts.every((part) => isWhole(part, depth + 1));
  };
  return step.idsOf('IFCUNITASSIGNMENT').map((assignment) => ({
    assignment,
    units: refsOf(step.attributes(assignment)[0]).filter((unit) => !isWhole(unit, 0)),
  }));
}

/** Factor, then unit, of a converted unit; the elements of a derived one, then the unit of each. */
const NEEDED: Readonly<Record<string, number>> = {
  IFCCONVERSIONBASEDUNIT: 3,
  IFCCONVERSIONBASEDUNITWITHOFFSET: 3,
  IFCMEASUREWITHUNIT: 1,
  IFCDERIVEDUNIT: 0,
  IFCDERIVEDUNITELEMENT: 0,
};

/** A unit that is its own base would go on for ever. */
const DEEPEST = 8;
