import type { DrawnHole } from '../../samples/make/drawn-truth.ts';
import type { ComparablePenetration, ComparableResult } from './compare-with-truth.ts';

/** A symbol or an edge may stand for the middle of what passes: how far that may be off. */
const REACH_MM = 60;

/**
 * In what a run on drawings alone differs from what a person reads out of them. Both edges of a
 * tray are one tray, and one hole may take several services.
 */
export function compareDrawn(
  result: Pick<ComparableResult, 'penetrations'>,
  holes: readonly DrawnHole[],
): readonly string[] {
  const used = new Set<ComparablePenetration>();
  const differences = holes.flatMap((hole) => {
    const near = result.penetrations.filter(
      (each) => distanceTo(hole, each) <= reachOf(hole, each),
    );
    for (const each of near) used.add(each);
    const [first] = near;
    if (first === undefined) return [`${hole.name}: not found`];
    const sizes = near.flatMap(({ services }) => services.map(({ sizeMm }) => sizeMm));
    return [
      ...(sizes.some((size) => isSameSize(size, hole.sizeMm))
        ? []
        : [`${hole.name}: measures ${sizes.map((size) => size.join(' × ')).join(' or ')}`]),
      ...(hole.shape === null || near.some(({ shape }) => isSameShape(shape, hole.shape))
        ? []
        : [`${hole.name}: shape is ${JSON.stringify(first.shape)}`]),
    ];
  });
  const invented = result.penetrations.filter((each) => !used.has(each));
  const counts = {
    plan: holes.filter((hole) => hole.view === 'plan').length,
    section: holes.filter((hole) => hole.view === 'section').length,
  };
  return [
    ...differences,
    ...invented.map((each) => `${each.tag}: no hole is drawn at ${each.centreMm.join(', ')}`),
    ...(result.penetrations.length > counts.plan + counts.section
      ? [`${result.penetrations.length} penetrations for ${counts.plan + counts.section} holes`]
      : []),
  ];
}

/** Several services in one hole spread its middle away from each of them. */
function reachOf(hole: DrawnHole, penetration: ComparablePenetration): number {
  return penetration.services.length > 1 && hole.view === 'plan' ? 250 : REACH_MM;
}

function distanceTo(hole: DrawnHole, { centreMm }: ComparablePenetration): number {
  const [x, y, z] = hole.atMm;
  const flat = Math.hypot(centreMm[0] - x, centreMm[1] - y);
  return hole.view === 'plan' ? flat : Math.hypot(centreMm[0] - x, centreMm[2] - z);
}

function isSameSize(a: readonly number[], b: readonly number[]): boolean {
  return a.length === b.length && a.every((size, index) => Math.abs(size - (b[index] ?? 0)) <= 1);
}

function isSameShape(
  actual: ComparablePenetration['shape'],
  expected: DrawnHole['shape'],
): boolean {
  if (actual === null || expected === null) return actual === expected;
  return Object.entries(expected).every(([key, value]) => actual[key] === value);
}
