import { closestBodies, closestToWall, type LaidBody } from '../../geometry/body-gaps.ts';
import { islandsOf, rectangleCorners, shapePolygon } from '../../geometry/outline-polygon.ts';
import { shapeExtentMm, shapeText } from '../../geometry/shape.ts';
import type { Vec2 } from '../../geometry/vec.ts';
import type { PlacedBody } from '../../model/arrangement.ts';
import type { Seal } from '../../model/seal.ts';
import { fill, h, svg } from './dom.ts';
import { words } from './texts.ts';

/** Where bodies lie, by reference. */
export type Places = ReadonlyMap<string, Vec2>;

/**
 * The cross-section of a seal that can be worked on: bodies are dragged or moved by keys, and the
 * smallest gaps show while they move. `onMoved` is called when a body is let go.
 */
export function sealDrawing(seal: Seal, onMoved: (places: Places) => void): HTMLElement {
  const { opening } = seal;
  if (opening === null) return h('p', {}, seal.reason ?? words().none);
  const { widthMm, heightMm } = shapeExtentMm(opening);
  const sizeMm = Math.max(widthMm, heightMm);
  const margin = sizeMm * 0.12;
  const [w, height] = [widthMm + 2 * margin, heightMm + 2.6 * margin];
  const items = seal.arrangement?.items ?? [];
  const places = new Map(items.map(({ ref, xMm, yMm }): [string, Vec2] => [ref, [xMm, yMm]]));
  const marks = svg('g', { class: 'gaps' });
  const caption = h('p', { class: 'small', role: 'status' });
  const letter = String(sizeMm / 22);
  const redraw = () => drawGaps(marks, caption, seal, items, places, sizeMm);
  const bodies = items.map((item) =>
    bodyDrawing(item, letter, (to, isDone) => {
      places.set(item.ref, to);
      redraw();
      if (isDone) onMoved(places);
    }),
  );
  redraw();
  const picture = svg(
    'svg',
    {
      class: 'seal',
      viewBox: `${-w / 2} ${-heightMm / 2 - margin} ${w} ${height}`,
      role: 'group',
      'aria-label': shapeText(opening),
    },
    svg('path', {
      class: 'opening',
      'fill-rule': 'evenodd',
      d: [shapePolygon(opening), ...islandsOf(opening)].map(pathOf).join(''),
    }),
    ...seal.fillers.flatMap(({ name, outsideMm, boreMm, positionsMm }) =>
      positionsMm.map(([x, y]) =>
        svg(
          'g',
          { class: 'tube' },
          svg('title', {}, name),
          circle(x, y, outsideMm / 2),
          circle(x, y, boreMm / 2),
        ),
      ),
    ),
    ...bodies,
    marks,
    svg(
      'text',
      { class: 'size', x: '0', y: String(heightMm / 2 + margin * 1.1), 'font-size': letter },
      shapeText(opening),
    ),
  );
  return h('div', {}, picture, caption);
}

function pathOf(points: readonly Vec2[]): string {
  const corners = points.map(([x, y], at) => `${at === 0 ? 'M' : 'L'}${x} ${-y}`);
  return `${corners.join('')}Z`;
}

function circle(x: number, y: number, radius: number): SVGCircleElement {
  return svg('circle', { cx: String(x), cy: String(-y), r: String(radius) });
}

/** One body at its own origin, so that moving it is one attribute. */
function bodyDrawing(
  item: PlacedBody,
  letter: string,
  onMove: (to: Vec2, isDone: boolean) => void,
): SVGGElement {
  let at: Vec2 = [item.xMm, item.yMm];
  const { outline, angleRad, tube, ref } = item;
  const shape =
    outline.type === 'circle'
      ? circle(0, 0, outline.diameterMm / 2)
      : svg('path', {
          d: pathOf(rectangleCorners([0, 0], outline.widthMm, outline.heightMm, angleRad)),
        });
  const size =
    outline.type === 'circle'
      ? `${outline.diameterMm} mm`
      : `${outline.widthMm} × ${outline.heightMm} mm`;
  const group = svg(
    'g',
    { class: 'body', tabindex: '0', role: 'button', 'aria-label': `${ref}, ${size}` },
    svg('title', {}, `${ref}, ${size}`),
    tube === null ? null : svg('g', { class: 'tube' }, circle(0, 0, tube.outsideMm / 2)),
    shape,
    svg('text', { 'font-size': letter, 'dominant-baseline': 'central' }, shortened(ref)),
  );
  const put = (to: Vec2, isDone: boolean) => {
    at = to;
    group.setAttribute('transform', `translate(${to[0]} ${-to[1]})`);
    onMove(to, isDone);
  };
  group.setAttribute('transform', `translate(${at[0]} ${-at[1]})`);
  dragging(group, () => at, put);
  group.addEventListener('keydown', (event) => {
    const step = event.shiftKey ? 10 : 1;
    const steps: Readonly<Record<string, Vec2>> = {
      ArrowLeft: [-step, 0],
      ArrowRight: [step, 0],
      ArrowUp: [0, step],
      ArrowDown: [0, -step],
    };
    const by = steps[event.key];
    if (by === undefined) return;
    event.preventDefault();
    event.stopPropagation();
    put([at[0] + by[0], at[1] + by[1]], true);
  });
  return group;
}

const LONGEST_LABEL = 10;

function shortened(ref: string): string {
  return ref.length > LONGEST_LABEL ? `${ref.slice(0, LONGEST_LABEL - 1)}…` : ref;
}

function dragging(
  group: SVGGElement,
  where: () => Vec2,
  put: (to: Vec2, isDone: boolean) => void,
): void {
  let held: { readonly pointer: Vec2; readonly start: Vec2; moved: boolean } | null = null;
  const pointerMm = (event: PointerEvent): Vec2 | null => {
    const matrix = group.ownerSVGElement?.getScreenCTM();
    if (!matrix) return null;
    const point = new DOMPoint(event.clientX, event.clientY).matrixTransform(matrix.inverse());
    return [point.x, -point.y];
  };
  const placeOf = (event: PointerEvent): Vec2 | null => {
    const now = pointerMm(event);
    if (held === null || now === null) return null;
    return [held.start[0] + now[0] - held.pointer[0], held.start[1] + now[1] - held.pointer[1]];
  };
  group.addEventListener('pointerdown', (event) => {
    const pointer = pointerMm(event);
    if (pointer === null || event.button !== 0) return;
    group.setPointerCapture(event.pointerId);
    held = { pointer, start: where(), moved: false };
  });
  group.addEventListener('pointermove', (event) => {
    const to = placeOf(event);
    if (held === null || to === null) return;
    held.moved = true;
    put(to, false);
  });
  const letGo = (event: PointerEvent) => {
    const to = placeOf(event);
    const isMoved = held?.moved ?? false;
    held = null;
    if (to !== null && isMoved) put(to, true);
  };
  group.addEventListener('pointerup', letGo);
  group.addEventListener('pointercancel', letGo);
}

/** The two closest distances, between bodies and to the wall, drawn where they are. */
function drawGaps(
  marks: SVGGElement,
  caption: HTMLElement,
  seal: Seal,
  items: readonly PlacedBody[],
  places: Places,
  sizeMm: number,
): void {
  const { opening } = seal;
  if (opening === null) return;
  const laid: LaidBody[] = items.map((item) => {
    const [xMm, yMm] = places.get(item.ref) ?? [item.xMm, item.yMm];
    return { xMm, yMm, angleRad: item.angleRad, outline: item.outline };
  });
  const gaps = [closestBodies(laid), closestToWall(laid, opening)].flatMap((gap) =>
    gap === null ? [] : [gap],
  );
  marks.replaceChildren(
    ...gaps.flatMap(({ from, to, gapMm }) => [
      svg('line', {
        ...{ x1: String(from[0]), y1: String(-from[1]), x2: String(to[0]), y2: String(-to[1]) },
        'stroke-width': String(sizeMm / 160),
      }),
      svg(
        'text',
        {
          x: String((from[0] + to[0]) / 2),
          y: String(-(from[1] + to[1]) / 2 - sizeMm / 60),
          'font-size': String(sizeMm / 22),
          'stroke-width': String(sizeMm / 140),
        },
        gapMm.toFixed(1),
      ),
    ]),
  );
  const smallest = Math.min(...gaps.map(({ gapMm }) => gapMm));
  const { separationMm = 0, edgeMm = 0 } = seal.arrangement ?? {};
  const text = words();
  fill(
    caption,
    gaps.length === 0
      ? text.none
      : `${text.gapNow(smallest.toFixed(1))}; ${text.asked}: ${separationMm} / ${edgeMm} mm`,
  );
}
