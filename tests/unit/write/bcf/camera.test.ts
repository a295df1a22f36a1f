import fc from 'fast-check';
import { expect, test } from 'vitest';
import { cross3, dot3, length3, sub3, type Vec3 } from '../../../../src/geometry/vec.ts';
import type { Penetration } from '../../../../src/model/penetration.ts';
import { cameraFor } from '../../../../src/write/bcf/camera.ts';
import { makePenetration } from '../../../makers/issue/make-penetration.ts';

/** Where a point falls in the picture, −1 to 1 both ways; null behind the camera. */
function project(camera: ReturnType<typeof cameraFor>, pointMm: Vec3): [number, number] | null {
  const right = cross3(camera.direction, camera.up);
  const to = sub3([pointMm[0] / 1000, pointMm[1] / 1000, pointMm[2] / 1000], camera.at);
  const depth = dot3(to, camera.direction);
  if (depth <= 0) return null;
  const half = Math.tan(((camera.fieldOfViewDeg ?? 0) * Math.PI) / 360);
  return [
    dot3(to, right) / depth / half / (camera.aspectRatio ?? 1),
    dot3(to, camera.up) / depth / half,
  ];
}

function penetrationAt(frame: Penetration['frame'], diameterMm: number): Penetration {
  return makePenetration('p', { frame, shape: { type: 'circle', diameterMm } });
}

test('the whole opening is in the picture and of a fair size, wherever it is', () => {
  const turn = fc.double({ min: 0, max: Math.PI * 2, noNaN: true });
  const place = fc.double({ min: -1e6, max: 1e6, noNaN: true });
  fc.assert(
    fc.property(
      turn,
      fc.tuple(place, place, place),
      fc.integer({ min: 20, max: 3000 }),
      fc.boolean(),
      (angle, originMm, diameterMm, isSlab) => {
        const wall: Vec3 = [Math.cos(angle), Math.sin(angle), 0];
        const axis: Vec3 = isSlab ? [0, 0, -1] : wall;
        const up: Vec3 = isSlab ? [0, 1, 0] : [0, 0, 1];
        const right = cross3(axis, up);
        const camera = cameraFor(penetrationAt({ originMm, axis, right, up }, diameterMm));
        expect(length3(camera.direction)).toBeCloseTo(1, 6);
        expect(dot3(camera.direction, camera.up)).toBeCloseTo(0, 6);
        // Before the near face, not inside the host.
        const before = dot3(
          sub3(originMm, [camera.at[0] * 1000, camera.at[1] * 1000, camera.at[2] * 1000]),
          axis,
        );
        expect(before).toBeGreaterThan(100);
        const edge = (a: number): Vec3 => [
          originMm[0] + (diameterMm / 2) * (right[0] * Math.cos(a) + up[0] * Math.sin(a)),
          originMm[1] + (diameterMm / 2) * (right[1] * Math.cos(a) + up[1] * Math.sin(a)),
          originMm[2] + (diameterMm / 2) * (right[2] * Math.cos(a) + up[2] * Math.sin(a)),
        ];
        for (let a = 0; a < 6.28; a += 0.4) {
          const seen = project(camera, edge(a));
          expect(seen).not.toBeNull();
          expect(Math.max(...(seen ?? [9]).map(Math.abs))).toBeLessThan(0.6);
        }
      },
    ),
  );
});
