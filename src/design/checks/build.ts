import { greatestOf } from '../../basics/extremes.ts';
import { smallestGapMm } from '../../geometry/body-gaps.ts';
import { shapeExtentMm } from '../../geometry/shape.ts';
import type { Check } from '../../model/seal.ts';
import { assessed, type CheckInput, judged, notAssessed } from './check-parts.ts';

const OWN = 'engineering rules §6, buildability';

/** Whether the seal can be made as drawn: depth of the host, gaps, separation. */
export function buildChecks(input: CheckInput): Check[] {
  return [
    depthCheck(input),
    ...gapChecks(input),
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
      missing: ['that no water runs while the seal is made and cures', 'which face can be reached'],
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
