import { greatestOf } from '../../basics/extremes.ts';
import { depthBelowOriginMm, type Shape, shapeAreaMm2 } from '../../geometry/shape.ts';
import type { Sealant } from '../../model/range.ts';
import type { Check, Duty } from '../../model/seal.ts';
import { pressureKPa, type WaterLoad, waterLoad } from '../hydrostatics.ts';
import { bodyPerimeterMm, shapePerimeterMm } from '../outline-measures.ts';
import { assessed, type CheckInput, notAssessed } from './check-parts.ts';

const HYDROSTATICS = 'hydrostatics, p = ρ g h, ρ = 1000 kg/m³, g = 9.81 m/s²';
const CONVENTION =
  'thrust on the whole opening over depth × perimeter of the wall alone (cautious convention)';

/** Pressure, thrust, centre of pressure and bond shear for the worst water duty of the seal. */
export function waterChecks(input: CheckInput): Check[] {
  const duties = input.seal.duties.filter(({ kind }) => kind === 'water');
  if (duties.length === 0 || input.seal.opening === null) return [];
  const worst = worstWater(duties);
  if (worst.headM === null) {
    return [
      notAssessed('water pressure', 'water', {
        unit: 'kPa',
        missing: ['water level or head'],
        note: worst.reason,
        source: HYDROSTATICS,
      }),
    ];
  }
  return worst.headM === 0
    ? []
    : [...loadedChecks(input, worst, worst.headM), ...faceCheck(input, worst)];
}

/** Which face must be sealed, where one is; the work on site settles it. */
function faceCheck({ seal, isWetFaceSealed: isSaid = false }: CheckInput, { side }: Duty): Check[] {
  if (seal.faces > 1 || isSaid) return [];
  const missing =
    side === null
      ? ['which side the water comes from', 'which face can be reached']
      : [`that the ${side} face can be reached and is the one that is sealed`];
  const note =
    side === null
      ? 'the face towards the water must be sealed; until it is named, the worse direction counts'
      : `the water comes from the ${side} side: the ${side} face must be sealed`;
  return [
    notAssessed('face to be sealed', 'water', {
      missing,
      note,
      source: 'engineering rules §6, water: which face must be sealed',
    }),
  ];
}

/** The duty with the highest head; one of unknown head only where no other has one. */
function worstWater(duties: readonly Duty[]): Duty {
  return duties.reduce((worst, duty) => ((duty.headM ?? -1) > (worst.headM ?? -1) ? duty : worst));
}

/** Water on the opening of a seal: uniform where the head was given as a figure. */
function waterOnSeal(input: CheckInput, opening: Shape, duty: Duty, headM: number): WaterLoad {
  if (duty.headIs !== 'from level') return waterLoad(opening, headM, 0);
  const slope = slopeOf(input.subject);
  const fromLowestM = headM - (depthBelowOriginMm(opening) / 1000) * slope;
  return waterLoad(opening, headFromLevelM(input, duty) ?? fromLowestM, slope);
}

/** 1 for an opening that stands upright, 0 for one that lies level. */
function slopeOf({ penetration, hostKinds }: CheckInput['subject']): number {
  if (penetration !== null) return Math.min(1, Math.abs(penetration.frame.up[2]));
  const isFloor = (kind: string) => kind === 'slab' || kind === 'roof';
  return hostKinds.length > 0 && hostKinds.every(isFloor) ? 0 : 1;
}

/**
 * Head at the middle of this very opening, m: a bore lies elsewhere than the hole round it. Through
 * a slab at its underside, where the head is largest. Null where no level is known.
 */
function headFromLevelM({ subject }: CheckInput, { waterLevelMm }: Duty): number | null {
  const { penetration, hollow } = subject;
  if (waterLevelMm === undefined || penetration === null) return null;
  const { originMm, right, up, axis } = penetration.frame;
  const [x, y] = hollow?.offsetMm ?? [0, 0];
  const belowMm = (Math.abs(axis[2]) * penetration.thicknessMm) / 2;
  return (waterLevelMm - (originMm[2] + x * right[2] + y * up[2] - belowMm)) / 1000;
}

function loadedChecks(input: CheckInput, duty: Duty, headM: number): Check[] {
  const { seal, subject } = input;
  const { opening } = seal;
  if (opening === null) return [];
  const load = waterOnSeal(input, opening, duty, headM);
  if (load.submergedAreaMm2 === 0) return [];
  const depthMm = seal.setBackMm;
  const wallMm = shapePerimeterMm(opening);
  const cablesMm = subject.passing.reduce((mm, { body }) => mm + bodyPerimeterMm(body.outline), 0);
  // kPa is N over mm² times 1000.
  const wallShearKPa = (load.thrustN / (depthMm * wallMm)) * 1000;
  const freeShare = seal.freeAreaMm2 === null ? 1 : seal.freeAreaMm2 / shapeAreaMm2(opening);
  const sharedShearKPa = ((load.thrustN * freeShare) / (depthMm * (wallMm + cablesMm))) * 1000;
  const how = duty.headIs === 'from level' ? 'from the water level' : 'uniform head';
  const centre =
    load.centreBelowOriginMm === null
      ? ''
      : `; acts ${load.centreBelowOriginMm.toFixed(2)} mm below the centre`;
  const allowable = allowableFor(input);
  const mostN = allowable === null ? null : (allowable.shearKPa * depthMm * wallMm) / 1000;
  return [
    pressureCheck(input, duty, load.peakPressureKPa, how),
    thrustCheck(
      load.thrustN,
      mostN,
      `on ${Math.round(load.submergedAreaMm2)} mm² of the whole opening${centre}`,
      subject.substrate,
    ),
    bondCheck(input, wallShearKPa, sharedShearKPa, allowable),
  ];
}

/** Pressure at the lowest point against the highest that any water record was tested to. */
function pressureCheck({ range }: CheckInput, duty: Duty, peakKPa: number, how: string): Check {
  const name = 'water pressure';
  const headM = peakKPa / pressureKPa(1);
  const note = `${headM.toFixed(2)} m at the lowest point, ${how}; ${duty.reason}`;
  const testedM = range.records.flatMap(({ duty: kind, largestHeadM }) =>
    kind === 'water' && largestHeadM !== undefined ? [largestHeadM] : [],
  );
  if (testedM.length === 0) {
    return notAssessed(name, 'water', {
      unit: 'kPa',
      missing: ['a water record with the head it was tested to'],
      note: `${peakKPa.toFixed(2)} kPa; ${note}`,
      source: HYDROSTATICS,
    });
  }
  return assessed(name, 'water', {
    value: peakKPa,
    unit: 'kPa',
    limit: pressureKPa(greatestOf(testedM)),
    limitIs: 'most',
    note: `${note}; limit: highest head of any water record of the range`,
    source: HYDROSTATICS,
  });
}

function thrustCheck(
  thrustN: number,
  mostN: number | null,
  where: string,
  substrate: string | null,
): Check {
  const name = 'water thrust';
  if (mostN === null) {
    return notAssessed(name, 'water', {
      unit: 'N',
      missing: [missingBond(substrate)],
      note: `${thrustN.toFixed(1)} N ${where}`,
      source: HYDROSTATICS,
    });
  }
  return assessed(name, 'water', {
    value: thrustN,
    unit: 'N',
    limit: mostN,
    limitIs: 'most',
    note: `${where}; limit: allowable bond on depth × perimeter of the wall alone`,
    source: HYDROSTATICS,
  });
}

function allowableFor(input: CheckInput) {
  const { seal, subject, range } = input;
  const sealant =
    range.sealants.find((one) => one.name === seal.sealant?.name) ?? range.sealants[0];
  return sealant === undefined
    ? null
    : lowestAllowable(sealant, subject.substrate, isWetFaceSealed(input));
}

/** With both faces sealed the wet one is among them. */
function isWetFaceSealed({ seal, isWetFaceSealed: isSaid = false }: CheckInput): boolean {
  return isSaid || seal.faces === 2;
}

function sealedFace(input: CheckInput): string {
  return isWetFaceSealed(input)
    ? 'the face the water comes from is sealed: pushed against the fillers'
    : 'which face is sealed is not fixed, so the worse direction counts';
}

function missingBond(substrate: string | null): string {
  return `an allowable bond of the sealant on ${substrate ?? 'the substrate (not known)'}, wet, lasting`;
}

function bondCheck(
  input: CheckInput,
  wallShearKPa: number,
  sharedShearKPa: number,
  allowable: Sealant['bond'][number] | null,
): Check {
  const name = 'bond shear under water';
  const shared = `${sharedShearKPa.toFixed(1)} kPa if the cables were anchored and shared it (thrust on the free area over wall and cables); the wall alone decides`;
  if (allowable === null) {
    return notAssessed(name, 'water', {
      unit: 'kPa',
      missing: [missingBond(input.subject.substrate)],
      note: `${wallShearKPa.toFixed(2)} kPa on the wall alone; ${shared}`,
      source: CONVENTION,
    });
  }
  return assessed(name, 'water', {
    value: wallShearKPa,
    unit: 'kPa',
    limit: allowable.shearKPa,
    limitIs: 'most',
    note: `${shared}; ${sealedFace(input)}; allowable on ${allowable.substrate}, ${allowable.condition}, ${allowable.duration}, ${allowable.direction}, factor ${allowable.factor} already in it (${allowable.source})`,
    source: CONVENTION,
  });
}

/**
 * The lowest allowable that covers the case: the substrate named or any, wet, lasting. Where the
 * face that the water comes from is sealed, the layer is pushed against its fillers; else it may
 * be pushed off the face as well, and the worse direction counts. Null when a direction that
 * counts has none.
 */
function lowestAllowable(
  sealant: Sealant,
  substrate: string | null,
  isWetFaceSealed: boolean,
): Sealant['bond'][number] | null {
  const material = (substrate ?? '').toLowerCase();
  const rows = sealant.bond.filter(
    (row) =>
      (row.substrate.toLowerCase() === 'any' ||
        (material !== '' && material.includes(row.substrate.toLowerCase()))) &&
      row.condition !== 'dry' &&
      row.duration !== 'short',
  );
  // A row for the substrate itself says more than one for any.
  const named = rows.filter((row) => row.substrate.toLowerCase() !== 'any');
  const directions = DIRECTIONS.filter((one) => !isWetFaceSealed || one === 'against fillers');
  const worstOfEach = directions.map(
    (direction) => weakest(named, direction) ?? weakest(rows, direction),
  );
  return (
    worstOfEach.reduce((low, row) =>
      low === null || row === null ? null : row.shearKPa < low.shearKPa ? row : low,
    ) ?? null
  );
}

const DIRECTIONS = ['against fillers', 'off the face'] as const;

function weakest(
  rows: Sealant['bond'],
  direction: (typeof DIRECTIONS)[number],
): Sealant['bond'][number] | null {
  return rows
    .filter((row) => row.direction === direction || row.direction === 'any')
    .reduce<Sealant['bond'][number] | null>(
      (low, row) => (low === null || row.shearKPa < low.shearKPa ? row : low),
      null,
    );
}
