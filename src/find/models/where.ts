import { compareText } from '../../basics/order.ts';
import { isInBox } from '../../geometry/box.ts';
import { type SolidBody, solidBody, stretchesInside } from '../../geometry/solid-body.ts';
import { add3, scale3, sub3, type Vec3 } from '../../geometry/vec.ts';
import type { Building, Space, Storey } from '../../model/building.ts';
import type { PenetrationHost, SectionFrame, Whereabouts } from '../../model/penetration.ts';
import { gridText } from '../grid-text.ts';

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
