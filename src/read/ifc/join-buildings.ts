import { compareText, sortedBy } from '../../basics/order.ts';
import { makeQuery, type Query, type WithQueries } from '../../basics/query.ts';
import { type Box, boxCentre, boxOfPoints, boxOfPositions } from '../../geometry/box.ts';
import { type Frame3, frameInside, inverseFrame } from '../../geometry/frame3.ts';
import { distance3, sub3, type Vec3 } from '../../geometry/vec.ts';
import type { Building, Host, Mesh, Opening, Service, Storey } from '../../model/building.ts';
import type { MapConversion, ModelFrame } from './georeference.ts';
import { moveBuilding, turnedFrame } from './move-building.ts';

/** One model to be joined: as `readIfc` gives it. */
export interface BuildingPart {
  readonly building: Building;
  readonly frame: ModelFrame;
}

/** Models whose boxes lie further apart than this are taken for not joined, mm. */
const FAR_APART_MM = 500_000;
/** Centres this near count as the same place, mm. */
const SAME_PLACE_MM = 5;
const SAME_NORTH_RAD = 0.0035;

/**
 * Puts models into one world frame: the first one's. Models with map conversions are joined by them;
 * one that lacks what the others have is not moved, and asked about.
 * @param parts models in the project's order
 */
export function joinBuildings(parts: readonly BuildingPart[]): WithQueries<Building> {
  const [first] = parts;
  if (first === undefined) return { result: emptyBuilding(), queries: [] };
  const queries: Query[] = [];
  const placed = parts.map((part) => ({
    ...part,
    building: inFirstFrame(part, first, queries),
  }));
  queries.push(...unitQueries(parts), ...northQueries(parts), ...farQueries(placed));
  const joined = withoutDuplicates(
    placed.map(({ building }) => building),
    queries,
  );
  return { result: joined, queries: sortedBy(queries, ({ id }) => id) };
}

function emptyBuilding(): Building {
  return {
    storeys: [],
    grids: [],
    spaces: [],
    hosts: [],
    services: [],
    openings: [],
    joints: [],
  };
}

function inFirstFrame(part: BuildingPart, first: BuildingPart, queries: Query[]): Building {
  if (part === first) return part.building;
  const [own, lead] = [part.frame.map, first.frame.map];
  if (own === null && lead === null) return part.building;
  if (own === null || lead === null) {
    queries.push(conversionMissing(part, first));
    return part.building;
  }
  if (isSameMap(own, lead)) return part.building;
  const back = inverseFrame(mapFrame(lead));
  if (back === null) return part.building;
  const frame = frameInside(back, mapFrame(own));
  const moved = moveBuilding(part.building, frame);
  if (isAlreadyOnMap(part, first, moved)) {
    queries.push(convertedTwice(part, first));
    return part.building;
  }
  return moved;
}

function mapFrame(map: MapConversion): Frame3 {
  return turnedFrame(map.turnRad, [map.eastingMm, map.northingMm, map.heightMm], map.scale);
}

function isSameMap(a: MapConversion, b: MapConversion): boolean {
  return (
    Math.abs(a.eastingMm - b.eastingMm) < 0.01 &&
    Math.abs(a.northingMm - b.northingMm) < 0.01 &&
    Math.abs(a.heightMm - b.heightMm) < 0.01 &&
    Math.abs(a.turnRad - b.turnRad) < 1e-9 &&
    Math.abs(a.scale / b.scale - 1) < 1e-9
  );
}

/** Whether the model lies beside the first as it stands, and far off once it is converted. */
function isAlreadyOnMap(part: BuildingPart, first: BuildingPart, moved: Building): boolean {
  const [lead, asIs, converted] = [first.building, part.building, moved].map(extentOf);
  if (!lead || !asIs || !converted) return false;
  return apart(lead, asIs) < FAR_APART_MM && apart(lead, converted) > FAR_APART_MM;
}

function conversionMissing(part: BuildingPart, first: BuildingPart): Query {
  const without = part.frame.map === null ? part.frame : first.frame;
  const other = part.frame.map === null ? first.frame : part.frame;
  return makeQuery('map-conversion-doubtful', {
    about: `${part.frame.fileKey}/map-conversion`,
    text: `${without.fileName} has no map conversion while ${other.fileName} has one (${mapText(other.map)}); they were joined by their own origins.`,
    why: 'If the models don’t share an origin, crossings are missed.',
    settles: `A map conversion in ${without.fileName}, or moveMm and turnDeg for ${part.frame.fileKey} in the project file.`,
    severity: 'note',
    evidence: [
      {
        fact: 'map conversion',
        text: 'One of two models has none.',
        place: { fileKey: part.frame.fileKey },
      },
    ],
  });
}

function convertedTwice(part: BuildingPart, first: BuildingPart): Query {
  return makeQuery('map-conversion-doubtful', {
    about: `${part.frame.fileKey}/converted-twice`,
    text: `${part.frame.fileName} lies beside ${first.frame.fileName} as it stands, and far off once its map conversion (${mapText(part.frame.map)}) is applied: it seems to hold the conversion twice. It was not applied.`,
    why: 'Applied twice, it would put the model where nothing is.',
    settles: `The right conversion in ${part.frame.fileName}.`,
    evidence: [
      {
        fact: 'map conversion',
        text: 'Coordinates and conversion disagree.',
        place: { fileKey: part.frame.fileKey },
      },
    ],
  });
}

function mapText(map: MapConversion | null): string {
  if (map === null) return 'none';
  const turn = (map.turnRad * 180) / Math.PI;
  return `E ${metres(map.eastingMm)} m, N ${metres(map.northingMm)} m, H ${metres(map.heightMm)} m, turned ${turn.toFixed(3)}°`;
}

function metres(mm: number): string {
  return (mm / 1000).toFixed(3);
}

function unitQueries(parts: readonly BuildingPart[]): readonly Query[] {
  const [first] = parts;
  const differing = parts.filter(
    ({ frame }) => frame.lengthName !== null && frame.mmPerUnit !== first?.frame.mmPerUnit,
  );
  if (first === undefined || differing.length === 0) return [];
  const all = [first, ...differing].map(
    ({ frame }) => `${frame.fileName}: ${frame.lengthName ?? 'none named'}`,
  );
  return [
    makeQuery('units-differ', {
      about: `${first.frame.fileKey}/units`,
      text: `The models are in different units of length (${all.join('; ')}); each was converted.`,
      why: 'A wrongly declared unit puts elements in the wrong place and size.',
      settles: 'Nothing, if sizes and places are right.',
      severity: 'note',
      evidence: differing.map(({ frame }) => ({
        fact: 'units',
        text: `Length unit ${frame.lengthName ?? 'none'}.`,
        place: { fileKey: frame.fileKey },
      })),
    }),
  ];
}

function northQueries(parts: readonly BuildingPart[]): readonly Query[] {
  const [first] = parts;
  if (first === undefined || first.frame.trueNorthRad === null) return [];
  const lead = first.frame.trueNorthRad;
  return parts.flatMap(({ frame }) => {
    const north = frame.trueNorthRad;
    // Models with conversions are turned by them; their true north is then only a note.
    if (north === null || (frame.map !== null && first.frame.map !== null)) return [];
    const difference = Math.atan2(Math.sin(north - lead), Math.cos(north - lead));
    if (Math.abs(difference) < SAME_NORTH_RAD) return [];
    const degrees = (difference * 180) / Math.PI;
    return [
      makeQuery('true-north-differs', {
        about: `${frame.fileKey}/true-north`,
        text: `True north of ${frame.fileName} differs from that of ${first.frame.fileName} by ${degrees.toFixed(2)}°; nothing was turned.`,
        why: 'One of the models may be turned against the other.',
        settles: `turnDeg: ${(-degrees).toFixed(3)} for ${frame.fileKey} in the project file, or the confirmation that they fit.`,
        evidence: [
          {
            fact: 'true north',
            text: 'Read from the context of the model.',
            place: { fileKey: frame.fileKey },
          },
        ],
      }),
    ];
  });
}

/** Models of which none of the others is near, with the move that would bring centres together. */
function farQueries(parts: readonly BuildingPart[]): readonly Query[] {
  const [first] = parts;
  const lead = first === undefined ? null : extentOf(first.building);
  if (first === undefined || lead === null) return [];
  return parts.slice(1).flatMap(({ building, frame }) => {
    const extent = extentOf(building);
    if (extent === null) return [];
    const distance = apart(lead, extent);
    if (distance <= FAR_APART_MM) return [];
    const move = sub3(boxCentre(lead), boxCentre(extent)).map(Math.round);
    return [
      makeQuery('files-far-apart', {
        about: frame.fileKey,
        text: `${frame.fileName} lies ${metres(distance)} m from ${first.frame.fileName}; it was not moved.`,
        why: 'Models that don’t meet have no crossings.',
        settles: `If they belong together: moveMm: [${move.join(', ')}] for ${frame.fileKey} in the project file brings their middles together.`,
        evidence: [
          {
            fact: 'place',
            text: 'Boxes round the elements were compared.',
            place: { fileKey: frame.fileKey },
          },
        ],
      }),
    ];
  });
}

function extentOf(building: Building): Box | null {
  const points: Vec3[] = [];
  for (const { mesh } of [...building.hosts, ...building.openings]) {
    if (mesh === null) continue;
    const box = boxOfPositions(mesh.positionsMm);
    points.push(box.low, box.high);
  }
  for (const { axisMm, mesh } of building.services) {
    if (axisMm !== null) points.push(...axisMm);
    else if (mesh !== null) points.push(boxCentre(boxOfPositions(mesh.positionsMm)));
  }
  return boxOfPoints(points.filter((point) => point.every(Number.isFinite)));
}

function apart(a: Box, b: Box): number {
  const gap = [0, 1, 2].map((k) =>
    Math.max((a.low[k] ?? 0) - (b.high[k] ?? 0), (b.low[k] ?? 0) - (a.high[k] ?? 0), 0),
  );
  return Math.hypot(...gap);
}

interface Comparable {
  readonly id: string;
  readonly ref: { readonly fileKey: string; readonly id: string };
  readonly name: string;
  readonly ifcClass: string;
}

/** All models in one; what stands twice in the same place under one class and name counts once. */
function withoutDuplicates(buildings: readonly Building[], queries: Query[]): Building {
  const renamed = new Map<string, string>();
  const once = <T extends Comparable>(
    items: readonly T[],
    placeOf: (item: T) => Vec3 | null,
  ): T[] => {
    const kept: T[] = [];
    const byCell = new Map<string, T[]>();
    for (const item of items) {
      const place = placeOf(item);
      const twin = place === null ? undefined : twinOf(item, place, byCell, placeOf);
      if (twin !== undefined) {
        renamed.set(item.id, twin.id);
        queries.push(duplicateQuery(item, twin));
        continue;
      }
      kept.push(item);
      if (place !== null) addTo(byCell, cellOf(place, [0, 0, 0]), item);
    }
    return kept;
  };
  const hosts = once(
    buildings.flatMap((b) => b.hosts),
    hostPlace,
  );
  const services = once(
    buildings.flatMap((b) => b.services),
    servicePlace,
  );
  const openings = once(
    buildings.flatMap((b) => b.openings),
    (opening) => meshPlace(opening.mesh),
  );
  const others = sortedBy(
    buildings.flatMap((b) => b.others ?? []),
    ({ id }) => id,
  );
  const spatialZones = sortedBy(
    buildings.flatMap((b) => b.spatialZones ?? []),
    ({ id }) => id,
  );
  const equipment = sortedBy(
    buildings.flatMap((b) => b.equipment ?? []),
    ({ id }) => id,
  );
  const nameOf = (id: string): string => renamed.get(id) ?? id;
  const namesOf = (ids: readonly string[]): string[] =>
    [...new Set(ids.map(nameOf))].sort(compareText);
  return {
    storeys: sortStoreys(buildings.flatMap((b) => b.storeys)),
    grids: buildings.flatMap((b) => b.grids),
    spaces: sortedBy(
      buildings.flatMap((b) => b.spaces),
      ({ id }) => id,
    ),
    hosts: sortedBy(
      hosts.map((host): Host => ({ ...host, openingIds: namesOf(host.openingIds) })),
      ({ id }) => id,
    ),
    services: sortedBy(services, ({ id }) => id),
    openings: sortedBy(
      openings.map((opening): Opening => ({ ...opening, hostIds: namesOf(opening.hostIds) })),
      ({ id }) => id,
    ),
    joints: buildings
      .flatMap((b) => b.joints)
      .map(({ serviceIds: [a, b] }) => ({ serviceIds: [nameOf(a), nameOf(b)] as const })),
    ...(equipment.length > 0 ? { equipment } : {}),
    ...(spatialZones.length > 0 ? { spatialZones } : {}),
    ...(others.length > 0 ? { others } : {}),
  };
}

/** An element of another file of the same class, in the same place, with the same name or GlobalId. */
function twinOf<T extends Comparable>(
  item: T,
  place: Vec3,
  byCell: ReadonlyMap<string, readonly T[]>,
  placeOf: (item: T) => Vec3 | null,
): T | undefined {
  for (const x of [0, -1, 1]) {
    for (const y of [0, -1, 1]) {
      for (const z of [0, -1, 1]) {
        const twin = byCell.get(cellOf(place, [x, y, z]))?.find((other) => {
          const at = placeOf(other);
          return (
            other.ref.fileKey !== item.ref.fileKey &&
            other.ifcClass === item.ifcClass &&
            (other.name === item.name || other.ref.id === item.ref.id) &&
            at !== null &&
            distance3(at, place) <= SAME_PLACE_MM
          );
        });
        if (twin !== undefined) return twin;
      }
    }
  }
  return undefined;
}

function cellOf(place: Vec3, step: Vec3): string {
  return place.map((value, k) => Math.floor(value / SAME_PLACE_MM) + (step[k] ?? 0)).join();
}

function addTo<T>(map: Map<string, T[]>, key: string, item: T): void {
  const items = map.get(key);
  if (items === undefined) map.set(key, [item]);
  else items.push(item);
}

function sortStoreys(storeys: readonly Storey[]): readonly Storey[] {
  return [...storeys].sort((a, b) => a.elevationMm - b.elevationMm || compareText(a.id, b.id));
}

function duplicateQuery(item: Comparable, twin: Comparable): Query {
  return makeQuery('duplicate-element', {
    about: item.id,
    text: `${item.ifcClass} "${item.name}" of ${item.ref.fileKey} is also in ${twin.ref.fileKey}, in the same place; it counts once.`,
    why: 'Counted twice, it would make each of its penetrations twice.',
    settles: 'Nothing, if they are the same element.',
    evidence: [item, twin].map(({ ref }) => ({
      fact: 'duplicate',
      text: 'Same class, name and place.',
      place: { fileKey: ref.fileKey, id: ref.id },
    })),
  });
}

function meshPlace(mesh: Mesh | null): Vec3 | null {
  return mesh === null ? null : boxCentre(boxOfPositions(mesh.positionsMm));
}

function hostPlace({ mesh }: Host): Vec3 | null {
  return meshPlace(mesh);
}

function servicePlace({ axisMm, mesh }: Service): Vec3 | null {
  if (axisMm === null) return meshPlace(mesh);
  const box = boxOfPoints(axisMm);
  return box === null ? null : boxCentre(box);
}
