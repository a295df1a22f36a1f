import type { Shape } from '../../geometry/shape.ts';
import { tidyMm } from '../../geometry/tidy-shape.ts';
import {
  add3,
  cross3,
  distance3,
  dot3,
  length3,
  scale3,
  sub3,
  unit3,
  type Vec3,
} from '../../geometry/vec.ts';
import type { Section } from '../../model/building.ts';
import type { Sweep } from './sweeps.ts';

/** What a body says of a service: centre line, section and bore. */
export interface ServiceForm {
  readonly axisMm: readonly Vec3[] | null;
  readonly upDirection: Vec3 | null;
  readonly section: Section | null;
  readonly boreMm: number | null;
  readonly how: string;
  /** Whether the section is that of a jacket round the service's own body. */
  readonly hasJacket?: boolean;
}

const NO_FORM: ServiceForm = {
  axisMm: null,
  upDirection: null,
  section: null,
  boreMm: null,
  how: 'nothing',
};

/** A body must run along with this part of the longest one to be a part of the whole section. */
const ALONGSIDE_RATIO = 0.5;
/** Centre lines this near are one, mm. */
const COAXIAL_MM = 1;

/**
 * Centre line and section from swept bodies. Of several the longest tells the path. Those that run
 * along with it make the section together: a jacket round it its outside, rails and plates beside it
 * (a ladder, a tray of sheets) the box round all. Short ones (flanges, rungs) don't count.
 */
export function formFromSweeps(sweeps: readonly Sweep[]): ServiceForm {
  const longest = mostBy(sweeps, (sweep) => pathLength(sweep.pathMm));
  if (longest === null) return NO_FORM;
  if (sweeps.length === 1) return { ...formOf(longest), how: 'its swept body' };
  const along = directionOf(longest);
  const alongside = sweeps.filter(
    (sweep) =>
      sweep !== longest &&
      pathLength(sweep.pathMm) >= ALONGSIDE_RATIO * pathLength(longest.pathMm) &&
      isAlong(along, directionOf(sweep)),
  );
  const form = formOf(longest);
  if (alongside.length === 0) return { ...form, how: 'its swept body' };
  const beside = alongside.filter((sweep) => offAxisMm(longest, sweep) > COAXIAL_MM);
  if (beside.length > 0 && along !== null)
    return boxForm(longest, alongside, along) ?? { ...form, how: 'its swept body' };
  const outside = mostBy([longest, ...alongside], widestMm);
  if (outside === null || outside === longest) return { ...form, how: 'its swept body' };
  const jacket = formOf(outside);
  return {
    ...form,
    section: jacket.section,
    upDirection: jacket.upDirection,
    how: 'the outer of its swept bodies',
    hasJacket: true,
  };
}

/** How far the other sweep's start lies off the line of the first. */
function offAxisMm(sweep: Sweep, other: Sweep): number {
  const along = directionOf(sweep);
  const [a] = sweep.pathMm;
  const [b] = other.pathMm;
  if (along === null || a === undefined || b === undefined) return 0;
  const d = sub3(b, a);
  return length3(sub3(d, scale3(along, dot3(d, along))));
}

/** The box round straight bodies side by side, upright where the run is level. */
function boxForm(longest: Sweep, others: readonly Sweep[], along: Vec3): ServiceForm | null {
  const [start] = longest.pathMm;
  if (start === undefined || !longest.isStraight) return null;
  const hint: Vec3 = Math.abs(along[2]) > 0.9 ? longest.up : [0, 0, 1];
  const up = unit3(sub3(hint, scale3(along, dot3(hint, along))));
  if (up === null) return null;
  const right = cross3(along, up);
  const spans = [longest, ...others].flatMap((sweep) => sectionSpan(sweep, start, right, up));
  const xs = spans.map(([x]) => x);
  const ys = spans.map(([, y]) => y);
  const [left, end, low, high] = [
    Math.min(...xs),
    Math.max(...xs),
    Math.min(...ys),
    Math.max(...ys),
  ];
  const shift = add3(scale3(right, (left + end) / 2), scale3(up, (low + high) / 2));
  return {
    axisMm: longest.pathMm.map((point) => add3(point, shift)),
    upDirection: up,
    section: { type: 'rectangle', widthMm: tidyMm(end - left), heightMm: tidyMm(high - low) },
    boreMm: null,
    how: 'the box round its swept bodies',
  };
}

/** Corners of a sweep's section in a plane across, from a point. */
function sectionSpan(
  sweep: Sweep,
  from: Vec3,
  right: Vec3,
  up: Vec3,
): readonly (readonly [number, number])[] {
  const [start] = sweep.pathMm;
  if (start === undefined) return [];
  const section = sectionOf(sweep.shape);
  const [x, y] =
    section.type === 'circle'
      ? [section.diameterMm / 2, section.diameterMm / 2]
      : [section.widthMm / 2, section.heightMm / 2];
  const d = sub3(start, from);
  return [
    [x, y],
    [-x, y],
    [-x, -y],
    [x, -y],
  ].map(([a = 0, b = 0]) => {
    const corner = add3(d, add3(scale3(sweep.right, a), scale3(sweep.up, b)));
    return [dot3(corner, right), dot3(corner, up)] as const;
  });
}

function directionOf({ pathMm }: Sweep): Vec3 | null {
  const [a] = pathMm;
  const b = pathMm[pathMm.length - 1];
  return a === undefined || b === undefined ? null : unit3(sub3(b, a));
}

function isAlong(a: Vec3 | null, b: Vec3 | null): boolean {
  return a !== null && b !== null && Math.abs(dot3(a, b)) > 0.99;
}

function widestMm({ shape }: Sweep): number {
  const section = sectionOf(shape);
  return section.type === 'circle'
    ? section.diameterMm
    : Math.max(section.widthMm, section.heightMm);
}

function formOf(sweep: Sweep): Omit<ServiceForm, 'how'> {
  const section = sectionOf(sweep.shape);
  if (section.type === 'circle') {
    return { axisMm: sweep.pathMm, upDirection: sweep.up, section, boreMm: sweep.boreMm };
  }
  const [start, second] = sweep.pathMm;
  const along = start && second ? unit3(sub3(second, start)) : null;
  const turned = levelWidth(section, sweep.right, sweep.up, along);
  return { axisMm: sweep.pathMm, ...turned, boreMm: null };
}

/** Width is the side nearer to level, height the one nearer to plumb, whatever the profile calls x. */
function levelWidth(
  section: { readonly widthMm: number; readonly heightMm: number },
  right: Vec3,
  up: Vec3,
  along: Vec3 | null,
): { readonly section: Section; readonly upDirection: Vec3 } {
  const isUpright = along !== null && Math.abs(along[2]) > 0.9;
  const swap = !isUpright && Math.abs(right[2]) > Math.abs(up[2]) + 1e-6;
  const vertical = swap ? right : up;
  return {
    section: {
      type: 'rectangle',
      widthMm: swap ? section.heightMm : section.widthMm,
      heightMm: swap ? section.widthMm : section.heightMm,
    },
    upDirection: vertical[2] < -1e-9 ? scale3(vertical, -1) : vertical,
  };
}

/** The outside of a service as a section: what is no circle takes the room of its box. */
export function sectionOf(
  shape: Shape,
):
  | { readonly type: 'circle'; readonly diameterMm: number }
  | { readonly type: 'rectangle'; readonly widthMm: number; readonly heightMm: number } {
  switch (shape.type) {
    case 'circle':
      return { type: 'circle', diameterMm: tidyMm(shape.diameterMm) };
    case 'rectangle':
      return {
        type: 'rectangle',
        widthMm: tidyMm(shape.widthMm),
        heightMm: tidyMm(shape.heightMm),
      };
    case 'slot':
    case 'oval':
      return {
        type: 'rectangle',
        widthMm: tidyMm(shape.lengthMm),
        heightMm: tidyMm(shape.widthMm),
      };
    case 'polygon': {
      const xs = shape.pointsMm.map(([x]) => x);
      const ys = shape.pointsMm.map(([, y]) => y);
      return {
        type: 'rectangle',
        widthMm: tidyMm(Math.max(...xs) - Math.min(...xs)),
        heightMm: tidyMm(Math.max(...ys) - Math.min(...ys)),
      };
    }
  }
}

function pathLength(path: readonly Vec3[]): number {
  let length = 0;
  path.forEach((point, n) => {
    const before = path[n - 1];
    if (before !== undefined) length += distance3(point, before);
  });
  return length;
}

function mostBy<T>(items: readonly T[], measure: (item: T) => number): T | null {
  let best: T | null = null;
  let most = Number.NEGATIVE_INFINITY;
  for (const item of items) {
    const value = measure(item);
    if (value > most) {
      best = item;
      most = value;
    }
  }
  return best;
}
