import type { Cable, Schedule } from '../../../src/model/cable.ts';

/** A cable of the schedule `cables`, sheet `Sheet`; give what the test is about. */
export function cable(ref: string, given: Partial<Cable> = {}): Cable {
  return {
    id: `cables:Sheet:${ref}`,
    ref,
    place: { fileKey: 'cables', sheet: 'Sheet', row: 2 },
    status: 'now',
    stage: null,
    type: null,
    construction: null,
    cores: null,
    sizeMm2: null,
    bodies: 1,
    bundle: null,
    diameterMm: 20,
    smallestDiameterMm: null,
    largestDiameterMm: null,
    massKgPerM: null,
    from: null,
    to: null,
    route: [],
    circuit: null,
    current: null,
    circuitRef: null,
    phase: null,
    remarks: null,
    evidence: [],
    ...given,
  };
}

/** A schedule of cables; rows that repeat a reference get the row in their id. */
export function scheduleOf(cables: readonly Cable[]): Schedule {
  const count = new Map<string, number>();
  for (const { id } of cables) count.set(id, (count.get(id) ?? 0) + 1);
  return {
    cables: cables.map((each, at) =>
      (count.get(each.id) ?? 0) > 1 ? { ...each, id: `${each.id}:${at + 2}` } : each,
    ),
    rows: [],
  };
}
