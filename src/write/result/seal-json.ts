import { smallestGapMm } from '../../geometry/body-gaps.ts';
import type { Shape } from '../../geometry/shape.ts';
import type { Vec2 } from '../../geometry/vec.ts';
import type { PlacedBody } from '../../model/arrangement.ts';
import type { SealJson, ShapeJson } from '../../model/result.ts';
import type { Check, FillerQuantity, Seal, SealantQuantity, SealStage } from '../../model/seal.ts';

/** Places of coordinates and of bodies: a reader that measures the gaps again must find them. */
const COORDINATE_PLACES = 9;
/** Places of gaps: rounded down, so that none is said to be larger than it is. */
const GAP_PLACES = 6;
const SIZE_PLACES = 3;
const AMOUNT_PLACES = 2;
const RATIO_PLACES = 6;

/** Rounds to decimal places. */
export function rounded(value: number, places: number): number {
  const factor = 10 ** places;
  const result = Math.round(value * factor) / factor;
  if (!Number.isFinite(result)) return 0;
  return result === 0 ? 0 : result;
}

function roundedOrNull(value: number | null, places: number): number | null {
  return value === null || !Number.isFinite(value) ? null : rounded(value, places);
}

/** Rounds down to decimal places: for what must not be said to be larger than it is. */
function roundedDown(value: number, places: number): number {
  const factor = 10 ** places;
  return rounded(Math.floor(value * factor) / factor, places);
}

const gap = (value: number | null) =>
  value === null || !Number.isFinite(value) ? null : roundedDown(value, GAP_PLACES);
const exact = (value: number) => rounded(value, COORDINATE_PLACES);
const size = (value: number) => rounded(value, SIZE_PLACES);
const sizeOrNull = (value: number | null) => roundedOrNull(value, SIZE_PLACES);
const point = ([x, y]: Vec2): [number, number] => [
  rounded(x, COORDINATE_PLACES),
  rounded(y, COORDINATE_PLACES),
];

/**
 * A seal in the shape that `sealbook size --json` prints and result.json holds. `of` is given as
 * the seal has it; `buildResult` puts the service's own id there. Lengths mm to 0.001, coordinates
 * to 0.000000001, gaps rounded down to 0.000001, areas and volumes to 0.01, ratios 0–1 to 0.000001.
 */
export function sealJson(seal: Seal): SealJson {
  return {
    id: seal.id,
    path: seal.path,
    of: seal.of,
    state: seal.state,
    reason: seal.reason,
    opening: seal.opening === null ? null : shapeJson(seal.opening),
    openingBasis: seal.openingBasis,
    arrangement: arrangementJson(seal),
    fillers: seal.fillers.map((filler) => ({
      name: filler.name,
      outsideMm: size(filler.outsideMm),
      boreMm: size(filler.boreMm),
      count: filler.count,
      split: filler.split,
      positions: filler.positionsMm.map(point),
    })),
    spare:
      seal.spare === null
        ? null
        : {
            emptyTubes: seal.spare.emptyTubes,
            largestThroughTubeMm: sizeOrNull(seal.spare.largestThroughTubeMm),
            largestExtraFixedMm: roundedDown(seal.spare.largestExtraFixedMm, SIZE_PLACES),
            largestExtraMovableMm: roundedDown(seal.spare.largestExtraMovableMm, SIZE_PLACES),
            policyMore: seal.spare.policyMore,
          },
    fillerQuantities: seal.fillerQuantities.map(fillerJson),
    ...(seal.stages === undefined ? {} : { stages: seal.stages.map(stageJson) }),
    ...(seal.hole === undefined ? {} : { hole: { ...seal.hole } }),
    setBackMm: size(seal.setBackMm),
    faces: seal.faces,
    freeAreaMm2: roundedOrNull(seal.freeAreaMm2, AMOUNT_PLACES),
    fillRatio: roundedOrNull(seal.fillRatio, RATIO_PLACES),
    sealant: seal.sealant === null ? null : sealantJson(seal.sealant),
    duties: seal.duties.map((duty) => ({ ...duty })),
    checks: seal.checks.map(checkJson),
    remedies: (seal.remedies ?? []).map((remedy) => ({ ...remedy })),
    typeKey: seal.typeKey,
  };
}

function arrangementJson(seal: Seal): SealJson['arrangement'] {
  const { arrangement } = seal;
  if (arrangement === null) return null;
  return {
    verdict: arrangement.verdict,
    proof: arrangement.proof,
    separationMm: size(arrangement.separationMm),
    edgeMm: size(arrangement.edgeMm),
    gapMm: gap(arrangement.gapMm),
    gapBoundMm: roundedOrNull(arrangement.gapBoundMm, COORDINATE_PLACES),
    laidGapMm: seal.opening === null ? null : gap(smallestGapMm(arrangement.items, seal.opening)),
    items: arrangement.items.map(itemJson),
    ...(arrangement.gapItems === undefined ? {} : { gapItems: arrangement.gapItems.map(itemJson) }),
    coveredRatio: rounded(arrangement.coveredRatio, RATIO_PLACES),
  };
}

function itemJson(item: PlacedBody) {
  const [xMm, yMm] = point([item.xMm, item.yMm]);
  const { outline } = item;
  const tube =
    item.tube === null ? null : { name: item.tube.name, outsideMm: exact(item.tube.outsideMm) };
  return outline.type === 'circle'
    ? { ref: item.ref, xMm, yMm, diameterMm: exact(outline.diameterMm), tube }
    : {
        ref: item.ref,
        xMm,
        yMm,
        diameterMm: null,
        widthMm: exact(outline.widthMm),
        heightMm: exact(outline.heightMm),
        angleRad: rounded(item.angleRad, COORDINATE_PLACES),
        tube,
      };
}

function fillerJson({ name, whole, split, lengthMm, sets }: FillerQuantity) {
  return { name, whole, split, lengthMm: size(lengthMm), sets };
}

function sealantJson(sealant: SealantQuantity): NonNullable<SealJson['sealant']> {
  return {
    name: sealant.name,
    perFaceMl: rounded(sealant.perFaceMl, AMOUNT_PLACES),
    faces: sealant.faces,
    netMl: rounded(sealant.netMl, AMOUNT_PLACES),
    withAllowancesMl: rounded(sealant.withAllowancesMl, AMOUNT_PLACES),
    containers: sealant.containers.map(({ sizeMl, count }) => ({ sizeMl, count })),
  };
}

function stageJson(stage: SealStage) {
  return {
    name: stage.name,
    comes: [...stage.comes],
    refs: [...stage.refs],
    fillerQuantities: stage.fillerQuantities.map(fillerJson),
    freeAreaMm2: rounded(stage.freeAreaMm2, AMOUNT_PLACES),
    fillRatio: rounded(stage.fillRatio, RATIO_PLACES),
    sealant: sealantJson(stage.sealant),
    emptyTubes: stage.spare?.emptyTubes ?? null,
    checks: stage.checks.map(checkJson),
  };
}

function checkJson(check: Check): SealJson['checks'][number] {
  return {
    name: check.name,
    subject: check.subject,
    value: roundedOrNull(check.value, RATIO_PLACES),
    unit: check.unit,
    limit: roundedOrNull(check.limit, RATIO_PLACES),
    ratio: roundedOrNull(check.ratio, RATIO_PLACES),
    verdict: check.verdict,
    missing: [...check.missing],
    note: check.note,
    source: check.source,
  };
}

/** An outline in its section frame, sizes to 0.001 mm. */
export function shapeJson(shape: Shape): ShapeJson {
  switch (shape.type) {
    case 'circle':
      return { type: 'circle', diameterMm: size(shape.diameterMm) };
    case 'rectangle':
      return {
        type: 'rectangle',
        widthMm: size(shape.widthMm),
        heightMm: size(shape.heightMm),
      };
    case 'slot':
    case 'oval':
      return { type: shape.type, lengthMm: size(shape.lengthMm), widthMm: size(shape.widthMm) };
    case 'polygon':
      return {
        type: 'polygon',
        pointsMm: shape.pointsMm.map(point),
        ...(shape.islandsMm === undefined
          ? {}
          : { islandsMm: shape.islandsMm.map((island) => island.map(point)) }),
      };
  }
}
