import type { Shape } from '../../../src/geometry/shape.ts';
import type { Cable, CableMatch, Matches, Schedule } from '../../../src/model/cable.ts';
import type { Crossing, Penetration, PenetrationHost } from '../../../src/model/penetration.ts';
import { cable } from '../schedule/cable.ts';

/** A 200 mm concrete wall; change what the test is about. */
export function makeHost(changes: Partial<PenetrationHost> = {}): PenetrationHost {
  return {
    id: 'arch:wall',
    ref: { fileKey: 'arch', id: 'wall' },
    kind: 'wall',
    name: 'wall',
    thicknessMm: 200,
    material: 'concrete',
    fireRating: null,
    isExternal: null,
    isLoadBearing: null,
    ...changes,
  };
}

/** A round 150 mm opening through that wall, facing along y, with nothing in it. */
export function makePenetration(changes: Partial<Penetration> = {}): Penetration {
  return {
    id: 'arch:wall/arch:opening',
    kind: 'opening',
    frame: { originMm: [0, 0, 1000], axis: [0, 1, 0], right: [1, 0, 0], up: [0, 0, 1] },
    hosts: [makeHost()],
    thicknessMm: 200,
    openings: [
      { id: 'arch:opening', ref: { fileKey: 'arch', id: 'opening' }, kind: 'opening', name: '' },
    ],
    crossings: [],
    shape: { type: 'circle', diameterMm: 150 },
    where: {
      level: 'L01',
      levelElevationMm: 0,
      heightAboveLevelMm: 1000,
      grid: null,
      spaces: { near: null, far: null },
      outside: null,
    },
    references: [],
    evidence: [],
    ...changes,
  };
}

/** A square-on round conduit of 110 mm outside without a known bore. */
export function makeCrossing(changes: Partial<Crossing> = {}): Crossing {
  const id = changes.id ?? 'mep:run';
  return {
    id,
    serviceIds: [id],
    refs: [{ fileKey: 'mep', id }],
    kind: 'conduit',
    carrierForm: null,
    section: { type: 'circle', diameterMm: 110 },
    sizeBasis: 'outside',
    boreMm: null,
    material: null,
    entryMm: [0, -100, 1000],
    exitMm: [0, 100, 1000],
    lengthMm: 200,
    skewRad: 0,
    offsetMm: [0, 0],
    carriedBy: null,
    references: [],
    systems: [],
    evidence: [],
    ...changes,
  };
}

/** One round 37 mm cable. */
export function makeCable(ref: string, changes: Partial<Cable> = {}): Cable {
  return cable(ref, {
    id: `sched:cables:${ref}`,
    place: { fileKey: 'sched', sheet: 'cables', row: 2 },
    diameterMm: 37,
    ...changes,
  });
}

export function makeMatch(
  cable: Cable,
  penetration: Penetration,
  crossingId: string | null = null,
): CableMatch {
  return {
    cableId: cable.id,
    penetrationId: penetration.id,
    crossingId,
    confidence: 1,
    reasons: ['made for a test'],
  };
}

export function makeSchedule(cables: readonly Cable[]): Schedule {
  return { cables, rows: [] };
}

export function makeMatches(matches: readonly CableMatch[]): Matches {
  return { matches, outcomes: [] };
}

/** Openings as the reference files write them: a bore, or width and height. */
export function openingOf(opening: {
  readonly bore_mm?: number;
  readonly width_mm?: number;
  readonly height_mm?: number;
}): Shape {
  if (opening.bore_mm !== undefined) return { type: 'circle', diameterMm: opening.bore_mm };
  const { width_mm: widthMm = 0, height_mm: heightMm = 0 } = opening;
  return { type: 'rectangle', widthMm, heightMm };
}
