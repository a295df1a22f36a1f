import type { Shape } from '../../../src/geometry/shape.ts';
import { shapeAreaMm2 } from '../../../src/geometry/shape.ts';
import type {
  Arrangement,
  Body,
  PlacedBody,
  PlacedFiller,
} from '../../../src/model/arrangement.ts';
import type { Seal } from '../../../src/model/seal.ts';

export interface RoundBody {
  readonly ref: string;
  readonly xMm: number;
  readonly yMm: number;
  readonly diameterMm: number;
  readonly tubeMm?: number;
}

export function placed(body: RoundBody): PlacedBody {
  return {
    ref: body.ref,
    xMm: body.xMm,
    yMm: body.yMm,
    outline: { type: 'circle', diameterMm: body.diameterMm },
    angleRad: 0,
    tube:
      body.tubeMm === undefined ? null : { name: `${body.tubeMm} tube`, outsideMm: body.tubeMm },
  };
}

/** An arrangement as given; nothing is worked out, so that a test knows what it put in. */
function makeArrangement(
  items: readonly PlacedBody[],
  fillers: readonly PlacedFiller[] = [],
  gapMm = 4,
): Arrangement {
  return {
    verdict: 'fits',
    proof: 'every pair and every wall distance measured',
    separationMm: 4,
    edgeMm: 4,
    gapMm,
    gapBoundMm: null,
    items,
    fillers,
    spare: {
      emptyTubes: fillers.reduce((total, filler) => total + filler.count, 0),
      largestThroughTubeMm: fillers[0] === undefined ? null : fillers[0].boreMm - 2,
      largestExtraFixedMm: 20.1,
      largestExtraMovableMm: 24.4,
      policyMore: 2,
    },
    coveredRatio: 0.6,
  };
}

/** A designed seal; `changes` replace what the test is about. */
export function makeSeal(
  opening: Shape,
  items: readonly PlacedBody[],
  changes: Partial<Seal> = {},
): Seal {
  const fillers = changes.fillers ?? [];
  const areaMm2 = shapeAreaMm2(opening);
  const passing = items.reduce(
    (total, { outline }) =>
      total +
      (outline.type === 'circle'
        ? (Math.PI * outline.diameterMm ** 2) / 4
        : outline.widthMm * outline.heightMm),
    0,
  );
  const arrangement = makeArrangement(items, fillers);
  const netMl = ((areaMm2 - passing) * 20) / 1000;
  return {
    id: 'p/annulus',
    penetrationId: 'p',
    path: 'annulus',
    of: null,
    state: 'designed',
    reason: null,
    opening,
    openingBasis: 'as found',
    bodies: items.map((item): Body => ({ ref: item.ref, outline: item.outline })),
    arrangement,
    fillers,
    fillerQuantities: fillers.map((filler) => ({
      name: filler.name,
      whole: filler.count,
      split: filler.split,
      lengthMm: 100,
      sets: 1,
    })),
    spare: arrangement.spare,
    freeAreaMm2: areaMm2 - passing,
    fillRatio: passing / areaMm2,
    setBackMm: 20,
    faces: 1,
    sealant: {
      name: 'Sample sealant',
      perFaceMl: netMl,
      faces: 1,
      netMl,
      withAllowancesMl: netMl * 1.21,
      containers: [{ sizeMl: 310, count: Math.ceil((netMl * 1.21) / 310) }],
    },
    duties: [],
    checks: [],
    typeKey: 'type',
    ...changes,
  };
}

/** Tubes on a square grid inside a circle or rectangle, clear of the bodies. */
export function gridFillers(
  opening: Shape,
  items: readonly PlacedBody[],
  sizes: readonly { name: string; outsideMm: number; boreMm: number }[],
): PlacedFiller[] {
  const taken = items.map((item) => ({
    x: item.xMm,
    y: item.yMm,
    r:
      item.tube !== null
        ? item.tube.outsideMm / 2
        : item.outline.type === 'circle'
          ? item.outline.diameterMm / 2
          : Math.hypot(item.outline.widthMm, item.outline.heightMm) / 2,
  }));
  return sizes.map(({ name, outsideMm, boreMm }) => {
    const positionsMm: [number, number][] = [];
    const r = outsideMm / 2;
    for (let y = -400; y <= 400; y += outsideMm * 0.5) {
      for (let x = -600; x <= 600; x += outsideMm * 0.25) {
        const inside =
          opening.type === 'circle'
            ? Math.hypot(x, y) + r <= opening.diameterMm / 2
            : opening.type === 'rectangle' &&
              Math.abs(x) + r <= opening.widthMm / 2 &&
              Math.abs(y) + r <= opening.heightMm / 2;
        if (!inside) continue;
        if (taken.some((each) => Math.hypot(each.x - x, each.y - y) < each.r + r)) continue;
        taken.push({ x, y, r });
        positionsMm.push([x, y]);
      }
    }
    const split = items.filter((item) => item.tube?.name === name).length;
    return { name, outsideMm, boreMm, count: positionsMm.length, split, positionsMm };
  });
}
