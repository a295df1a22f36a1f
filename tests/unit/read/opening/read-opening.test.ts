import { expect, test } from 'vitest';
import { readOpening } from '../../../../src/read/opening/read-opening.ts';

const read = (text: string) =>
  readOpening({ key: 'opening', name: 'opening.yaml', bytes: new TextEncoder().encode(text) });

test('any shape, cables, rectangles, bundles and fixed contents', () => {
  const task = read(`
opening: { type: polygon, pointsMm: [[0, 0], [300, 0], [300, 200], [0, 200]] }
cables:
  - { diameterMm: 37, count: 3, bundle: { id: T1, form: trefoil } }
  - { ref: E1, diameterMm: 12, fixedAt: { xMm: 20, yMm: 30 } }
rectangles:
  - { ref: tray, widthMm: 150, heightMm: 50, turns: quarter }
separationMm: 6
`);
  expect(task.opening.type).toBe('polygon');
  expect(task.separationMm).toBe(6);
  expect(task.bodies.map((body) => body.ref)).toEqual(['1.1', '1.2', '1.3', 'E1', 'tray']);
  expect(task.bodies[3]?.fixedAt).toEqual({ xMm: 20, yMm: 30, angleRad: 0 });
});

test('JSON is read as well', () => {
  expect(read('{"opening":{"type":"circle","diameterMm":150}}').bodies).toEqual([]);
});

test('a size of zero is refused with its line', () => {
  expect(() => read('opening:\n  type: circle\n  diameterMm: 0\n')).toThrow(
    expect.objectContaining({
      code: 'settings-invalid',
      where: expect.objectContaining({ line: 3 }),
    }),
  );
});

test('what the hole is, what is asked of it, and settings of its own', () => {
  const task = read(`
opening: { type: circle, diameterMm: 150 }
cables: [{ diameterMm: 37, count: 3 }]
thicknessMm: 250
raceway: duct
substrate: concrete
duties:
  - { duty: water, headM: 5, side: far }
  - { duty: fire, rating: EI 120 }
design: { setBackMm: 30, faces: 2 }
`);
  expect(task.hole).toEqual({ thicknessMm: 250, raceway: 'duct', substrate: 'concrete' });
  expect(task.duties.map(({ kind, headM, side, rating }) => [kind, headM, side, rating])).toEqual([
    ['water', 5, 'far', null],
    ['fire', null, null, 'EI 120'],
  ]);
  expect(task.design?.setBackMm).toBe(30);
  expect(task.design?.faces).toBe(2);
});

test('a duty that does not exist is refused with its line', () => {
  expect(() =>
    read('opening: { type: circle, diameterMm: 90 }\nduties:\n  - { duty: magic }\n'),
  ).toThrow(
    expect.objectContaining({
      code: 'settings-invalid',
      where: expect.objectContaining({ line: 3 }),
    }),
  );
});
