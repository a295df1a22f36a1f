import {
  AmbientLight,
  BufferAttribute,
  BufferGeometry,
  DirectionalLight,
  DoubleSide,
  EdgesGeometry,
  LineBasicMaterial,
  LineSegments,
  Mesh,
  MeshLambertMaterial,
  PerspectiveCamera,
  Plane,
  Scene as Space,
  Vector3,
  WebGLRenderer,
} from 'three';
import type { Scene, SceneSolid } from '../../model/review.ts';

/** Solids of one penetration on a canvas. */
export interface SceneStage {
  /** About the upright axis, radians. */
  readonly turn: (aroundRad: number, tiltRad: number) => void;
  readonly zoom: (by: number) => void;
  /** Cuts away what lies nearer than this share of the depth, 0–1; 0 cuts nothing. */
  readonly cut: (share: number) => void;
  readonly close: () => void;
}

const LOOKS: Readonly<Record<SceneSolid['kind'], { colour: number; opacity: number }>> = {
  host: { colour: 0xb9b4a8, opacity: 0.55 },
  opening: { colour: 0x1f6f78, opacity: 0.45 },
  service: { colour: 0x55606b, opacity: 1 },
};

/** Angle of view, degrees. */
const VIEW_ANGLE = 35;

/** Shows a scene; throws where the browser has no WebGL. */
export function stageScene(canvas: HTMLCanvasElement, scene: Scene): SceneStage {
  const renderer = new WebGLRenderer({ canvas, antialias: true, alpha: true });
  renderer.setPixelRatio(window.devicePixelRatio);
  const space = new Space();
  const lamp = new DirectionalLight(0xffffff, 1.6);
  lamp.position.set(-1, 2, -3);
  space.add(new AmbientLight(0xffffff, 1.6), lamp);
  const knife = new Plane(new Vector3(0, 0, -1), 0);
  const sides = sidesOf(scene.radiusMm * SHOWN_ROUND);
  for (const solid of scene.solids) space.add(...meshOf(solid, knife, sides));
  const camera = new PerspectiveCamera(VIEW_ANGLE, 1, scene.radiusMm / 50, scene.radiusMm * 200);
  let [around, tilt, far, share] = [0.6, 0.35, scene.radiusMm * 7, 0];
  const draw = () => {
    const { clientWidth, clientHeight } = canvas;
    if (clientWidth === 0 || clientHeight === 0) return;
    renderer.setSize(clientWidth, clientHeight, false);
    camera.aspect = clientWidth / clientHeight;
    camera.updateProjectionMatrix();
    // The viewer stands before the host, where z is negative, and x runs to the right.
    camera.position.set(
      far * Math.sin(around) * Math.cos(tilt),
      far * Math.sin(tilt),
      far * Math.cos(around) * Math.cos(tilt),
    );
    camera.lookAt(0, 0, 0);
    knife.constant = share === 0 ? 1e9 : scene.radiusMm * (1.2 - 2.4 * share);
    renderer.localClippingEnabled = true;
    renderer.render(space, camera);
  };
  const watch = new ResizeObserver(draw);
  watch.observe(canvas);
  draw();
  return {
    turn: (aroundRad, tiltRad) => {
      around += aroundRad;
      tilt = Math.max(-1.5, Math.min(1.5, tilt + tiltRad));
      draw();
    },
    zoom: (by) => {
      far = Math.max(scene.radiusMm * 1.5, Math.min(scene.radiusMm * 60, far * by));
      draw();
    },
    cut: (to) => {
      share = to;
      draw();
    },
    close: () => {
      watch.disconnect();
      renderer.dispose();
      renderer.forceContextLoss();
    },
  };
}

/** How much of host and services is shown round the opening, by its half size. */
const SHOWN_ROUND = 3;

/** Planes that keep what lies within this distance of the axis. */
function sidesOf(reachMm: number): Plane[] {
  return [
    new Plane(new Vector3(1, 0, 0), reachMm),
    new Plane(new Vector3(-1, 0, 0), reachMm),
    new Plane(new Vector3(0, 1, 0), reachMm),
    new Plane(new Vector3(0, -1, 0), reachMm),
    new Plane(new Vector3(0, 0, 1), reachMm),
    new Plane(new Vector3(0, 0, -1), reachMm),
  ];
}

/** z is turned round: away from the viewer in the section's frame, towards the viewer in three's. */
function meshOf(
  { kind, positionsMm, triangles }: SceneSolid,
  knife: Plane,
  sides: readonly Plane[],
) {
  const geometry = new BufferGeometry();
  const positions = Float32Array.from(positionsMm, (value, at) => (at % 3 === 2 ? -value : value));
  geometry.setAttribute('position', new BufferAttribute(positions, 3));
  geometry.setIndex([...triangles]);
  const flat = geometry.toNonIndexed();
  flat.computeVertexNormals();
  const { colour, opacity } = LOOKS[kind];
  // The knife uncovers what passes.
  const clippingPlanes = kind === 'service' ? [...sides] : [...sides, knife];
  const material = new MeshLambertMaterial({
    color: colour,
    opacity,
    transparent: opacity < 1,
    depthWrite: opacity === 1,
    side: DoubleSide,
    clippingPlanes,
  });
  const edges = new LineSegments(
    new EdgesGeometry(geometry, 25),
    new LineBasicMaterial({ color: 0x1d2733, clippingPlanes }),
  );
  return [new Mesh(flat, material), edges];
}
