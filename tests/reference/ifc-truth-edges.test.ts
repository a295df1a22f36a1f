// Truth models of what is easily missed or invented at edges, joints and corners. The truth follows from
// the sizes the models are made with; the rules are those of finding in models (crossing, penetration).
import { describe, expect, test } from 'vitest';
import { codes, type Found, findIn, outcomeOf } from '../makers/ifc/find-in.ts';
import { IfcMaker, MAKER_SCHEMAS, type Made, type Point } from '../makers/ifc/ifc-maker.ts';

const pipe = (m: IfcMaker, from: Point, to: Point, diameter = 110): Made =>
  m.segment('pipe', { from, to, outline: { circle: diameter } });

/** Kind, thickness, hosts and centre of each penetration, whole millimetres. */
const places = ({ findings }: Found) =>
  findings.penetrations
    .map(({ kind, thicknessMm, hosts, frame }) => ({
      kind,
      thicknessMm,
      hosts: hosts.length,
      at: frame.originMm.map(Math.round),
    }))
    .sort((a, b) => JSON.stringify(a.at).localeCompare(JSON.stringify(b.at), 'en'));

const unopened = (thicknessMm: number, at: Point, hosts = 1) => ({
  kind: 'unopened',
  thicknessMm,
  hosts,
  at: [...at],
});

describe.each(MAKER_SCHEMAS)('edges, joints and corners, %s', (schema) => {
  const make = (length = 6000, thickness = 200, height = 3000) => {
    const m = new IfcMaker({ schema });
    return { m, wall: m.wall({ at: [0, 0, 0], length, thickness, height }) };
  };

  test('a body that cuts into the top or the end of a wall beside its centre line is asked about', async () => {
    const { m } = make();
    const outline = { rectangle: [600, 400] } as const;
    const over = m.segment('duct', { from: [1000, -500, 3050], to: [1000, 500, 3050], outline });
    const clear = m.segment('duct', { from: [3000, -500, 3250], to: [3000, 500, 3250], outline });
    const end = pipe(m, [6030, -500, 1000], [6030, 500, 1000]);
    const along = pipe(m, [1000, 120, 1500], [5000, 120, 1500]);
    const found = await findIn(m);
    expect(places(found)).toEqual([]);
    expect([over, clear, end, along].map(({ guid }) => outcomeOf(found, guid))).toEqual([
      'touches',
      'clear',
      'touches',
      'touches',
    ]);
    const asked = found.queries.filter(({ code }) => code === 'service-leaves-by-edge');
    expect(asked).toHaveLength(2);
  });

  test.each([
    // Seen from the near side, which lies to the south or west: of a wall turned north the north is left.
    [0, [1000, 0], { left: 1000, right: 5000, below: 1200, above: 1800 }],
    [90, [0, 1000], { left: 5000, right: 1000, below: 1200, above: 1800 }],
  ] as const)(
    'how far the ends, foot and top of a wall lie, turned by %i°',
    async (turnDeg, [x, y], truth) => {
      const m = new IfcMaker({ schema });
      m.wall({ at: [0, 0, 0], length: 6000, thickness: 200, height: 3000, turnDeg });
      const [across, along] = turnDeg === 90 ? [500, 0] : [0, 500];
      pipe(m, [x - across, y - along, 1200], [x + across, y + along, 1200]);
      const [host] = (await findIn(m)).findings.penetrations[0]?.hosts ?? [];
      const edges = Object.entries(host?.toEdgeMm ?? {});
      expect(Object.fromEntries(edges.map(([edge, mm]) => [edge, Math.round(mm ?? -1)]))).toEqual(
        truth,
      );
    },
  );

  test('one wall with a corner: each leg is passed by itself, along a leg is none', async () => {
    const m = new IfcMaker({ schema });
    const points = [
      [0, 0],
      [6000, 0],
      [6000, 200],
      [200, 200],
      [200, 4000],
      [0, 4000],
    ] as const;
    const body = m.body(m.extruded({ polygon: points }, 3000));
    const tail = schema === 'IFC2X3' ? '' : ',.STANDARD.';
    m.element('IFCWALL', { at: [0, 0, 0], z: [0, 0, 1], x: [1, 0, 0] }, body, tail);
    pipe(m, [3000, -500, 1500], [3000, 700, 1500]);
    pipe(m, [-500, 2000, 1500], [700, 2000, 1500]);
    const along = pipe(m, [-500, 100, 1000], [7000, 100, 1000]);
    const found = await findIn(m);
    expect(places(found)).toEqual([
      unopened(200, [100, 2000, 1500]),
      unopened(200, [3000, 100, 1500]),
    ]);
    expect(outcomeOf(found, along.guid)).toBe('touches');
    expect(codes(found)).toContain('service-leaves-by-edge');
  });

  test('the joint of two walls in line, and of two storeys’ walls, is one hole in both', async () => {
    const m = new IfcMaker({ schema });
    const size = { thickness: 200, height: 3000 };
    const first = m.wall({ at: [0, 0, 0], length: 3000, ...size });
    m.wall({ at: [3000, 0, 0], length: 3000, ...size });
    m.wall({ at: [0, 0, 3000], length: 3000, ...size });
    pipe(m, [3000, -500, 1500], [3000, 500, 1500]);
    pipe(m, [1000, -500, 3000], [1000, 500, 3000]);
    m.opening(first, {
      at: [3000, 0, 2500],
      axis: [0, 1, 0],
      outline: { rectangle: [600, 300] },
      depth: 300,
    });
    const outline = { rectangle: [500, 200] } as const;
    m.segment('duct', { from: [3000, -500, 2500], to: [3000, 500, 2500], outline });
    expect(places(await findIn(m))).toEqual([
      unopened(200, [1000, 0, 3000], 2),
      unopened(200, [3000, 0, 1500], 2),
      { ...unopened(200, [3000, 0, 2500], 2), kind: 'opening' },
    ]);
  });

  test('a wall on its slab: through the foot of the wall, along in the slab, down through the slab', async () => {
    const { m } = make();
    m.slab({ at: [3000, 0, -250], size: [6000, 4000], thickness: 250 });
    pipe(m, [1000, -500, 20], [1000, 500, 20]);
    const within = pipe(m, [2000, -3000, -100], [2000, 3000, -100]);
    pipe(m, [4000, 1000, -800], [4000, 1000, 800]);
    const found = await findIn(m);
    expect(places(found)).toEqual([
      unopened(200, [1000, 0, 20]),
      unopened(250, [4000, 1000, -125]),
    ]);
    expect(outcomeOf(found, within.guid)).toBe('touches');
  });

  test('bends inside the wall: offset is one, up into the wall none, there and back two', async () => {
    const { m } = make(6000, 400);
    const swept = (points: readonly Point[]) => m.swept('conduit', { points, diameter: 50 });
    swept([
      [1000, -800, 1500],
      [1000, 0, 1500],
      [1300, 0, 1500],
      [1300, 800, 1500],
    ]);
    const up = swept([
      [3000, -800, 1500],
      [3000, 0, 1500],
      [3000, 0, 4000],
    ]);
    swept([
      [4000, -800, 1500],
      [4000, 800, 1500],
      [4500, 800, 1500],
      [4500, -800, 1500],
    ]);
    const found = await findIn(m);
    expect(places(found)).toEqual([
      unopened(400, [1150, 0, 1500]),
      unopened(400, [4000, 0, 1500]),
      unopened(400, [4500, 0, 1500]),
    ]);
    expect(outcomeOf(found, up.guid)).toBe('touches');
  });

  test('flush with the face is through, short of it ends inside', async () => {
    const { m } = make();
    const to = (x: number, from: number, end: number) =>
      m.segment('conduit', { from: [x, from, 1500], to: [x, end, 1500], outline: { circle: 50 } });
    const made = [to(1000, -500, 100), to(2000, -100, 100), to(3000, -98, 98), to(4000, -500, 95)];
    const found = await findIn(m);
    expect(made.map(({ guid }) => outcomeOf(found, guid))).toEqual([
      'through',
      'through',
      'within',
      'endsInside',
    ]);
  });

  test('a fall through two walls, a riser through three slabs, 75 degrees off square', async () => {
    const { m } = make(9000, 100);
    m.wall({ at: [0, 3000, 0], length: 9000, thickness: 300, height: 3000 });
    for (const z of [6000, 9000, 12_000]) {
      m.slab({ at: [4500, 1500, z], size: [9000, 4000], thickness: 250 });
    }
    pipe(m, [1000, -500, 1500], [1000, 4000, 1410]);
    pipe(m, [5000, 1500, 5000], [5000, 1500, 13_000]);
    const run = 1000 * Math.tan((75 * Math.PI) / 180);
    pipe(m, [3000, -500, 2500], [3000 + run, 500, 2500], 50);
    expect(places(await findIn(m))).toEqual([
      unopened(100, [1000, 0, 1490]),
      unopened(300, [1000, 3000, 1430]),
      unopened(100, [Math.round(3000 + run / 2), 0, 2500]),
      unopened(250, [5000, 1500, 12_125]),
      unopened(250, [5000, 1500, 6125]),
      unopened(250, [5000, 1500, 9125]),
    ]);
  });

  test('trays that stop at the wall, the cable goes on; a pipe beside the row’s opening', async () => {
    const { m, wall } = make();
    const tray = { rectangle: [300, 60] } as const;
    for (const [from, to] of [
      [-2000, -150],
      [150, 2000],
    ] as const) {
      m.segment('tray', { from: [1000, from, 1500], to: [1000, to, 1500], outline: tray });
    }
    const round = { circle: 20 } as const;
    m.segment('cable', { from: [1000, -2000, 1500], to: [1000, 2000, 1500], outline: round });
    m.opening(wall, {
      at: [4000, 0, 1500],
      axis: [0, 1, 0],
      outline: { rectangle: [1000, 300] },
      depth: 300,
    });
    for (let n = 0; n < 6; n += 1)
      pipe(m, [3600 + 200 * n, -500, 1500], [3600 + 200 * n, 500, 1500]);
    const found = await findIn(m);
    expect(places(found)).toEqual([
      unopened(200, [1000, 0, 1500]),
      { ...unopened(200, [4000, 0, 1500]), kind: 'opening' },
      unopened(200, [4600, 0, 1500]),
    ]);
    expect(found.findings.penetrations.map(({ crossings }) => crossings.length).sort()).toEqual([
      1, 1, 5,
    ]);
  });

  test('half a million metres from the origin, swept or as a brep', async () => {
    const [x, y] = [450_000_000, 5_200_000_000];
    const m = new IfcMaker({ schema });
    m.wall({ at: [x, y, 0], length: 6000, thickness: 200, height: 3000 });
    const brep = m.body(m.boxBrep([x, y + 4000, 0], [x + 6000, y + 4200, 3000]), 'Brep');
    const tail = schema === 'IFC2X3' ? '' : ',.STANDARD.';
    m.element('IFCWALL', { at: [0, 0, 0], z: [0, 0, 1], x: [1, 0, 0] }, brep, tail);
    pipe(m, [x + 1000, y - 500, 1500], [x + 1000, y + 5000, 1500]);
    expect(places(await findIn(m))).toEqual([
      unopened(200, [x + 1000, y, 1500]),
      unopened(200, [x + 1000, y + 4100, 1500]),
    ]);
  });
});
