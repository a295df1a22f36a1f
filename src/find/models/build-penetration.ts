import type { Evidence } from '../../basics/evidence.ts';
import { compareText, lowestText, sortedBy, sum } from '../../basics/order.ts';
import { shapeAreaMm2 } from '../../geometry/shape.ts';
import { tidyMm } from '../../geometry/tidy-shape.ts';
import {
  add3,
  dot3,
  lerp3,
  scale3,
  sub3,
  unit3,
  type Vec2,
  type Vec3,
} from '../../geometry/vec.ts';
import type { Reference, Service } from '../../model/building.ts';
import { penetrationId } from '../../model/ids.ts';
import type {
  Crossing,
  Penetration,
  PenetrationHost,
  PenetrationKind,
  SectionFrame,
} from '../../model/penetration.ts';
import { crossingNormal, type HostCrossing } from './crossings.ts';
import type { HoleGroup } from './group.ts';
import { stretchAt } from './host-body.ts';
import { hostEdges } from './host-edges.ts';
import { frameFor, inSection, type OpeningBody } from './opening-body.ts';
import type { Scene } from './scene.ts';
import type { WhereFinder } from './where.ts';

/** What building a penetration needs beside its group. */
export interface BuildParts {
  readonly scene: Scene;
  readonly crossings: readonly HostCrossing[];
  readonly carried: ReadonlyMap<number, number>;
  readonly whereOf: WhereFinder;
}

/** A penetration with the crossings it was made from, for queries. */
export interface BuiltPenetration {
  readonly penetration: Penetration;
  readonly group: HoleGroup;
  /** Number of the first host crossing behind each crossing of the penetration. */
  readonly sources: ReadonlyMap<string, number>;
}

/** Makes the penetration of one group of crossings and openings. */
export function buildPenetration(parts: BuildParts, group: HoleGroup): BuiltPenetration | null {
  const { scene } = parts;
  const openings = group.openings
    .map((n) => scene.openings[n])
    .filter((opening): opening is OpeningBody => opening != null);
  const primary = primaryOpening(openings);
  const members = group.runs.flat();
  const hole =
    members.map((n) => parts.crossings[n]?.hole ?? null).find((h) => h !== null) ??
    group.emptyHoles[0]?.hole ??
    null;
  const rough = primary?.frame ?? hole?.frame ?? frameOfCrossings(parts, members);
  if (rough === null) return null;
  const layers = hostLayers(parts, rough, group, openings);
  const [firstLayer] = layers;
  const lastLayer = layers[layers.length - 1];
  if (firstLayer === undefined || lastLayer === undefined) return null;
  const from = Math.min(...layers.map((layer) => layer.fromMm));
  const to = Math.max(...layers.map((layer) => layer.toMm));
  const frame: SectionFrame = {
    ...rough,
    originMm: add3(rough.originMm, scale3(rough.axis, (from + to) / 2)),
  };
  const hosts = layers.map(({ host }) => host);
  const id = idOf(parts, group, hosts, openings);
  const crossings = buildCrossings(parts, group, frame);
  return {
    penetration: {
      id,
      kind: kindOf(group, parts, openings),
      frame,
      hosts,
      thicknessMm: tidyMm(to - from),
      openings: sortedBy(
        openings.map(({ opening }) => ({
          id: opening.id,
          ref: opening.ref,
          kind: opening.kind,
          name: opening.name,
        })),
        (opening) => opening.id,
      ),
      crossings: crossings.map(({ crossing }) => crossing),
      shape: primary === null ? (hole?.shape ?? null) : primary.shape,
      where: parts.whereOf(frame, to - from, hosts),
      references: openings.flatMap(({ opening }): readonly Reference[] => opening.references),
      evidence: [
        ...openings.flatMap(({ opening }) => opening.evidence),
        ...(group.emptyHoles.length > 0 ? hosts.map(seenInCut) : []),
      ],
    },
    group,
    sources: new Map(crossings.map(({ crossing, source }) => [crossing.id, source])),
  };
}

function seenInCut({ ref }: PenetrationHost): Evidence {
  const text = 'Hole in the body itself, seen in a cut through it; no opening element.';
  return { fact: 'hole', text, place: { fileKey: ref.fileKey, id: ref.id } };
}

/** The opening whose outline is the hole's: cut before asked for, the tightest of several. */
function primaryOpening(openings: readonly OpeningBody[]): OpeningBody | null {
  const ordered = [...openings].sort(
    (a, b) =>
      Number(a.opening.kind === 'provision') - Number(b.opening.kind === 'provision') ||
      areaOf(a) - areaOf(b) ||
      compareText(a.opening.id, b.opening.id),
  );
  return ordered[0] ?? null;
}

function areaOf({ shape }: OpeningBody): number {
  return shape === null ? Infinity : Math.round(shapeAreaMm2(shape));
}

function kindOf(
  group: HoleGroup,
  { crossings }: BuildParts,
  openings: readonly OpeningBody[],
): PenetrationKind {
  if (openings.some(({ opening }) => opening.kind === 'opening')) return 'opening';
  if (openings.length > 0) return 'provision';
  const isHole =
    group.emptyHoles.length > 0 || group.runs.flat().some((n) => crossings[n]?.hole != null);
  return isHole ? 'hole' : 'unopened';
}

function frameOfCrossings(parts: BuildParts, members: readonly number[]): SectionFrame | null {
  const carriers = members.filter((n) => !parts.carried.has(n));
  const [lead] = carriers.length > 0 ? carriers : members;
  const first = lead === undefined ? undefined : parts.crossings[lead];
  if (first === undefined) return null;
  const middle = lerp3(first.entry.pointMm, first.exit.pointMm, 0.5);
  const frame = frameFor(middle, crossingNormal(first));
  if (carriers.length < 2) return frame;
  // The middle of all that passes, as seen in the section.
  const offsets = carriers.flatMap((n) => {
    const crossing = parts.crossings[n];
    if (crossing === undefined) return [];
    return [inSection(frame, lerp3(crossing.entry.pointMm, crossing.exit.pointMm, 0.5))];
  });
  const mid = (k: 0 | 1): number => {
    const values = offsets.map((offset) => offset[k]);
    return (Math.min(...values) + Math.max(...values)) / 2;
  };
  return {
    ...frame,
    originMm: add3(middle, add3(scale3(frame.right, mid(0)), scale3(frame.up, mid(1)))),
  };
}

interface Layer {
  readonly host: PenetrationHost;
  readonly fromMm: number;
  readonly toMm: number;
}

/** Hosts in order along the axis, with where each begins and ends along it. */
function hostLayers(
  parts: BuildParts,
  frame: SectionFrame,
  group: HoleGroup,
  openings: readonly OpeningBody[],
): readonly Layer[] {
  const members = group.runs.flat();
  const crossed = members.map((n) => parts.crossings[n]?.host);
  const holed = group.emptyHoles.map(({ host }) => host);
  const opened = openings.flatMap(({ spans }) =>
    spans.filter(({ isThrough }) => isThrough).map(({ host }) => host),
  );
  const recessed = openings.flatMap(({ spans }) => spans.map(({ host }) => host));
  const known = [...crossed, ...holed, ...opened].filter((n): n is number => n !== undefined);
  const numbers = new Set(known.length > 0 ? known : recessed);
  const layers: Layer[] = [];
  for (const n of numbers) {
    const body = parts.scene.hosts[n];
    if (body === undefined) continue;
    const range = rangeOf(parts, frame, n, members, openings);
    if (range === null) continue;
    const { host } = body;
    layers.push({
      fromMm: range[0],
      toMm: range[1],
      host: {
        id: host.id,
        ref: host.ref,
        kind: host.kind,
        name: host.name,
        thicknessMm: tidyMm(range[1] - range[0]),
        material: host.material,
        fireRating: host.fireRating,
        isExternal: host.isExternal,
        isLoadBearing: host.isLoadBearing,
        ...hostEdges(body, frame, range),
      },
    });
  }
  return layers.sort((a, b) => a.fromMm - b.fromMm || compareText(a.host.id, b.host.id));
}

/** How far from the frame's origin a host of the assembly may lie, mm. */
const ASSEMBLY_REACH_MM = 3000;

function rangeOf(
  parts: BuildParts,
  frame: SectionFrame,
  n: number,
  members: readonly number[],
  openings: readonly OpeningBody[],
): readonly [number, number] | null {
  const body = parts.scene.hosts[n];
  if (body === undefined) return null;
  const stretch = stretchAt(body, frame.originMm, frame.axis, ASSEMBLY_REACH_MM);
  if (stretch !== null) return [stretch.enter.at, stretch.leave.at];
  // The centre misses the host (a hole at its edge, or one modelled into it): ask what passes.
  for (const member of members) {
    const crossing = parts.crossings[member];
    if (crossing?.host !== n) continue;
    const ends = [
      inSection(frame, crossing.entry.pointMm)[2],
      inSection(frame, crossing.exit.pointMm)[2],
    ];
    return [Math.min(...ends), Math.max(...ends)];
  }
  for (const opening of openings) {
    const span = opening.spans.find(({ host }) => host === n);
    if (span === undefined) continue;
    const shift = inSection(frame, opening.frame.originMm)[2];
    return [span.fromMm + shift, span.toMm + shift];
  }
  return null;
}

function idOf(
  parts: BuildParts,
  group: HoleGroup,
  hosts: readonly PenetrationHost[],
  openings: readonly OpeningBody[],
): string {
  const hostIds = hosts.map(({ id }) => id);
  if (openings.length > 0) {
    return penetrationId(hostIds, { openingIds: openings.map(({ opening }) => opening.id) });
  }
  const services = group.runs
    .flat()
    .flatMap((n) => parts.crossings[n]?.services ?? [])
    .map((n) => parts.scene.runs.paths[n]?.service.id)
    .filter((id): id is string => id !== undefined);
  // The count along the run is put in when all penetrations are known.
  return penetrationId(hostIds, { serviceIds: services, crossing: 0 });
}

interface BuiltCrossing {
  readonly crossing: Crossing;
  readonly source: number;
}

function buildCrossings(
  parts: BuildParts,
  group: HoleGroup,
  frame: SectionFrame,
): readonly BuiltCrossing[] {
  const idByMember = new Map<number, string>();
  const used = new Map<string, number>();
  const named = group.runs.map((run) => ({ run, service: lowestService(parts, run) }));
  const ordered = sortedBy(named, ({ service }) => service);
  for (const { run, service } of ordered) {
    const base = `${lowestHost(parts, run)}/${service}`;
    const count = used.get(base) ?? 0;
    used.set(base, count + 1);
    for (const n of run) idByMember.set(n, `${base}/${count}`);
  }
  return ordered.flatMap(({ run }) => buildCrossing(parts, run, frame, idByMember) ?? []);
}

function lowestService({ crossings, scene }: BuildParts, run: readonly number[]): string {
  const ids = run
    .flatMap((n) => crossings[n]?.services ?? [])
    .map((n) => scene.runs.paths[n]?.service.id ?? '');
  return lowestText(ids) ?? '';
}

function lowestHost({ crossings, scene }: BuildParts, run: readonly number[]): string {
  return lowestText(run.map((n) => scene.hosts[crossings[n]?.host ?? -1]?.host.id ?? '')) ?? '';
}

function buildCrossing(
  parts: BuildParts,
  run: readonly number[],
  frame: SectionFrame,
  idByMember: ReadonlyMap<number, string>,
): BuiltCrossing | null {
  const members = run.flatMap((n) => parts.crossings[n] ?? []);
  const passing = servicesOf(parts, members);
  const main = mainOf(passing);
  const [source] = run;
  if (main === null || source === undefined) return null;
  const services = sortedBy(passing, ({ id }) => id);
  const [entryMm, exitMm] = outerPoints(members, frame);
  const way = unit3(sub3(exitMm, entryMm)) ?? frame.axis;
  const carrier = run.map((n) => parts.carried.get(n)).find((n) => n !== undefined);
  return {
    source,
    crossing: {
      id: idByMember.get(source) ?? '',
      serviceIds: services.map(({ id }) => id),
      refs: services.map(({ ref }) => ref),
      kind: main.kind,
      carrierForm: main.carrierForm,
      section: main.section,
      sizeBasis: main.sizeBasis,
      boreMm: main.boreMm,
      material: main.material,
      entryMm,
      exitMm,
      lengthMm: sum(members.map(({ lengthMm }) => lengthMm)),
      skewRad: Math.acos(Math.min(1, Math.abs(dot3(way, frame.axis)))),
      offsetMm: offsetIn(frame, entryMm, exitMm),
      carriedBy: carrier === undefined ? null : (idByMember.get(carrier) ?? null),
      references: uniqueReferences(services),
      systems: [...new Set(services.flatMap(({ systems }) => systems))].sort(compareText),
      evidence: services.flatMap(({ evidence }) => evidence),
    },
  };
}

/** The services of a run, each once, in the order in which they pass. */
function servicesOf({ scene }: BuildParts, members: readonly HostCrossing[]): readonly Service[] {
  const numbers = new Set(members.flatMap(({ services }) => services));
  return [...numbers].flatMap((n) => scene.runs.paths[n]?.service ?? []);
}

/** The service that tells kind and size: segments before fittings, those with a size first. */
function mainOf(services: readonly Service[]): Service | null {
  return (
    services.find(({ role, section }) => role === 'segment' && section !== null) ??
    services.find(({ section }) => section !== null) ??
    services[0] ??
    null
  );
}

/** First and last meeting of the run with the assembly, in order along the frame's axis. */
function outerPoints(
  crossings: readonly HostCrossing[],
  frame: SectionFrame,
): readonly [Vec3, Vec3] {
  let first = { point: frame.originMm, at: Number.POSITIVE_INFINITY };
  let last = { point: frame.originMm, at: Number.NEGATIVE_INFINITY };
  for (const { entry, exit } of crossings) {
    for (const { pointMm: point } of [entry, exit]) {
      const at = inSection(frame, point)[2];
      if (at < first.at) first = { point, at };
      if (at >= last.at) last = { point, at };
    }
  }
  return [first.point, last.point];
}

/** Where the run passes the section plane. */
function offsetIn(frame: SectionFrame, entry: Vec3, exit: Vec3): Vec2 {
  const a = inSection(frame, entry);
  const b = inSection(frame, exit);
  const ratio =
    Math.abs(b[2] - a[2]) < 1e-9 ? 0.5 : Math.min(1, Math.max(0, -a[2] / (b[2] - a[2])));
  return [a[0] + (b[0] - a[0]) * ratio, a[1] + (b[1] - a[1]) * ratio];
}

function uniqueReferences(services: readonly Service[]): readonly Reference[] {
  const seen = new Set<string>();
  return services
    .flatMap(({ references }) => references)
    .filter(({ text }) => {
      if (seen.has(text)) return false;
      seen.add(text);
      return true;
    });
}
