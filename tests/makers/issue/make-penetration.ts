import type { Crossing, Penetration } from '../../../src/model/penetration.ts';

/** A run square through the host at an offset; `changes` replace what the test is about. */
export function makeCrossing(id: string, changes: Partial<Crossing> = {}): Crossing {
  return {
    id,
    serviceIds: [`arch:${id}`],
    refs: [{ fileKey: 'services', id }],
    kind: 'duct',
    carrierForm: null,
    section: { type: 'circle', diameterMm: 110 },
    sizeBasis: 'outside',
    boreMm: 103.6,
    material: 'PVC',
    entryMm: [0, -100, 0],
    exitMm: [0, 100, 0],
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

/** A wall 200 mm thick with a round opening of 150 mm; `changes` replace what the test is about. */
export function makePenetration(id: string, changes: Partial<Penetration> = {}): Penetration {
  return {
    id,
    kind: 'opening',
    frame: { originMm: [1000, 0, 1500], axis: [0, 1, 0], right: [1, 0, 0], up: [0, 0, 1] },
    hosts: [
      {
        id: 'arch:host',
        ref: { fileKey: 'arch', id: '0host0000000000000001' },
        kind: 'wall',
        name: 'W-01',
        thicknessMm: 200,
        material: 'concrete',
        fireRating: 'EI 120',
        isExternal: true,
        isLoadBearing: true,
      },
    ],
    thicknessMm: 200,
    openings: [
      {
        id: `arch:${id}-opening`,
        ref: { fileKey: 'arch', id: `${id}-opening` },
        kind: 'opening',
        name: '',
      },
    ],
    crossings: [],
    shape: { type: 'circle', diameterMm: 150 },
    where: {
      level: 'Level 01',
      levelElevationMm: 0,
      heightAboveLevelMm: 1500,
      grid: 'B/3 +1200 −350',
      spaces: { near: 'Plant room', far: 'Yard' },
      outside: 'far',
    },
    references: [],
    evidence: [],
    ...changes,
  };
}
