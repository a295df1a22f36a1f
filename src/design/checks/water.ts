import { shapeExtentMm } from '../../geometry/shape.ts';
import type { Sealant } from '../../model/range.ts';
import type { Check, Duty } from '../../model/seal.ts';
import { pressureKPa, waterLoad } from '../hydrostatics.ts';
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
  return worst.headM === 0 ? [] : loadedChecks(input, worst, worst.headM);
}

/** The duty with the highest head; one of unknown head only where no other has one. */
export function worstWater(duties: readonly Duty[]): Duty {
  return duties.reduce((worst, duty) => ((duty.headM ?? -1) > (worst.headM ?? -1) ? duty : worst));
}

/** Water on the opening of a seal: uniform where the head was given as a figure. */
export function waterOnSeal(
  opening: NonNullable<CheckInput['seal']['opening']>,
  duty: Duty,
  headM: number,
  slope: number,
) {
  if (duty.headIs === 'from level') {
    const headAtOriginM = headM - (shapeExtentMm(opening).heightMm / 2 / 1000) * slope;
    return waterLoad(opening, headAtOriginM, slope);
  }
  return waterLoad(opening, headM, 0);
}

function loadedChecks(input: CheckInput, duty: Duty, headM: number): Check[] {
  const { seal, subject } = input;
  const { opening } = seal;
  if (opening === null) return [];
  const slope = Math.min(1, Math.abs(subject.penetration?.frame.up[2] ?? 1));
  const load = waterOnSeal(opening, duty, headM, slope);
  const depthMm = seal.setBackMm;
  const wallMm = shapePerimeterMm(opening);
  const cablesMm = subject.passing.reduce((mm, { body }) => mm + bodyPerimeterMm(body.outline), 0);
  // kPa is N over mm² times 1000.
  const wallShearKPa = (load.thrustN / (depthMm * wallMm)) * 1000;
  const freeShare = seal.freeAreaMm2 === null ? 1 : seal.freeAreaMm2 / areaOf(input);
  const sharedShearKPa = ((load.thrustN * freeShare) / (depthMm * (wallMm + cablesMm))) * 1000;
  const how = duty.headIs === 'from level' ? 'from the water level' : 'uniform head';
  const centre =
    load.centreBelowOriginMm === null
      ? ''
      : `; acts ${load.centreBelowOriginMm.toFixed(2)} mm below the centre`;
  return [
    figure(
      'water pressure',
      pressureKPa(headM),
      'kPa',
      `${headM.toFixed(2)} m at the lowest point, ${how}; ${duty.reason}`,
    ),
    figure(
      'water thrust',
      load.thrustN,
      'N',
      `on ${Math.round(load.submergedAreaMm2)} mm² of the whole opening${centre}`,
    ),
    bondCheck(input, duty, wallShearKPa, sharedShearKPa),
  ];
}

function areaOf({ seal, subject }: CheckInput): number {
  const passing = subject.passing.reduce((mm2, item) => mm2 + item.smallestAreaMm2, 0);
  return (seal.freeAreaMm2 ?? 0) + passing;
}

/** A figure the bond check rests on; it has no limit of its own. */
function figure(name: string, value: number, unit: string, note: string): Check {
  return notAssessed(name, 'water', {
    value,
    unit,
    missing: ['no limit of its own: see the bond shear and the evidence'],
    note,
    source: HYDROSTATICS,
  });
}

function bondCheck(
  { seal, subject, range }: CheckInput,
  duty: Duty,
  wallShearKPa: number,
  sharedShearKPa: number,
): Check {
  const name = 'bond shear under water';
  const shared = `${sharedShearKPa.toFixed(1)} kPa if the cables were anchored and shared it (thrust on the free area over wall and cables); the wall alone decides`;
  const sealant =
    range.sealants.find((one) => one.name === seal.sealant?.name) ?? range.sealants[0];
  const allowable =
    sealant === undefined ? null : lowestAllowable(sealant, subject.substrate, duty);
  if (allowable === null) {
    return notAssessed(name, 'water', {
      value: wallShearKPa,
      unit: 'kPa',
      missing: [
        `an allowable bond of the sealant on ${subject.substrate ?? 'the substrate (not known)'}, wet, lasting`,
      ],
      note: shared,
      source: CONVENTION,
    });
  }
  return assessed(name, 'water', {
    value: wallShearKPa,
    unit: 'kPa',
    limit: allowable.shearKPa,
    limitIs: 'most',
    note: `${shared}; allowable on ${allowable.substrate}, ${allowable.condition}, ${allowable.duration}, ${allowable.direction}, factor ${allowable.factor} already in it (${allowable.source})`,
    source: CONVENTION,
  });
}

/**
 * The lowest allowable that covers the case: the substrate named or any, wet, lasting, in both
 * directions, because water may push the layer against the fillers or off the face. Null when one
 * direction has none.
 */
export function lowestAllowable(
  sealant: Sealant,
  substrate: string | null,
  _duty: Duty,
): Sealant['bond'][number] | null {
  const material = (substrate ?? '').toLowerCase();
  const rows = sealant.bond.filter(
    (row) =>
      (row.substrate.toLowerCase() === 'any' ||
        (material !== '' && material.includes(row.substrate.toLowerCase()))) &&
      row.condition !== 'dry' &&
      row.duration !== 'short',
  );
  const directions = ['against fillers', 'off the face'] as const;
  const worstOfEach = directions.map((direction) =>
    rows
      .filter((row) => row.direction === direction || row.direction === 'any')
      .reduce<Sealant['bond'][number] | null>(
        (low, row) => (low === null || row.shearKPa < low.shearKPa ? row : low),
        null,
      ),
  );
  if (worstOfEach.some((row) => row === null)) return null;
  return worstOfEach.reduce((low, row) =>
    low !== null && row !== null && row.shearKPa < low.shearKPa ? row : low,
  );
}
