import type { Scene } from '../../model/review.ts';
import type { Backend } from './backend.ts';
import { button, fill, h } from './dom.ts';
import type { SceneStage } from './scene-view.ts';
import { words } from './texts.ts';

let open: SceneStage | null = null;

/** Graphics memory is given back when another view takes the place. */
export function closeSolid(): void {
  open?.close();
  open = null;
}

/** Host, opening and services as solids, turned by drag, wheel, keys and buttons. */
export function solidView(
  tag: string,
  backend: Backend,
  failed: (error: unknown) => void,
): HTMLElement {
  const place = h('section', { class: 'stage' });
  backend
    .ask({ ask: 'scene', tag })
    .then(async (scene) => {
      if (scene === null || scene.solids.length === 0) {
        fill(place, h('p', {}, words().noSolid));
        return;
      }
      const { stageScene } = await import('./scene-view.ts');
      if (place.isConnected) showScene(place, scene, tag, stageScene);
    })
    .catch(failed);
  return place;
}

const STEP_RAD = Math.PI / 12;

function showScene(
  place: HTMLElement,
  scene: Scene,
  tag: string,
  stageScene: (canvas: HTMLCanvasElement, scene: Scene) => SceneStage,
): void {
  const text = words();
  const names = scene.solids.map(({ kind, name }) => `${kind} ${name}`.trim());
  const canvas = h('canvas', {
    class: 'solid',
    tabindex: '0',
    role: 'img',
    'aria-label': `${tag}: ${[...new Set(names)].join(', ')}`,
  });
  const knife = h('input', {
    id: 'cut',
    type: 'range',
    min: '0',
    max: '1',
    step: '0.02',
    value: '0',
  });
  fill(
    place,
    h(
      'p',
      { class: 'actions' },
      button('solid-left', text.turnLeft, () => stage.turn(-STEP_RAD, 0)),
      button('solid-right', text.turnRight, () => stage.turn(STEP_RAD, 0)),
      button('solid-in', text.zoomIn, () => stage.zoom(1 / 1.25)),
      button('solid-out', text.zoomOut, () => stage.zoom(1.25)),
      h('label', { for: 'cut' }, text.cut),
      knife,
    ),
    canvas,
    h('p', { class: 'small' }, text.solidSource[scene.source]),
  );
  closeSolid();
  const stage = stageScene(canvas, scene);
  open = stage;
  knife.addEventListener('input', () => stage.cut(knife.valueAsNumber));
  steer(canvas, stage);
}

function steer(canvas: HTMLCanvasElement, stage: SceneStage): void {
  canvas.addEventListener('pointerdown', (event) => canvas.setPointerCapture(event.pointerId));
  canvas.addEventListener('pointermove', (event) => {
    if (event.buttons === 1) stage.turn(-event.movementX / 120, event.movementY / 120);
  });
  canvas.addEventListener(
    'wheel',
    (event) => {
      event.preventDefault();
      stage.zoom(event.deltaY < 0 ? 1 / 1.15 : 1.15);
    },
    { passive: false },
  );
  canvas.addEventListener('keydown', (event) => {
    const turns: Readonly<Record<string, readonly [number, number]>> = {
      ArrowLeft: [-STEP_RAD, 0],
      ArrowRight: [STEP_RAD, 0],
      ArrowUp: [0, STEP_RAD],
      ArrowDown: [0, -STEP_RAD],
    };
    const by = turns[event.key];
    if (by === undefined) return;
    event.preventDefault();
    stage.turn(...by);
  });
}
