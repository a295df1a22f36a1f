import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { boxOfLoops } from '../../../src/geometry/plane-box.ts';
import { type PlanePiece, pathPoints } from '../../../src/geometry/plane-curve.ts';

const coordinate = fc.double({ min: -1e5, max: 1e5, noNaN: true });
const point = fc.tuple(coordinate, coordinate);
const piece: fc.Arbitrary<PlanePiece> = fc.oneof(
  fc.record({ type: fc.constant('line' as const), from: point, to: point }),
  fc.record({
    type: fc.constant('arc' as const),
    centre: point,
    radiusMm: fc.double({ min: 0, max: 1e4, noNaN: true }),
    startRad: fc.double({ min: -7, max: 7, noNaN: true }),
    sweepRad: fc.double({ min: -2 * Math.PI, max: 2 * Math.PI, noNaN: true }),
  }),
);

describe('the box round lines and arcs', () => {
  it('holds every point on them', () => {
    fc.assert(
      fc.property(fc.array(piece, { minLength: 1, maxLength: 6 }), (pieces) => {
        const [x1, y1, x2, y2] = boxOfLoops([{ pieces }]) ?? [0, 0, 0, 0];
        for (const [x, y] of pathPoints(pieces)) {
          expect(Math.min(x - x1, x2 - x, y - y1, y2 - y)).toBeGreaterThan(-1e-6);
        }
      }),
    );
  });

  it('is tight round straight lines', () => {
    const lines: PlanePiece[] = [
      { type: 'line', from: [3, 9], to: [-2, 4] },
      { type: 'line', from: [1, 12], to: [5, 7] },
    ];
    expect(boxOfLoops([{ pieces: lines.slice(0, 1) }, { pieces: lines.slice(1) }])).toEqual([
      -2, 4, 5, 12,
    ]);
  });

  it('is none where nothing is drawn', () => {
    expect(boxOfLoops([])).toBeNull();
    expect(boxOfLoops([{ pieces: [] }])).toBeNull();
  });
});
