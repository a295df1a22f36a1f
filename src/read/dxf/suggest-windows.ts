import { compareText } from '../../basics/order.ts';
import { boxOfLoops, type PlaneBox } from '../../geometry/plane-box.ts';
import type { Vec2 } from '../../geometry/vec.ts';
import type { DrawnEntity, DrawnText, DrawnView } from '../../model/drawing.ts';
import { titledView } from './drawing-views.ts';

/** A part of a drawing that a title names. */
export interface SuggestedView {
  readonly view: DrawnView['view'];
  readonly title: string;
  /** x1, y1, x2, y2, mm; null where the parts of the drawing do not lie apart. */
  readonly windowMm: PlaneBox | null;
}

/** Parts are told apart by empty strips of a sixtieth of the drawing. Our own choice. */
const CELLS = 60;
/** What spans more than this of the drawing is a border round everything. */
const BORDER_RATIO = 0.85;

/** The views of a drawing by its titles, each with the part of the drawing that lies about it. */
export function suggestViews(
  entities: readonly DrawnEntity[],
  texts: readonly DrawnText[],
): SuggestedView[] {
  const titles = texts.flatMap((text) => {
    const view = titledView(text.text.trim());
    return view === null ? [] : [{ text, view }];
  });
  const windows = titles.map((): PlaneBox | null => null);
  for (const part of partsOf(entities)) {
    const nearest = nearestTitle(
      part,
      titles.map(({ text }) => text.centreMm),
    );
    if (nearest === null) continue;
    const known = windows[nearest] ?? null;
    windows[nearest] = known === null ? part : joinBoxes(known, part);
  }
  return titles
    .map(({ text, view }, i): SuggestedView => {
      const own = windows[i] ?? null;
      // Parts that reach into one another are no windows.
      const isApart = windows.every((other, j) => j === i || !overlap(own, other));
      return { view, title: text.text.trim(), windowMm: isApart ? own : null };
    })
    .sort((a, b) => compareText(a.title, b.title));
}

function overlap(a: PlaneBox | null, b: PlaneBox | null): boolean {
  if (a === null || b === null) return false;
  return a[0] < b[2] && b[0] < a[2] && a[1] < b[3] && b[1] < a[3];
}

function joinBoxes(a: PlaneBox, b: PlaneBox): PlaneBox {
  return [Math.min(a[0], b[0]), Math.min(a[1], b[1]), Math.max(a[2], b[2]), Math.max(a[3], b[3])];
}

/** Boxes round the parts of a drawing that lie apart, on a grid of cells that something touches. */
function partsOf(entities: readonly DrawnEntity[]): PlaneBox[] {
  const boxes = entities.map(({ loops }) => boxOfLoops(loops)).filter((box) => box !== null);
  const [first] = boxes;
  if (first === undefined) return [];
  const all = boxes.reduce(joinBoxes, first);
  const size = Math.max(all[2] - all[0], all[3] - all[1], 1);
  const cell = size / CELLS;
  const isBorder = (box: PlaneBox) =>
    box[2] - box[0] > BORDER_RATIO * (all[2] - all[0]) &&
    box[3] - box[1] > BORDER_RATIO * (all[3] - all[1]);
  const column = (x: number) => Math.floor((x - all[0]) / cell);
  const row = (y: number) => Math.floor((y - all[1]) / cell);
  const cells = new Map<number, PlaneBox>();
  for (const box of boxes) {
    if (isBorder(box)) continue;
    for (let i = column(box[0]); i <= column(box[2]); i++) {
      for (let j = row(box[1]); j <= row(box[3]); j++) {
        const key = i * ROWS + j;
        const known = cells.get(key);
        cells.set(key, known === undefined ? box : joinBoxes(known, box));
      }
    }
  }
  return connected(cells);
}

const ROWS = 1024;

function connected(cells: ReadonlyMap<number, PlaneBox>): PlaneBox[] {
  const seen = new Set<number>();
  const parts: PlaneBox[] = [];
  for (const [start, box] of cells) {
    if (seen.has(start)) continue;
    seen.add(start);
    let part = box;
    const waiting = [start];
    for (let at = waiting.pop(); at !== undefined; at = waiting.pop()) {
      for (const step of [1, -1, ROWS, -ROWS, ROWS + 1, ROWS - 1, 1 - ROWS, -1 - ROWS]) {
        const next = cells.get(at + step);
        if (next === undefined || seen.has(at + step)) continue;
        seen.add(at + step);
        part = joinBoxes(part, next);
        waiting.push(at + step);
      }
    }
    parts.push(part);
  }
  return parts;
}

/** The title nearest to a part; the first of those as near. */
function nearestTitle(part: PlaneBox, places: readonly Vec2[]): number | null {
  let best: number | null = null;
  let bestDistance = Number.POSITIVE_INFINITY;
  places.forEach(([x, y], i) => {
    const dx = Math.max(part[0] - x, 0, x - part[2]);
    const dy = Math.max(part[1] - y, 0, y - part[3]);
    const distance = Math.hypot(dx, dy);
    if (distance >= bestDistance) return;
    best = i;
    bestDistance = distance;
  });
  return best;
}
