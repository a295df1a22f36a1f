import { pathPoints } from '../../geometry/plane-curve.ts';
import { type SolidBody, solidBody } from '../../geometry/solid-body.ts';
import { type SlicePlane, sliceBody } from '../../geometry/solid-slice.ts';
import type { Vec2 } from '../../geometry/vec.ts';
import type { Building, Storey } from '../../model/building.ts';
import type { Drawing, DrawnView } from '../../model/drawing.ts';
import type { Issue } from '../../model/issue.ts';
import { layerRole } from '../../model/layer-role.ts';
import type { Penetration } from '../../model/penetration.ts';
import type { PlanDrawing, PlanLine, PlanMark } from '../../model/review.ts';
import { placeInView } from '../../write/dxf-tags/drawing-place.ts';

/** What plans are made of. */
export interface PlanSources {
  readonly building: Building | null;
  readonly drawings: readonly Drawing[];
  readonly issue: Issue;
}

/** Height of the cut above a level; own choice, as architects cut plans at about breast height. */
const CUT_ABOVE_LEVEL_MM = 1200;
/** Points a plan may have; own choice, a browser draws them at once. */
const MOST_POINTS = 400_000;

type Source =
  | { readonly name: string; readonly drawing: Drawing; readonly view: DrawnView }
  | { readonly name: string; readonly storey: Storey; readonly topMm: number };

/** Names of the plans, sections and elevations of all drawings, then of the levels of the models. */
export function planNames(sources: PlanSources): string[] {
  return sourcesOf(sources).map(({ name }) => name);
}

/** Names of the plans that show a penetration. */
export function plansShowing(sources: PlanSources, penetration: Penetration): string[] {
  return sourcesOf(sources)
    .filter((source) => markPlace(source, penetration) !== null)
    .map(({ name }) => name);
}

/** One plan with the penetrations marked; null where none has that name. */
export function planDrawing(sources: PlanSources, name: string): PlanDrawing | null {
  const source = sourcesOf(sources).find((each) => each.name === name);
  if (source === undefined) return null;
  const { issue, building } = sources;
  const marks = issue.penetrations.flatMap((penetration): PlanMark[] => {
    const atMm = markPlace(source, penetration);
    return atMm === null ? [] : [{ tag: issue.tags.get(penetration.id) ?? penetration.id, atMm }];
  });
  const isDrawn = 'drawing' in source;
  const all = isDrawn
    ? linesOfDrawing(source.drawing, source.view, issue)
    : building === null
      ? []
      : linesOfCut(building, source);
  const { lines, leftOut } = upTo(all, MOST_POINTS);
  return {
    name,
    source: isDrawn
      ? `drawing ${source.drawing.name}`
      : `models, cut ${CUT_ABOVE_LEVEL_MM} mm above the level`,
    lines,
    marks,
    leftOut,
  };
}

function sourcesOf({ building, drawings }: PlanSources): Source[] {
  const drawn = drawings.flatMap((drawing) =>
    drawing.views.map((view, at): Source => {
      const title = view.name ?? view.level ?? String(at + 1);
      return { name: `${drawing.name}: ${view.view} ${title}`, drawing, view };
    }),
  );
  const storeys = levelsOf(building?.storeys ?? []);
  const cuts = storeys.map(
    (storey, at): Source => ({
      name: `level ${storey.name}`,
      storey,
      topMm: storeys[at + 1]?.elevationMm ?? Number.POSITIVE_INFINITY,
    }),
  );
  return [...drawn, ...cuts];
}

/** Each level once from below, though several models have it. */
function levelsOf(storeys: readonly Storey[]): Storey[] {
  const byName = new Map(storeys.map((storey) => [storey.name, storey]));
  return [...byName.values()].sort((a, b) => a.elevationMm - b.elevationMm);
}

function markPlace(source: Source, penetration: Penetration): Vec2 | null {
  const { originMm } = penetration.frame;
  if ('storey' in source) {
    const isHere = penetration.where.level === source.storey.name && isInWorldPlan(penetration);
    return isHere ? [originMm[0], originMm[1]] : null;
  }
  return isShownIn(source.drawing, source.view, penetration)
    ? placeInView(source.view, originMm)
    : null;
}

function isInWorldPlan({ drawnIn }: Penetration): boolean {
  return drawnIn === undefined || drawnIn === 'plan';
}

/** Found in this drawing, or of the level of a plan that is joined to the project by a base point. */
function isShownIn(drawing: Drawing, view: DrawnView, penetration: Penetration): boolean {
  const files = [
    ...penetration.hosts.map(({ ref }) => ref.fileKey),
    ...penetration.openings.map(({ ref }) => ref.fileKey),
    ...penetration.crossings.flatMap(({ refs }) => refs.map(({ fileKey }) => fileKey)),
  ];
  const isRead = files.includes(drawing.fileKey);
  if (view.view !== 'plan') return isRead && penetration.drawnIn === view.view;
  return isRead
    ? penetration.drawnIn === undefined || penetration.drawnIn === 'plan'
    : view.base !== null && view.level !== null && view.level === penetration.where.level;
}

function linesOfDrawing(drawing: Drawing, view: DrawnView, { settings }: Issue): PlanLine[] {
  const kinds = new Map<string, PlanLine['kind']>();
  const kindOf = (layer: string): PlanLine['kind'] => {
    const known = kinds.get(layer);
    if (known !== undefined) return known;
    const { role } = layerRole(layer, settings);
    const kind =
      role === 'wall' || role === 'slab' ? 'host' : role === 'service' ? 'service' : 'other';
    kinds.set(layer, kind);
    return kind;
  };
  return drawing.entities.flatMap(({ layer, loops }) =>
    loops.flatMap((loop): PlanLine[] => {
      const points = pathPoints(loop.pieces);
      const [first] = points;
      if (first === undefined || !isInWindow(view, first)) return [];
      return [{ kind: kindOf(layer), pointsMm: flat(points) }];
    }),
  );
}

function isInWindow({ windowMm }: DrawnView, [x, y]: Vec2): boolean {
  if (windowMm === null) return true;
  const [x1, y1, x2, y2] = windowMm;
  return x >= x1 && x <= x2 && y >= y1 && y <= y2;
}

/** Hosts cut through, and services between this level and the next as lines. */
function linesOfCut(
  building: Building,
  { storey, topMm }: Extract<Source, { storey: Storey }>,
): PlanLine[] {
  const zMm = storey.elevationMm + CUT_ABOVE_LEVEL_MM;
  const lines: PlanLine[] = [];
  for (const { mesh, kind } of building.hosts) {
    if (mesh === null) continue;
    const body = solidBody(mesh);
    const [low, high] = [body.box.low[2], body.box.high[2]];
    if (low <= zMm && high >= zMm) lines.push(...cutAt(body, zMm, 'host'));
    // What one stands on is seen from above.
    else if (kind !== 'wall' && isFloorOf(storey, low, high)) {
      lines.push(...cutAt(body, (low + high) / 2, 'other'));
    }
  }
  for (const { axisMm } of building.services) {
    const isHere = axisMm?.some(([, , z]) => z >= storey.elevationMm && z < topMm) ?? false;
    if (axisMm === null || !isHere) continue;
    lines.push({ kind: 'service', pointsMm: flat(axisMm.map(([x, y]): Vec2 => [x, y])) });
  }
  return lines;
}

/** How far a floor's top may lie from its level, mm; own choice, screeds and falls. */
const FLOOR_WITHIN_MM = 600;

function isFloorOf({ elevationMm }: Storey, low: number, high: number): boolean {
  return low <= elevationMm + FLOOR_WITHIN_MM && high >= elevationMm - FLOOR_WITHIN_MM;
}

function cutAt(body: SolidBody, zMm: number, kind: PlanLine['kind']): PlanLine[] {
  const plane: SlicePlane = {
    origin: [0, 0, zMm],
    normal: [0, 0, 1],
    right: [1, 0, 0],
    up: [0, 1, 0],
  };
  return sliceBody(body, plane).flatMap((outline): PlanLine[] => {
    const [first] = outline;
    return first === undefined ? [] : [{ kind, pointsMm: flat([...outline, first]) }];
  });
}

/** To a tenth of a millimetre: nobody sees more, and texts stay short. */
function flat(points: readonly Vec2[]): number[] {
  return points.flatMap(([x, y]) => [Math.round(x * 10) / 10, Math.round(y * 10) / 10]);
}

/** Hosts and services first, so that what is left out is the least of the matter. */
function upTo(lines: readonly PlanLine[], mostPoints: number) {
  const rank = { host: 0, service: 1, other: 2 };
  const sorted = [...lines].sort((a, b) => rank[a.kind] - rank[b.kind]);
  let points = 0;
  const kept = sorted.filter(({ pointsMm }) => {
    points += pointsMm.length / 2;
    return points <= mostPoints;
  });
  return { lines: kept, leftOut: sorted.length - kept.length };
}
