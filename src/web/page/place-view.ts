import type { PlanDrawing, ReviewDetails } from '../../model/review.ts';
import type { Backend } from './backend.ts';
import { button, choice, fill, h } from './dom.ts';
import { words } from './texts.ts';

interface Camera {
  /** Middle of the picture, mm of the drawing. */
  readonly x: number;
  readonly y: number;
  readonly pxPerMm: number;
}

/** Width of what is shown round a mark at first, mm. */
const FIRST_WIDTH_MM = 12_000;

/** The plan, section or level that shows a penetration, with all marks; moved by drag, wheel and keys. */
export function placeView(
  details: ReviewDetails,
  backend: Backend,
  onChoose: (tag: string) => void,
  failed: (error: unknown) => void,
): HTMLElement {
  const text = words();
  const [first] = details.plans;
  if (first === undefined) return h('p', {}, text.noPlan);
  const stage = h('div', { class: 'stage' });
  const show = (name: string) => {
    backend.ask({ ask: 'plan', name }).then((plan) => {
      if (plan !== null) fill(stage, ...planParts(plan, details.tag, onChoose));
    }, failed);
  };
  show(first);
  return h(
    'section',
    {},
    choice(
      'plan',
      text.plan,
      details.plans.map((name) => [name, name] as const),
      first,
      show,
    ),
    stage,
  );
}

function planParts(plan: PlanDrawing, tag: string, onChoose: (tag: string) => void) {
  const text = words();
  const canvas = h('canvas', {
    class: 'plan',
    tabindex: '0',
    role: 'img',
    'aria-label': `${plan.name}: ${tag}`,
  });
  const mark = plan.marks.find((each) => each.tag === tag)?.atMm ?? [0, 0];
  const start = (): Camera => ({
    x: mark[0],
    y: mark[1],
    pxPerMm: Math.max(canvas.clientWidth, 200) / FIRST_WIDTH_MM,
  });
  let camera: Camera | null = null;
  const draw = () => {
    camera ??= start();
    drawPlan(canvas, plan, tag, camera);
  };
  const zoom = (by: number) => {
    const now = camera ?? start();
    camera = { ...now, pxPerMm: Math.min(50, Math.max(1e-4, now.pxPerMm * by)) };
    draw();
  };
  const shift = (dx: number, dy: number) => {
    const now = camera ?? start();
    camera = { ...now, x: now.x + dx / now.pxPerMm, y: now.y + dy / now.pxPerMm };
    draw();
  };
  move(canvas, { zoom, shift, press: (x, y) => pressed(canvas, plan, camera, x, y, onChoose) });
  new ResizeObserver(draw).observe(canvas);
  return [
    h(
      'p',
      { class: 'actions' },
      button('plan-in', text.zoomIn, () => zoom(1.5)),
      button('plan-out', text.zoomOut, () => zoom(1 / 1.5)),
      button('plan-mark', text.toMark, () => {
        camera = start();
        draw();
      }),
    ),
    canvas,
    h(
      'p',
      { class: 'small' },
      [plan.source, ...(plan.leftOut > 0 ? [text.planLeftOut(plan.leftOut)] : [])].join('. '),
    ),
  ];
}

interface Moves {
  readonly zoom: (by: number) => void;
  /** To the right and up, px. */
  readonly shift: (dx: number, dy: number) => void;
  readonly press: (x: number, y: number) => void;
}

function move(canvas: HTMLCanvasElement, { zoom, shift, press }: Moves): void {
  let held: { x: number; y: number; isMoved: boolean } | null = null;
  canvas.addEventListener('pointerdown', (event) => {
    canvas.setPointerCapture(event.pointerId);
    held = { x: event.clientX, y: event.clientY, isMoved: false };
  });
  canvas.addEventListener('pointermove', (event) => {
    if (held === null) return;
    const [dx, dy] = [event.clientX - held.x, event.clientY - held.y];
    if (!held.isMoved && Math.hypot(dx, dy) < 3) return;
    held = { x: event.clientX, y: event.clientY, isMoved: true };
    shift(-dx, dy);
  });
  canvas.addEventListener('pointerup', (event) => {
    if (held !== null && !held.isMoved) press(event.offsetX, event.offsetY);
    held = null;
  });
  canvas.addEventListener(
    'wheel',
    (event) => {
      event.preventDefault();
      zoom(event.deltaY < 0 ? 1.2 : 1 / 1.2);
    },
    { passive: false },
  );
  canvas.addEventListener('keydown', (event) => {
    const step = 40;
    const actions: Readonly<Record<string, () => void>> = {
      ArrowLeft: () => shift(-step, 0),
      ArrowRight: () => shift(step, 0),
      ArrowUp: () => shift(0, step),
      ArrowDown: () => shift(0, -step),
      '+': () => zoom(1.2),
      '-': () => zoom(1 / 1.2),
    };
    const act = actions[event.key];
    if (act === undefined) return;
    event.preventDefault();
    act();
  });
}

/** Pixels within which a mark counts as pressed. */
const PRESS_PX = 12;

function pressed(
  canvas: HTMLCanvasElement,
  plan: PlanDrawing,
  camera: Camera | null,
  x: number,
  y: number,
  onChoose: (tag: string) => void,
): void {
  if (camera === null) return;
  const to = toScreen(canvas, camera);
  const near = plan.marks
    .map(({ tag, atMm }) => ({ tag, off: Math.hypot(to(atMm)[0] - x, to(atMm)[1] - y) }))
    .filter(({ off }) => off <= PRESS_PX)
    .sort((a, b) => a.off - b.off);
  if (near[0] !== undefined) onChoose(near[0].tag);
}

function toScreen(canvas: HTMLCanvasElement, { x, y, pxPerMm }: Camera) {
  const [w, height] = [canvas.clientWidth, canvas.clientHeight];
  return ([px = 0, py = 0]: readonly number[]): [number, number] => [
    w / 2 + (px - x) * pxPerMm,
    height / 2 - (py - y) * pxPerMm,
  ];
}

function drawPlan(canvas: HTMLCanvasElement, plan: PlanDrawing, tag: string, camera: Camera): void {
  const density = window.devicePixelRatio;
  canvas.width = Math.round(canvas.clientWidth * density);
  canvas.height = Math.round(canvas.clientHeight * density);
  const brush = canvas.getContext('2d');
  if (brush === null) return;
  brush.scale(density, density);
  const style = getComputedStyle(canvas);
  const colour = (name: string) => style.getPropertyValue(name).trim();
  const to = toScreen(canvas, camera);
  const widths = { host: 1.6, service: 1.2, other: 0.6 };
  for (const kind of ['other', 'service', 'host'] as const) {
    brush.strokeStyle = colour(`--${kind}`);
    brush.lineWidth = widths[kind];
    brush.setLineDash(kind === 'service' ? [6, 3] : []);
    brush.beginPath();
    for (const line of plan.lines) if (line.kind === kind) trace(brush, line.pointsMm, to);
    brush.stroke();
  }
  brush.setLineDash([]);
  brush.font = '600 12px system-ui, sans-serif';
  for (const mark of plan.marks) {
    const isChosen = mark.tag === tag;
    const [x, y] = to(mark.atMm);
    brush.strokeStyle = colour(isChosen ? '--accent' : '--ink');
    brush.fillStyle = colour(isChosen ? '--accent' : '--ink');
    brush.lineWidth = isChosen ? 3 : 1.5;
    brush.beginPath();
    brush.arc(x, y, isChosen ? 11 : 5, 0, 2 * Math.PI);
    brush.stroke();
    if (isChosen || camera.pxPerMm > 0.04) brush.fillText(mark.tag, x + 14, y - 8);
  }
}

function trace(
  brush: CanvasRenderingContext2D,
  points: readonly number[],
  to: (point: readonly number[]) => [number, number],
): void {
  for (let at = 0; at + 1 < points.length; at += 2) {
    const [x, y] = to([points[at] ?? 0, points[at + 1] ?? 0]);
    if (at === 0) brush.moveTo(x, y);
    else brush.lineTo(x, y);
  }
}
