import { makeQuery, type Query } from '../../basics/query.ts';
import { shapeExtentMm, sizeText } from '../../geometry/shape.ts';
import { isInsideOutline } from '../../geometry/solid-slice.ts';
import { dot3, sub3, type Vec3 } from '../../geometry/vec.ts';
import type { HostCrossing } from './crossings.ts';
import type { HostHole } from './hole-prism.ts';
import { depthInShape, inSection, type OpeningBody } from './opening-body.ts';
import type { Scene } from './scene.ts';
import { groupsOf, unionFind } from './union-find.ts';

/** A hole in a host's own body that nothing passes. */
export interface EmptyHole {
  readonly host: number;
  readonly hole: HostHole;
}

/** Small holes that nothing passes, those in line through neighbouring leaves together. */
export function emptyHolesOf(
  scene: Scene,
  crossings: readonly HostCrossing[],
): readonly (readonly EmptyHole[])[] {
  const empty = unusedHoles(scene, crossings).filter(({ hole }) => !isLarge(scene, hole));
  const sets = unionFind(empty.length);
  // In order of height, so that only those of one height are looked at together.
  const byHeight = empty.map((_, n) => n).sort((a, b) => heightOf(empty[a]) - heightOf(empty[b]));
  byHeight.forEach((a, place) => {
    const one = empty[a];
    for (let next = place + 1; next < byHeight.length; next++) {
      const b = byHeight[next] ?? 0;
      const other = empty[b];
      if (one === undefined || other === undefined) break;
      if (heightOf(other) - heightOf(one) > MOST_APART_MM) break;
      if (isOneHole(one, other, scene.settings.find.leafGapMm)) sets.join(a, b);
    }
  });
  return groupsOf(empty.length, sets).map((group) =>
    group.map((n) => empty[n]).filter((hole): hole is EmptyHole => hole !== undefined),
  );
}

/** Centres of one hole in neighbouring leaves differ in height by less: slabs and screeds are thinner. */
const MOST_APART_MM = 3000;

function heightOf(empty: EmptyHole | undefined): number {
  return empty?.hole.frame.originMm[2] ?? 0;
}

/** Holes as large as windows in hosts' own bodies: said once a host, made no penetration. */
export function largeHoleQueries(
  scene: Scene,
  crossings: readonly HostCrossing[],
): readonly Query[] {
  const byHost = new Map<number, HostHole[]>();
  for (const { host, hole } of unusedHoles(scene, crossings)) {
    if (isLarge(scene, hole)) byHost.set(host, [...(byHost.get(host) ?? []), hole]);
  }
  return [...byHost].flatMap(([n, holes]) => {
    const host = scene.hosts[n]?.host;
    if (host === undefined) return [];
    const sizes = holes.slice(0, 5).map(({ shape }) => {
      const { widthMm, heightMm } = shapeExtentMm(shape);
      return `${sizeText(widthMm)} × ${sizeText(heightMm)}`;
    });
    return [
      makeQuery('opening-large-and-empty', {
        about: `${host.id}/holes`,
        text: `${host.ifcClass} "${host.name}" has ${holes.length === 1 ? 'a large hole' : `${holes.length} large holes`} modelled into its body (${sizes.join(', ')} mm) that no service passes.`,
        why: 'It may be a window or doorway without an element, or a hole whose services are missing.',
        settles: 'What it is for.',
        evidence: [
          {
            fact: 'hole',
            text: 'Seen in a cut through the host.',
            place: { fileKey: host.ref.fileKey, id: host.ref.id },
          },
        ],
      }),
    ];
  });
}

function isLarge({ settings }: Scene, { shape }: HostHole): boolean {
  const { widthMm, heightMm } = shapeExtentMm(shape);
  return Math.max(widthMm, heightMm) > settings.design.largestBlankMm;
}

/** Whole holes that no crossing passes and no opening element stands in. */
function unusedHoles(scene: Scene, crossings: readonly HostCrossing[]): readonly EmptyHole[] {
  const used = new Set(crossings.map(({ hole }) => hole));
  const openings = openingsByHost(scene);
  return scene.hosts.flatMap(({ holes }, host) =>
    holes
      .filter((hole) => !hole.isNotch && !used.has(hole))
      .filter((hole) => !(openings.get(host) ?? []).some((opening) => isInOpening(opening, hole)))
      .map((hole) => ({ host, hole })),
  );
}

function openingsByHost(scene: Scene): ReadonlyMap<number, readonly OpeningBody[]> {
  const byHost = new Map<number, OpeningBody[]>();
  for (const opening of scene.openings) {
    for (const host of new Set(opening?.spans.map((span) => span.host))) {
      if (opening === null) continue;
      const known = byHost.get(host);
      if (known === undefined) byHost.set(host, [opening]);
      else known.push(opening);
    }
  }
  return byHost;
}

function isInOpening({ shape, frame: own }: OpeningBody, { frame }: HostHole): boolean {
  if (shape === null) return false;
  const [x, y] = inSection(own, frame.originMm);
  return depthInShape(shape, [x, y]) >= 0;
}

function isOneHole(one: EmptyHole, other: EmptyHole, gapMm: number): boolean {
  const [a, b] = [one.hole, other.hole];
  if (one.host === other.host || Math.abs(dot3(a.frame.axis, b.frame.axis)) < 0.99) return false;
  const apart = Math.abs(dot3(sub3(a.frame.originMm, b.frame.originMm), a.frame.axis));
  return (
    apart <= (a.thicknessMm + b.thicknessMm) / 2 + gapMm &&
    isOver(a, b.frame.originMm) &&
    isOver(b, a.frame.originMm)
  );
}

function isOver({ frame, outline }: HostHole, point: Vec3): boolean {
  const [x, y] = inSection(frame, point);
  return isInsideOutline(outline, [x, y]);
}
