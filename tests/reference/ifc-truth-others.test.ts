// Truth models of what passes elements that count as no hosts, and of ways of placing and drawing that are
// easily got wrong. The truth follows from the sizes the models are made with.
import { describe, expect, test } from 'vitest';
import { codes, type Found, findIn, outcomeOf } from '../makers/ifc/find-in.ts';
import { IfcMaker, MAKER_SCHEMAS, type Made, type Point } from '../makers/ifc/ifc-maker.ts';

const pipe = (m: IfcMaker, from: Point, to: Point, diameter = 110): Made =>
  m.segment('pipe', { from, to, outline: { circle: diameter } });

/** Kind, services and centre of each penetration, whole millimetres. */
const places = ({ findings }: Found) =>
  findings.penetrations
    .map(
      ({ kind, crossings, frame }) =>
        `${kind} ${crossings.length} at ${frame.originMm.map((v) => Math.round(v) + 0).join(' ')}`,
    )
    .sort();

describe.each(MAKER_SCHEMAS)('through elements that count as no hosts, %s', (schema) => {
  const isOld = schema === 'IFC2X3';
  const classes: readonly (readonly [name: string, tail: string])[] = [
    ['IfcPlate', isOld ? '' : ',.SHEET.'],
    ['IfcCovering', ',.CEILING.'],
    ['IfcMember', isOld ? '' : ',.MEMBER.'],
    ['IfcCurtainWall', isOld ? '' : ',$'],
    ['IfcBuildingElementProxy', ',$'],
  ];

  /** A plate of the class, 4 m wide, 3 m high and 60 mm thick, in the plane y = 0. */
  const withPlate = (name: string, tail: string) => {
    const m = new IfcMaker({ schema });
    const body = m.body(m.extruded({ rectangle: [4000, 60] }, 3000));
    const frame = { at: [2000, 0, 0], z: [0, 0, 1], x: [1, 0, 0], name: 'Panel' } as const;
    const plate = m.element(name.toUpperCase(), frame, body, tail);
    return { m, plate };
  };

  test.each(classes)(
    '%s: what passes is asked about, with the setting that takes it in',
    async (name, tail) => {
      const { m } = withPlate(name, tail);
      const through = pipe(m, [1000, -500, 1500], [1000, 500, 1500]);
      const second = pipe(m, [2000, -500, 1500], [2000, 500, 1500]);
      const clear = pipe(m, [5000, -500, 1500], [5000, 500, 1500]);
      const ends = pipe(m, [3000, -500, 1500], [3000, 0, 1500]);
      const along = pipe(m, [500, 200, 1500], [3500, 200, 1500]);
      const found = await findIn(m);
      expect(places(found)).toEqual([]);
      const asked = found.queries.filter(({ code }) => code === 'service-through-other-element');
      expect(asked).toHaveLength(1);
      expect(asked[0]?.text).toContain(`2 services go through an ${name} element`);
      expect(asked[0]?.settles).toContain(`hosts.classes: [${name}]`);
      const reasons = found.findings.ledger.services.map(({ ref, reason }) => [ref.id, reason]);
      const byId = new Map(reasons as [string, string][]);
      for (const { guid } of [through, second]) expect(byId.get(guid)).toContain(`${name} "Panel"`);
      for (const { guid } of [clear, ends, along]) expect(byId.get(guid)).toBe('It meets no host.');
      const taken = await findIn(m, { hosts: { classes: [name] } });
      expect(places(taken)).toEqual(['unopened 1 at 1000 0 1500', 'unopened 1 at 2000 0 1500']);
      expect(codes(taken)).not.toContain('service-through-other-element');
    },
  );

  test('the insulation of a pipe is no element that it passes', async () => {
    const { m, plate } = withPlate('IfcCovering', ',.INSULATION.');
    const through = pipe(m, [1000, -500, 1500], [1000, 500, 1500]);
    m.rooted('IFCRELCOVERSBLDGELEMENTS', `$,$,${through.ref},(${plate.ref})`);
    expect(codes(await findIn(m))).not.toContain('service-through-other-element');
  });

  test('plates that make up a wall are the wall, not elements beside it', async () => {
    const { m, plate } = withPlate('IfcPlate', isOld ? '' : ',.SHEET.');
    const frame = { at: [0, 0, 0], z: [0, 0, 1], x: [1, 0, 0] } as const;
    const wall = m.element('IFCWALL', frame, '$', isOld ? '' : ',.ELEMENTEDWALL.');
    m.aggregate(wall, [plate]);
    pipe(m, [1000, -500, 1500], [1000, 500, 1500]);
    const found = await findIn(m);
    expect(places(found)).toEqual(['unopened 1 at 1000 0 1500']);
    expect(codes(found)).not.toContain('service-through-other-element');
  });
});

describe.each(MAKER_SCHEMAS)('placed and drawn in other ways, %s', (schema) => {
  const turned = (deg: number): Point => [
    Math.cos((deg * Math.PI) / 180),
    Math.sin((deg * Math.PI) / 180),
    0,
  ];

  test.each(['m', 'inch'] as const)('in %s: a pipe, a riser and a tray', async (unit) => {
    const m = new IfcMaker({ schema, unit });
    const wall = m.wall({ at: [0, 0, 0], length: 6000, thickness: 203.2, height: 3048 });
    m.slab({ at: [3000, 3000, -203.2], size: [6000, 5000], thickness: 203.2 });
    m.opening(wall, {
      at: [2000, 0, 1500],
      axis: [0, 1, 0],
      outline: { circle: 152.4 },
      depth: 304.8,
    });
    pipe(m, [2000, -500, 1500], [2000, 500, 1500], 101.6);
    pipe(m, [3000, 3000, -1000], [3000, 3000, 1000], 50.8);
    m.segment('tray', {
      from: [4000, -500, 2500],
      to: [4000, 500, 2500],
      outline: { tray: [304.8, 101.6] },
    });
    const found = await findIn(m);
    expect(places(found)).toEqual([
      'opening 1 at 2000 0 1500',
      'unopened 1 at 3000 3000 -102',
      'unopened 1 at 4000 0 2500',
    ]);
    const [opened] = found.findings.penetrations.filter(({ kind }) => kind === 'opening');
    expect(opened?.shape).toMatchObject({ type: 'circle', diameterMm: expect.closeTo(152.4, 1) });
  });

  test('a wall at 37 degrees, passed square and at 45 degrees to it', async () => {
    const m = new IfcMaker({ schema });
    m.wall({ at: [0, 0, 0], length: 6000, thickness: 200, height: 3000, turnDeg: 37 });
    const on = (along: number, direction: Point, sign: number): Point => {
      const x = turned(37);
      return [
        x[0] * along + sign * 600 * direction[0],
        x[1] * along + sign * 600 * direction[1],
        1500,
      ];
    };
    const square = turned(127);
    const skew = turned(82);
    pipe(m, on(2000, square, -1), on(2000, square, 1));
    pipe(m, on(4000, skew, -1), on(4000, skew, 1));
    const { findings } = await findIn(m);
    const skews = findings.penetrations
      .flatMap(({ crossings }) =>
        crossings.map(({ skewRad }) => Math.round((skewRad * 180) / Math.PI)),
      )
      .sort((a, b) => a - b);
    expect(skews).toEqual([0, 45]);
  });

  test('a mapped wall body, moved by its map, is where the map puts it', async () => {
    const m = new IfcMaker({ schema });
    const item = m.mapped(m.extruded({ rectangle: [4000, 200] }, 3000), [0, 1000, 0]);
    const body = m.body(item, 'MappedRepresentation');
    const frame = { at: [2000, 0, 0], z: [0, 0, 1], x: [1, 0, 0] } as const;
    m.element('IFCWALL', frame, body, schema === 'IFC2X3' ? '' : ',.STANDARD.');
    pipe(m, [1000, 500, 1500], [1000, 1500, 1500]);
    const before = pipe(m, [2000, -500, 1500], [2000, 500, 1500]);
    const found = await findIn(m);
    expect(places(found)).toEqual(['unopened 1 at 1000 1000 1500']);
    expect(outcomeOf(found, before.guid)).toBe('clear');
  });

  test('a wall drawn head down, its local z pointing to the ground', async () => {
    const m = new IfcMaker({ schema });
    const body = m.body(m.extruded({ rectangle: [4000, 200] }, 3000));
    const frame = { at: [2000, 0, 3000], z: [0, 0, -1], x: [1, 0, 0] } as const;
    m.element('IFCWALL', frame, body, schema === 'IFC2X3' ? '' : ',.STANDARD.');
    pipe(m, [1000, -500, 2500], [1000, 500, 2500]);
    pipe(m, [1000, -500, 3500], [1000, 500, 3500]);
    expect(places(await findIn(m))).toEqual(['unopened 1 at 1000 0 2500']);
  });

  test('two runs share an opening, a third passes beside it', async () => {
    const m = new IfcMaker({ schema });
    const wall = m.wall({ at: [0, 0, 0], length: 6000, thickness: 200, height: 3000 });
    const outline = { rectangle: [500, 300] } as const;
    m.opening(wall, { at: [2000, 0, 1500], axis: [0, 1, 0], outline, depth: 300 });
    for (const x of [1900, 2100, 4000]) pipe(m, [x, -500, 1500], [x, 500, 1500], 80);
    expect(places(await findIn(m))).toEqual([
      'opening 2 at 2000 0 1500',
      'unopened 1 at 4000 0 1500',
    ]);
  });

  test('a duct through a double wall with one opening element in each leaf is one hole', async () => {
    const m = new IfcMaker({ schema });
    const outline = { rectangle: [500, 300] } as const;
    for (const y of [0, 180]) {
      const leaf = m.wall({ at: [0, y, 0], length: 6000, thickness: 100, height: 3000 });
      m.opening(leaf, { at: [2000, y, 1500], axis: [0, 1, 0], outline, depth: 120 });
    }
    m.segment('duct', {
      from: [2000, -800, 1500],
      to: [2000, 900, 1500],
      outline: { rectangle: [400, 200] },
    });
    const found = await findIn(m);
    expect(places(found)).toEqual(['opening 1 at 2000 90 1500']);
    expect(found.findings.penetrations[0]?.openings).toHaveLength(2);
  });

  test('a tray that ends at the face passes nothing; a drain that falls through the slab is one', async () => {
    const m = new IfcMaker({ schema });
    m.wall({ at: [0, 0, 0], length: 6000, thickness: 200, height: 3000 });
    m.slab({ at: [3000, 5000, -250], size: [6000, 6000], thickness: 250 });
    const tray = m.segment('tray', {
      from: [1000, -2000, 1500],
      to: [1000, -100, 1500],
      outline: { tray: [300, 60] },
    });
    pipe(m, [2000, 5000, 500], [2600, 5000, -750]);
    const found = await findIn(m);
    expect(places(found)).toEqual(['unopened 1 at 2300 5000 -125']);
    expect(outcomeOf(found, tray.guid)).toBe('touches');
  });

  test('a bend inside a slab that comes back up passes nothing; one that goes on down passes', async () => {
    const m = new IfcMaker({ schema });
    m.slab({ at: [3000, 3000, -400], size: [6000, 6000], thickness: 400 });
    const path = (points: readonly Point[]) => m.swept('conduit', { points, diameter: 40 });
    const back = path([
      [1000, 1000, 500],
      [1000, 1000, -200],
      [2000, 1000, -200],
      [2000, 1000, 500],
    ]);
    const on = path([
      [1000, 3000, 500],
      [1000, 3000, -200],
      [2000, 3000, -200],
      [2000, 3000, -900],
    ]);
    const found = await findIn(m);
    expect([back, on].map(({ guid }) => outcomeOf(found, guid))).toEqual(['touches', 'through']);
    expect(found.findings.penetrations).toHaveLength(1);
    expect(codes(found)).toContain('service-leaves-by-edge');
  });

  test('an opening across the joint of two storeys’ walls spans both', async () => {
    const m = new IfcMaker({ schema });
    const storeys = [m.storey('Ground', 0), m.storey('First', 3000)];
    const [lower] = storeys.map((storey, n) =>
      m.wall({ at: [0, 0, 3000 * n], length: 6000, thickness: 200, height: 3000, storey }),
    );
    const outline = { rectangle: [600, 600] } as const;
    m.opening(lower ?? null, { at: [2000, 0, 3000], axis: [0, 1, 0], outline, depth: 300 });
    pipe(m, [2000, -500, 3100], [2000, 500, 3100]);
    const found = await findIn(m);
    expect(places(found)).toEqual(['opening 1 at 2000 0 3000']);
    expect(codes(found)).toContain('opening-spans-storeys');
  });
});
