import { compareText } from '../../basics/order.ts';
import { isInBox } from '../../geometry/box.ts';
import { type SolidBody, solidBody, stretchesInside } from '../../geometry/solid-body.ts';
import { add3, scale3, sub3, type Vec3 } from '../../geometry/vec.ts';
import type { Building, GridAxis, Space, Storey } from '../../model/building.ts';
import type { PenetrationHost, SectionFrame, Whereabouts } from '../../model/penetration.ts';

/** A centre this little under a storey's level still belongs to it, mm. */
const LEVEL_SLACK_MM = 50;
/** How far beyond the faces one looks for the spaces, mm. */
const BESIDE_MM = 150;

/** Finds where a penetration lies. Made once for a building. */
export type WhereFinder = (
  frame: SectionFrame,
  thicknessMm: number,
  hosts: readonly PenetrationHost[],
) => Whereabouts;

export function whereFinder(building: Building): WhereFinder {
  const storeyById = new Map(building.storeys.map((storey) => [storey.id, storey]));
  const storeyOfHost = new Map(building.hosts.map(({ id, storeyId }) => [id, storeyId]));
  const spaces = preparedSpaces(building.spaces);
  const zones = (building.spatialZones ?? []).map(({ name, mesh }) => ({
    name,
    body: solidBody(mesh),
  }));
  return (frame, thicknessMm, hosts) => {
    const storey = storeyAt(building, frame, thicknessMm, hosts, storeyOfHost, storeyById);
    const beside = scale3(frame.axis, thicknessMm / 2 + BESIDE_MM);
    const nearPoint = sub3(frame.originMm, beside);
    const farPoint = add3(frame.originMm, beside);
    const near = spaces.find(({ body }) => holds(body, nearPoint)) ?? null;
    const far = spaces.find(({ body }) => holds(body, farPoint)) ?? null;
    return {
      level: storey?.name ?? null,
      levelElevationMm: storey?.elevationMm ?? null,
      heightAboveLevelMm: storey === null ? null : frame.originMm[2] - storey.elevationMm,
      grid: gridText(building.grids, frame.originMm),
      spaces: { near: near?.name ?? null, far: far?.name ?? null },
      outside: outsideOf(hosts, spaces.length > 0, near, far),
      ...zonesOf(zonesAt(near, zones, nearPoint), zonesAt(far, zones, farPoint)),
    };
  };
}

function storeyAt(
  building: Building,
  frame: SectionFrame,
  thicknessMm: number,
  hosts: readonly PenetrationHost[],
  storeyOfHost: ReadonlyMap<string, string | null>,
  storeyById: ReadonlyMap<string, Storey>,
): Storey | null {
  const isFlat = Math.abs(frame.axis[2]) > 0.7;
  // A floor's top is the level that it makes.
  const height = frame.originMm[2] + (isFlat ? thicknessMm / 2 : 0) + LEVEL_SLACK_MM;
  const [host] = hosts;
  const contained = host === undefined ? null : (storeyOfHost.get(host.id) ?? null);
  const own = contained === null ? null : (storeyById.get(contained) ?? null);
  const pool = building.storeys.filter(
    ({ ref }) => host === undefined || own === null || ref.fileKey === host.ref.fileKey,
  );
  let best: Storey | null = null;
  for (const storey of pool) {
    if (storey.elevationMm > height) continue;
    if (best === null || storey.elevationMm > best.elevationMm) best = storey;
  }
  const [lowest] = [...pool].sort((a, b) => a.elevationMm - b.elevationMm);
  return best ?? own ?? lowest ?? null;
}

interface PreparedSpace {
  readonly name: string;
  readonly zones: readonly string[];
  readonly body: SolidBody;
}

function preparedSpaces(spaces: readonly Space[]): readonly PreparedSpace[] {
  return spaces.flatMap((space) =>
    space.mesh === null
      ? []
      : [
          {
            name: space.longName ?? space.name,
            zones: space.zones ?? [],
            body: solidBody(space.mesh),
          },
        ],
  );
}

function holds(body: SolidBody, point: Vec3): boolean {
  if (!isInBox(body.box, point)) return false;
  return stretchesInside(body, point, [0.0123, 0.0345, 0.9993]).some(
    ({ enter, leave }) => enter.at <= 0 && leave.at >= 0,
  );
}

/** Zones of the space on one side, and those whose own bodies hold the place; each once, in order. */
function zonesAt(
  space: PreparedSpace | null,
  zones: readonly { readonly name: string; readonly body: SolidBody }[],
  point: Vec3,
): readonly string[] {
  const round = zones.filter(({ body }) => holds(body, point)).map(({ name }) => name);
  return [...new Set([...(space?.zones ?? []), ...round])].sort(compareText);
}

function zonesOf(near: readonly string[], far: readonly string[]): Pick<Whereabouts, 'zones'> {
  return near.length + far.length > 0 ? { zones: { near, far } } : {};
}

function outsideOf(
  hosts: readonly PenetrationHost[],
  hasSpaces: boolean,
  near: PreparedSpace | null,
  far: PreparedSpace | null,
): 'near' | 'far' | null {
  if (!hasSpaces || !hosts.some(({ isExternal }) => isExternal === true)) return null;
  if (near === null && far !== null) return 'near';
  return far === null && near !== null ? 'far' : null;
}

/** Nearest crossing of two grid axes and the way from it: "B/3 +1200 −350". */
function gridText(grids: readonly GridAxis[], point: Vec3): string | null {
  const lines = grids
    .map((axis) => ({ axis, offset: offsetFrom(axis, point) }))
    .filter((line) => Number.isFinite(line.offset))
    .sort((a, b) => Math.abs(a.offset) - Math.abs(b.offset) || (a.axis.tag < b.axis.tag ? -1 : 1));
  const [first] = lines;
  if (first === undefined) return null;
  const second = lines.find(({ axis }) => Math.abs(cosine(first.axis, axis)) < 0.5);
  if (second === undefined) return null;
  const [a, b] =
    Math.abs(first.axis.endMm[0] - first.axis.startMm[0]) <
    Math.abs(first.axis.endMm[1] - first.axis.startMm[1])
      ? [first, second]
      : [second, first];
  return `${a.axis.tag}/${b.axis.tag} ${signed(a.offset)} ${signed(b.offset)}`;
}

/** Distance from an axis in plan: to the right of an axis that runs north, above one that runs east. */
function offsetFrom({ startMm, endMm }: GridAxis, point: Vec3): number {
  let dx = endMm[0] - startMm[0];
  let dy = endMm[1] - startMm[1];
  const length = Math.hypot(dx, dy);
  if (length < 1) return Number.NaN;
  dx /= length;
  dy /= length;
  const left = dx * (point[1] - startMm[1]) - dy * (point[0] - startMm[0]);
  // East of an axis that runs north or south, north of one that runs east or west.
  return Math.abs(dy) > Math.abs(dx) ? -left * Math.sign(dy) : left * Math.sign(dx);
}

function cosine(a: GridAxis, b: GridAxis): number {
  const u = [a.endMm[0] - a.startMm[0], a.endMm[1] - a.startMm[1]] as const;
  const v = [b.endMm[0] - b.startMm[0], b.endMm[1] - b.startMm[1]] as const;
  return (u[0] * v[0] + u[1] * v[1]) / (Math.hypot(...u) * Math.hypot(...v));
}

function signed(value: number): string {
  const rounded = Math.round(value);
  return rounded < 0 ? `−${-rounded}` : `+${rounded}`;
}
