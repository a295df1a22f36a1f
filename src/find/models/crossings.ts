import { boxesMeet, boxOfPoints, grownBox } from '../../geometry/box.ts';
import { type BoxIndex, indexBoxes } from '../../geometry/box-index.ts';
import { unitAcross } from '../../geometry/frame3.ts';
import type { FaceHit } from '../../geometry/solid-body.ts';
import { type Bar, barTouchesBody } from '../../geometry/solid-touch.ts';
import {
  add3,
  cross3,
  distance3,
  dot3,
  lerp3,
  scale3,
  sub3,
  unit3,
  type Vec2,
  type Vec3,
} from '../../geometry/vec.ts';
import type { Service } from '../../model/building.ts';
import type { AxisPiece, ServicePath } from './axis-pieces.ts';
import type { FaceMeeting } from './face-meeting.ts';
import type { HostHole } from './hole-prism.ts';
import { type HostBody, hostStretches, isSeparatingFace } from './host-body.ts';
import { holeRound, isFlatHost, mayHaveHoles } from './host-holes.ts';
import { type Runs, TOUCHING_MM } from './runs.ts';
import { groupsOf, unionFind } from './union-find.ts';

/** An end of a centre line this near to a face counts as on it, mm. */
const ON_FACE_MM = 1;

/** One run going through one host. */
export interface HostCrossing {
  readonly host: number;
  /** Numbers of the services inside the host, the one that tells size and kind first. */
  readonly services: readonly number[];
  readonly entry: FaceMeeting;
  readonly exit: FaceMeeting;
  readonly lengthMm: number;
  /** Hole in the host's own body that it passes. */
  readonly hole: HostHole | null;
}

/** What became of a run in a host where it does not go through. */
export type ContactKind =
  | 'endsInside'
  | 'within'
  | 'byEdge'
  | 'sameSide'
  /** Part of its body goes through, its centre line passes beside the host. */
  | 'partly'
  | 'touches';

export interface Contact {
  readonly host: number;
  readonly service: number;
  readonly kind: ContactKind;
  readonly pointMm: Vec3;
}

export interface Met {
  readonly crossings: readonly HostCrossing[];
  readonly contacts: readonly Contact[];
}

/** A stretch of one piece of centre line inside a host. */
interface Part {
  readonly service: number;
  readonly piece: AxisPiece;
  readonly startMm: Vec3;
  readonly endMm: Vec3;
  readonly lengthMm: number;
  readonly enter: FaceMeeting | null;
  readonly leave: FaceMeeting | null;
  readonly hole: HostHole | null;
}

/** Every host with every service that comes near: what goes through and what only touches. */
export function meetHosts(hosts: readonly HostBody[], runs: Runs, shaftFromMm: number): Met {
  const crossings: HostCrossing[] = [];
  const contacts: Contact[] = [];
  const near = candidates(hosts, runs);
  hosts.forEach((known, n) => {
    const parts: Part[] = [];
    let host = known;
    const mayBeRound = oncePerHost(() => mayHaveHoles(known) && !isFlatHost(known));
    for (const service of near[n] ?? []) {
      const path = runs.paths[service];
      if (path === undefined) continue;
      const before = parts.length;
      let contact = addPieces(host, path, parts);
      if (parts.length > before) continue;
      if (mayBeRound()) {
        const holes = path.pieces.flatMap((piece) => holeRound(known, piece, shaftFromMm) ?? []);
        if (holes.length > 0) {
          host = { ...host, holes: [...host.holes, ...holes] };
          contact ??= addPieces(host, path, parts);
          if (parts.length > before) continue;
        }
      }
      contact ??= touchPoint(host, path);
      if (contact === null) continue;
      const kind = path.pieces.some((piece) => passesPartly(host, path.service, piece))
        ? 'partly'
        : 'touches';
      contacts.push({ host: n, service, kind, pointMm: contact });
    }
    if (parts.length > 0) settle(n, parts, runs, crossings, contacts);
  });
  return { crossings, contacts };
}

/** Asks only once, and only when it is asked for. */
function oncePerHost(ask: () => boolean): () => boolean {
  let answer: boolean | null = null;
  return () => {
    answer ??= ask();
    return answer;
  };
}

/** Adds what a service has inside the host; gives a point where it only comes up to a face. */
function addPieces(host: HostBody, path: ServicePath, parts: Part[]): Vec3 | null {
  let contact: Vec3 | null = null;
  for (const piece of path.pieces) {
    const touched = addParts(host, piece, parts);
    contact ??= touched;
  }
  return contact;
}

/** Services whose boxes meet each host's. */
function candidates(hosts: readonly HostBody[], runs: Runs): readonly (readonly number[])[] {
  const index: BoxIndex = indexBoxes(runs.paths.map(({ box }) => box));
  return hosts.map(({ body }) => index.meeting(grownBox(body.box, ON_FACE_MM)));
}

/** Adds the stretches of a piece inside a host; gives a point where it only comes up to a face. */
function addParts(host: HostBody, piece: AxisPiece, parts: Part[]): Vec3 | null {
  let contact: Vec3 | null = null;
  for (const { enter, leave, hole } of hostStretches(host, piece.from, piece.direction)) {
    const start = Math.max(enter.at, 0);
    const end = Math.min(leave.at, piece.lengthMm);
    if (end < -ON_FACE_MM || start > piece.lengthMm + ON_FACE_MM) continue;
    const at = (along: number): Vec3 => add3(piece.from, scale3(piece.direction, along));
    if (end - start <= ON_FACE_MM && leave.at - enter.at > ON_FACE_MM) {
      contact ??= at(start);
      continue;
    }
    parts.push({
      service: piece.service,
      piece,
      startMm: at(start),
      endMm: at(end),
      lengthMm: end - start,
      enter: enter.at >= -ON_FACE_MM ? meeting(host, piece, enter) : null,
      leave: leave.at <= piece.lengthMm + ON_FACE_MM ? meeting(host, piece, leave) : null,
      hole,
    });
  }
  return contact;
}

function meeting(host: HostBody, piece: AxisPiece, hit: FaceHit): FaceMeeting {
  const pointMm = add3(piece.from, scale3(piece.direction, hit.at));
  return {
    pointMm,
    normal: hit.normal,
    service: piece.service,
    isSeparating: isSeparatingFace(host, pointMm, hit.normal),
  };
}

/** A point of the centre line where the service's outside comes up to the host. */
function touchPoint(host: HostBody, path: ServicePath): Vec3 | null {
  for (const piece of path.pieces) {
    const bar = barOf(path.service, piece);
    const box = boxOfPoints([piece.from, piece.to]);
    if (box === null) continue;
    if (!boxesMeet(grownBox(box, path.reachMm + ON_FACE_MM), host.body.box)) continue;
    if (barTouchesBody(host.body, bar, ON_FACE_MM)) return lerp3(piece.from, piece.to, 0.5);
  }
  return null;
}

/** How far a body must reach into a host to be cut into it rather than to lie against it, mm. Our choice. */
const CUT_IN_MM = 10;
const ROUND_POINTS = 8;

/** Whether a line beside the centre line, within the body, goes through the host between its faces. */
function passesPartly(host: HostBody, service: Service, piece: AxisPiece): boolean {
  const bar = barOf(service, piece);
  return outlineInside(bar, CUT_IN_MM).some(([x, y]) => {
    const from = add3(piece.from, add3(scale3(bar.right, x), scale3(bar.up, y)));
    return hostStretches(host, from, piece.direction).some(({ enter, leave }) => {
      if (enter.at < -ON_FACE_MM || leave.at > piece.lengthMm + ON_FACE_MM) return false;
      if (dot3(enter.normal, leave.normal) > -0.3) return false;
      return [enter, leave].every(({ at, normal }) =>
        isSeparatingFace(host, add3(from, scale3(piece.direction, at)), normal),
      );
    });
  });
}

/** Points of a bar's outline, drawn in by so much; none where nothing is left of it. */
function outlineInside({ section }: Bar, byMm: number): readonly Vec2[] {
  if (section.type === 'circle') {
    const radius = section.diameterMm / 2 - byMm;
    if (radius <= 0) return [];
    return Array.from({ length: ROUND_POINTS }, (_, n): Vec2 => {
      const turn = (2 * Math.PI * n) / ROUND_POINTS;
      return [radius * Math.cos(turn), radius * Math.sin(turn)];
    });
  }
  const [x, y] = [section.widthMm / 2 - byMm, section.heightMm / 2 - byMm];
  if (x <= 0 || y <= 0) return [];
  return [-x, 0, x].flatMap((u) => [-y, 0, y].map((v): Vec2 => [u, v]));
}

/** The outside of one piece; a service of unknown size counts as a line. */
function barOf(service: Service, piece: AxisPiece): Bar {
  const hint = service.upDirection ?? [0, 0, 1];
  const up =
    unit3(sub3(hint, scale3(piece.direction, dot3(hint, piece.direction)))) ??
    unitAcross(piece.direction);
  return {
    from: piece.from,
    direction: piece.direction,
    lengthMm: piece.lengthMm,
    right: cross3(piece.direction, up),
    up,
    section: service.section ?? { type: 'circle', diameterMm: 0 },
  };
}

/** Joins the parts of runs inside one host and says what each run does there. */
function settle(
  host: number,
  parts: readonly Part[],
  runs: Runs,
  crossings: HostCrossing[],
  contacts: Contact[],
): void {
  const sets = unionFind(parts.length);
  // Only parts that end inside the host can go on; in a big slab they are few of many.
  const open = new Map<number, number[]>();
  parts.forEach((part, n) => {
    if (endsInside(part).length === 0) return;
    const same = open.get(part.service);
    if (same === undefined) open.set(part.service, [n]);
    else same.push(n);
  });
  for (const [service, mine] of open) {
    const others = [...(runs.neighbours[service] ?? [])].flatMap((other) => open.get(other) ?? []);
    for (const a of mine) {
      for (const b of [...mine, ...others]) {
        const [one, other] = [parts[a], parts[b]];
        if (a !== b && one && other && areJoined(one, other, runs)) sets.join(a, b);
      }
    }
  }
  for (const group of groupsOf(parts.length, sets)) {
    settleRun(
      host,
      group.map((n) => parts[n]).filter((part): part is Part => part !== undefined),
      runs,
      crossings,
      contacts,
    );
  }
}

/** Ends of a part that lie inside the host, where the run may go on. */
function endsInside(part: Part): readonly Vec3[] {
  const ends: Vec3[] = [];
  if (part.enter === null) ends.push(part.startMm);
  if (part.leave === null) ends.push(part.endMm);
  return ends;
}

function areJoined(a: Part, b: Part, runs: Runs): boolean {
  const endsA = endsInside(a);
  const endsB = endsInside(b);
  if (endsA.length === 0 || endsB.length === 0) return false;
  const isSameRun = a.service === b.service || runs.neighbours[a.service]?.has(b.service) === true;
  if (!isSameRun) return false;
  const gap = Math.min(...endsA.flatMap((p) => endsB.map((q) => distance3(p, q))));
  // What the model itself joins may leave a gap that a coupling or a bend fills.
  return a.service === b.service
    ? gap <= TOUCHING_MM
    : gap <= Math.max(TOUCHING_MM, jointReach(a, b, runs));
}

function jointReach(a: Part, b: Part, runs: Runs): number {
  const reach = (part: Part): number => runs.paths[part.service]?.reachMm ?? 0;
  return 4 * Math.max(reach(a), reach(b));
}

function settleRun(
  host: number,
  parts: readonly Part[],
  runs: Runs,
  crossings: HostCrossing[],
  contacts: Contact[],
): void {
  const meetings = parts.flatMap(({ enter, leave }) =>
    [enter, leave].filter((hit): hit is FaceMeeting => hit !== null),
  );
  const services = servicesOf(parts, runs);
  const [first] = services;
  const [part] = parts;
  if (first === undefined || part === undefined) return;
  const pairs = oppositePairs(meetings);
  const lengthMm = parts.reduce((sum, { lengthMm: length }) => sum + length, 0);
  for (const [entry, exit] of pairs) {
    crossings.push({
      host,
      services,
      entry,
      exit,
      // Parts too short to count leave the sum a hair behind the straight way.
      lengthMm: Math.max(pairs.length === 1 ? lengthMm : 0, distance3(entry.pointMm, exit.pointMm)),
      hole: parts.find(({ hole }) => hole !== null)?.hole ?? null,
    });
  }
  if (pairs.length > 0) return;
  const kind: ContactKind =
    meetings.length === 0 || isWhollyInside(parts, services, runs)
      ? 'within'
      : meetings.length === 1
        ? 'endsInside'
        : meetings.every(({ isSeparating }) => isSeparating)
          ? 'sameSide'
          : 'byEdge';
  for (const service of services) {
    contacts.push({ host, service, kind, pointMm: lerp3(part.startMm, part.endMm, 0.5) });
  }
}

/** Whether the services end with the host, as a conduit in a wall from floor to ceiling does. */
function isWhollyInside(parts: readonly Part[], services: readonly number[], runs: Runs): boolean {
  return services.every((service) => {
    const inside = parts
      .filter((part) => part.service === service)
      .reduce((sum, { lengthMm }) => sum + lengthMm, 0);
    const whole = (runs.paths[service]?.pieces ?? []).reduce(
      (sum, { lengthMm }) => sum + lengthMm,
      0,
    );
    return inside >= whole - 2 * ON_FACE_MM;
  });
}

/** Services of the parts: segments before fittings, those longest in the host first. */
function servicesOf(parts: readonly Part[], runs: Runs): readonly number[] {
  const lengths = new Map<number, number>();
  for (const { service, lengthMm } of parts) {
    lengths.set(service, (lengths.get(service) ?? 0) + lengthMm);
  }
  const isFitting = (n: number): number => (runs.paths[n]?.service.role === 'fitting' ? 1 : 0);
  return [...lengths.keys()].sort(
    (a, b) => isFitting(a) - isFitting(b) || (lengths.get(b) ?? 0) - (lengths.get(a) ?? 0) || a - b,
  );
}

/**
 * Pairs of meetings on opposite separating faces. A branch inside the wall makes as many pairs as
 * the side with more ends has, each with the nearest end of the other side.
 */
function oppositePairs(
  meetings: readonly FaceMeeting[],
): readonly (readonly [FaceMeeting, FaceMeeting])[] {
  const separating = meetings.filter(({ isSeparating }) => isSeparating);
  const [reference] = separating;
  if (reference === undefined) return [];
  const front = separating.filter(({ normal }) => dot3(normal, reference.normal) > 0);
  const back = separating.filter(({ normal }) => dot3(normal, reference.normal) < -0.3);
  if (front.length === 0 || back.length === 0) return [];
  const [more, fewer] = front.length >= back.length ? [front, back] : [back, front];
  return more.map((one) => {
    const other = fewer.reduce((a, b) =>
      distance3(b.pointMm, one.pointMm) < distance3(a.pointMm, one.pointMm) ? b : a,
    );
    return front.includes(one) ? ([one, other] as const) : ([other, one] as const);
  });
}

/** Direction through the host at a crossing: between the outward normals of its two faces. */
export function crossingNormal(crossing: HostCrossing): Vec3 {
  return unit3(sub3(crossing.exit.normal, crossing.entry.normal)) ?? crossing.exit.normal;
}
