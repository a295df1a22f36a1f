import { greatestOf } from '../../basics/extremes.ts';
import { closestBodies, closestToWall, smallestGapMm } from '../../geometry/body-gaps.ts';
import { shapeExtentMm } from '../../geometry/shape.ts';
import type { Check } from '../../model/seal.ts';
import { assessed, type CheckInput, judged, notAssessed } from './check-parts.ts';

const OWN = 'engineering rules §6, buildability';

/** Whether the seal can be made as drawn: depth of the host, gaps, separation. */
export function buildChecks(input: CheckInput): Check[] {
  return [
    depthCheck(input),
    ...gapChecks(input),
    ...touchingChecks(input),
    ...ovalChecks(input),
    ...accessChecks(input),
    ...tubeChecks(input),
    ...movedChecks(input),
    ...wetWorkChecks(input),
    ...supportChecks(input),
  ];
}

/** A tube no longer than it is wide twice neither stands nor holds; own choice. */
const SHORTEST_PER_OUTSIDE = 2;

/** Length that a tube of the range may be cut to, mm. */
function shortestMm({ lengthMm, outsideMm, cutToMm }: CheckInput['range']['fillers'][number]) {
  return Math.min(lengthMm, cutToMm ?? SHORTEST_PER_OUTSIDE * outsideMm);
}

/** The host must hold the layer of each sealed face and the fillers behind it, cut if need be. */
function depthCheck({ seal, subject, range }: CheckInput): Check {
  const name = 'depth of host';
  if (subject.thicknessMm === null) {
    const missing = ['thickness of the host'];
    return notAssessed(name, 'build', { unit: 'mm', missing, source: OWN });
  }
  const used = range.fillers.filter((tube) =>
    seal.fillerQuantities.some(({ name: tubeName }) => tubeName === tube.name),
  );
  const fillerMm = greatestOf((used.length > 0 ? used : range.fillers).map(shortestMm));
  const uncutMm = greatestOf((used.length > 0 ? used : range.fillers).map((one) => one.lengthMm));
  const leftMm = subject.thicknessMm - seal.faces * seal.setBackMm;
  const cut =
    leftMm < uncutMm && leftMm >= fillerMm
      ? `; fillers cut to ${Math.floor(leftMm + 1e-6)} mm`
      : '';
  return assessed(name, 'build', {
    value: subject.thicknessMm,
    unit: 'mm',
    limit: seal.faces * seal.setBackMm + fillerMm,
    limitIs: 'least',
    note: `${seal.faces} × set-back ${seal.setBackMm} mm + filler of at least ${fillerMm} mm${cut}`,
    source: OWN,
  });
}

function gapChecks({ seal, subject, range }: CheckInput): Check[] {
  const { arrangement } = seal;
  if (arrangement === null || subject.passing.length === 0) return [];
  // Without an arrangement there is no gap to look at, and its query says so already.
  if (arrangement.verdict !== 'fits' || seal.opening === null) return [];
  // As laid, not the largest that would be possible: the nozzle meets the one that is built.
  const gapMm = smallestGapMm(arrangement.items, seal.opening);
  if (gapMm === null) return [];
  const name = 'gap for a nozzle';
  const nozzleMm = range.nozzleMm;
  if (nozzleMm === undefined) {
    return [
      notAssessed(name, 'build', {
        unit: 'mm',
        missing: ['smallest gap the nozzle reaches into (range: nozzleMm)'],
        note: `smallest gap as laid ${gapMm.toFixed(1)} mm`,
        source: OWN,
      }),
    ];
  }
  return [
    assessed(name, 'build', {
      value: gapMm,
      unit: 'mm',
      limit: nozzleMm,
      limitIs: 'least',
      note: 'smallest gap as laid, between bodies and to the wall',
      source: OWN,
    }),
  ];
}

/** Nearer than this two bodies count as touching; own choice, no sealant flows in there. */
const TOUCHING_MM = 0.1;

/** Sealant must reach round each cable; where two touch, water runs along between them. */
function touchingChecks({ seal }: CheckInput): Check[] {
  const { arrangement } = seal;
  if (arrangement === null || arrangement.verdict !== 'fits') return [];
  const closest = closestBodies(arrangement.items);
  if (closest === null) return [];
  const isKept = seal.bodies.some(({ bundle }) => (bundle?.form ?? 'spread') !== 'spread');
  return [
    assessed('cables touching', 'build', {
      value: closest.gapMm,
      unit: 'mm',
      limit: TOUCHING_MM,
      limitIs: 'least',
      note: isKept
        ? 'bundles are kept whole by the settings: the gussets between their cables stay unsealed'
        : 'closest two as laid; sealant must reach round each',
      source: OWN,
    }),
  ];
}

/** How much narrower than round a duct may be found before a cable as laid meets its wall. */
function ovalChecks({ seal, subject, design }: CheckInput): Check[] {
  const { arrangement, opening } = seal;
  if (subject.path !== 'bore' || opening?.type !== 'circle' || arrangement === null) return [];
  const closest = closestToWall(arrangement.items, opening);
  if (arrangement.verdict !== 'fits' || closest === null) return [];
  const name = 'oval or damaged duct';
  const mostRatio = (2 * Math.max(0, closest.gapMm)) / opening.diameterMm;
  const note = `as laid, the bore may be ${(100 * mostRatio).toFixed(1)} % narrower before a cable meets the wall; measure it before cutting tubes`;
  if (design.ovalRatio === undefined) {
    const missing = ['the bore as measured, or an allowance (design.ovalRatio)'];
    return [notAssessed(name, 'build', { unit: '0–1', missing, note, source: OWN })];
  }
  return [
    assessed(name, 'build', {
      value: mostRatio,
      unit: '0–1',
      limit: design.ovalRatio,
      limitIs: 'least',
      note,
      source: 'project file, design.ovalRatio',
    }),
  ];
}

/** Faces that must be reached, where that is no matter of course. */
function accessChecks({ seal, subject }: CheckInput): Check[] {
  const isFloor = subject.hostKinds.some((kind) => kind === 'slab' || kind === 'roof');
  if (seal.faces < 2 && !isFloor) return [];
  return [
    notAssessed('access to the faces', 'build', {
      missing: [
        seal.faces >= 2
          ? 'that both faces can be reached'
          : 'which face can be reached: from above or from below',
      ],
      note: seal.faces >= 2 ? 'both faces are sealed' : null,
      source: OWN,
    }),
  ];
}

/** Fillers hold the layer up while it cures; a hole that takes none needs another support. */
function tubeChecks({ seal, range }: CheckInput): Check[] {
  const { arrangement, opening } = seal;
  if (arrangement === null || arrangement.verdict !== 'fits' || opening === null) return [];
  const tubes = arrangement.fillers.reduce(
    (count, filler) => count + filler.count + filler.split,
    0,
  );
  if (tubes > 0 || (seal.freeAreaMm2 ?? 0) === 0) return [];
  const smallestMm = Math.min(...range.fillers.map(({ outsideMm }) => outsideMm));
  return [
    judged(
      'gap for a filler',
      'build',
      false,
      `no filler is placed (smallest tube ${smallestMm} mm): the gap is too small for tubes, or the hole too large to pack with them`,
      OWN,
    ),
  ];
}

/** Below this a cable counts as left where the model shows it; own choice, a drawing's accuracy. */
const MOVED_FROM_MM = 5;
/** Bending radius over diameter. @source Engineering rules §4.4: 12 × diameter, from memory. */
const BENDING_RADIUS_RATIO = 12;

/**
 * The stiffest cable that is laid elsewhere than shown: the free length its sideways step needs.
 * @source Two arcs of radius R: √(δ (4R − δ)), engineering rules §4.4.
 */
function movedChecks({ seal, subject }: CheckInput): Check[] {
  const items = new Map((seal.arrangement?.items ?? []).map((item) => [item.ref, item]));
  const moved = subject.passing.flatMap(({ body, cable, crossing, shownAtMm, largestSizeMm }) => {
    const item = items.get(body.ref);
    const isCable = cable !== null || crossing?.kind === 'cable';
    if (!isCable || shownAtMm === null || item === undefined) return [];
    const stepMm = Math.hypot(item.xMm - shownAtMm[0], item.yMm - shownAtMm[1]);
    if (stepMm < MOVED_FROM_MM) return [];
    const radiusMm = BENDING_RADIUS_RATIO * largestSizeMm;
    const freeMm = Math.sqrt(stepMm * Math.max(0, 4 * radiusMm - stepMm));
    return [{ ref: body.ref, stepMm, freeMm }];
  });
  const [worst] = [...moved].sort((a, b) => b.freeMm - a.freeMm);
  if (worst === undefined) return [];
  return [
    notAssessed('cables moved sideways', 'build', {
      unit: 'mm',
      missing: ['free length from the seal to the next fixing'],
      note: `${moved.length} laid elsewhere than shown; ${worst.ref} steps ${Math.round(worst.stepMm)} mm sideways and needs ${Math.round(worst.freeMm)} mm free (bending radius ${BENDING_RADIUS_RATIO} × diameter, from memory)`,
      source: 'engineering rules §4.4',
    }),
  ];
}

/** What only the day of the work can tell, where water may stand against the seal. */
function wetWorkChecks({ seal }: CheckInput): Check[] {
  const wet = seal.duties.find(({ kind, headM }) => kind === 'water' && (headM ?? 1) > 0);
  if (wet === undefined) return [];
  return [
    notAssessed('dry when sealed', 'build', {
      missing: ['that no water runs while the seal is made and cures'],
      note: 'the hole is dry and clean before sealing; running water needs a different solution',
      source: 'common practice, no source',
    }),
  ];
}

/** Widest span that fire-stopping may bridge without support. */
const FREE_SPAN_MM = 100;

/**
 * Fire-stopping over a wide span is reinforced or supported, unless a test proved it without.
 * @source National fire code, clause 3.12.3: unsupported spans above 100 mm.
 */
function supportChecks({ seal }: CheckInput): Check[] {
  const isFire = seal.duties.some(({ kind }) => kind === 'fire');
  if (!isFire || seal.opening === null) return [];
  const { widthMm, heightMm } = shapeExtentMm(seal.opening);
  const spanMm = Math.min(widthMm, heightMm);
  if (spanMm <= FREE_SPAN_MM) return [];
  return [
    notAssessed('support of fire-stopping', 'build', {
      unit: 'mm',
      missing: ['that the layer is held, or was tested without support, over this span'],
      note: `the hole is ${Math.round(spanMm)} mm across; above ${FREE_SPAN_MM} mm support is asked for`,
      source: 'national fire code, 3.12.3',
    }),
  ];
}
