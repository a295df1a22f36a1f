import { remembering } from '../../basics/remember.ts';
import { distance2, dot2, scale2, sub2, unit2, type Vec2 } from '../../geometry/vec.ts';
import type { GridAxis } from '../../model/building.ts';
import type { DrawnEntity } from '../../model/drawing.ts';
import { speaksOfGrid } from '../../model/layer-role.ts';
import type { Sheet } from './sheet.ts';
import type { ViewFrame } from './view-frame.ts';

/** Lines shorter than this are ticks and leaders. */
const SHORTEST_AXIS_MM = 1500;
/** Names of axes: letters, numbers, or both, with a dash, a point or a stroke: `A`, `12`, `B.1`, `3'`. */
const AXIS_NAME = /^(?:\p{Lu}{1,2}|\d{1,3})(?:[.\-/]?(?:\d{1,2}|\p{Lu}))?['′]?$/u;
/** A line points at the middle of its bubble within this part of the radius. */
const AIM_RATIO = 0.3;
/** Beyond its rim a bubble may stand off the line by this part of the radius. */
const STAND_OFF_RATIO = 0.6;
/** A bubble without a rim of its own (a block) reaches this far. */
const BUBBLE_MM = 1500;
/** A name without a bubble stands beyond the end of its line by so many of its heights at most. */
const NAME_HEIGHTS = 2.5;

/** What has more lines or bubbles than this on layers of grids shows something else. */
const MOST_AXES = 2000;

/** The name of an axis and where it stands. */
interface AxisName {
  readonly name: string;
  readonly centre: Vec2;
  readonly radiusMm: number;
}

/**
 * Axes of a plan's grid, in the world: straight lines on layers of grids, with the name that stands
 * at an end of each. A line whose ends bear two names, or none, is no axis.
 */
export function planGrid(sheet: Sheet, frame: ViewFrame): readonly GridAxis[] {
  const isGrid = remembering(speaksOfGrid);
  const drawn = sheet.others.filter(({ layer }) => isGrid(layer));
  if (!frame.isPlan || drawn.length === 0) return [];
  const lines = drawn.flatMap(straightLines);
  const rims = drawn.flatMap(rimOf);
  if (lines.length > MOST_AXES || rims.length > MOST_AXES) return [];
  const names = axisNames(sheet, rims);
  return names.length > MOST_AXES
    ? []
    : lines.flatMap(([from, to]): GridAxis[] => {
        const ends = names.filter((each) => standsAt(each, from, to) || standsAt(each, to, from));
        const [tag, other] = new Set(ends.map(({ name }) => name));
        if (tag === undefined || other !== undefined) return [];
        return [{ tag, startMm: frame.toWorld(from, 0), endMm: frame.toWorld(to, 0) }];
      });
}

/** Straight pieces of open lines, those long enough for an axis. */
function straightLines({ form, loops }: DrawnEntity): (readonly [Vec2, Vec2])[] {
  if (form !== 'curve') return [];
  return loops
    .filter(({ isClosed }) => !isClosed)
    .flatMap(({ pieces }) => pieces)
    .flatMap((piece) =>
      piece.type === 'line' && distance2(piece.from, piece.to) >= SHORTEST_AXIS_MM
        ? [[piece.from, piece.to] as const]
        : [],
    );
}

/** Names in bubbles, in blocks of bubbles, and bare ones on layers of grids. */
function axisNames(sheet: Sheet, rims: readonly AxisName[]): readonly AxisName[] {
  const rimAt = (place: Vec2): AxisName | undefined =>
    rims.find(({ centre, radiusMm }) => distance2(place, centre) <= radiusMm / 2);
  const written = [...sheet.names.texts, ...sheet.texts]
    .filter(({ text }) => AXIS_NAME.test(text.trim()))
    .filter(({ layer, centreMm }) => speaksOfGrid(layer) || rimAt(centreMm) !== undefined)
    .map(({ text, centreMm, heightMm }): AxisName => {
      const rim = rimAt(centreMm);
      const bare = { centre: centreMm, radiusMm: NAME_HEIGHTS * heightMm };
      return { ...(rim ?? bare), name: text.trim() };
    });
  const inBlocks = sheet.names.tags
    .filter(({ layer, blockName }) => speaksOfGrid(layer) || speaksOfGrid(blockName))
    .flatMap(({ positionMm, attributes }) =>
      attributes
        .filter(({ text }) => AXIS_NAME.test(text.trim()))
        .map(({ text }): AxisName => {
          const bare = { centre: positionMm, radiusMm: BUBBLE_MM };
          return { ...(rimAt(positionMm) ?? bare), name: text.trim() };
        }),
    );
  return [...written, ...inBlocks];
}

function rimOf({ type, loops }: DrawnEntity): AxisName[] {
  const [piece] = loops[0]?.pieces ?? [];
  if (type !== 'CIRCLE' || piece?.type !== 'arc') return [];
  return [{ name: '', centre: piece.centre, radiusMm: piece.radiusMm }];
}

/** Whether a name stands at the end of a line and the line points at it. */
function standsAt({ centre, radiusMm }: AxisName, end: Vec2, other: Vec2): boolean {
  const out = unit2(sub2(end, other));
  if (out === null) return false;
  const way = sub2(centre, end);
  const along = dot2(way, out);
  const aside = distance2(way, scale2(out, along));
  return (
    along >= -radiusMm / 2 &&
    along <= radiusMm * (1 + STAND_OFF_RATIO) &&
    aside <= radiusMm * AIM_RATIO
  );
}
