/**
 * Models of known truth, written as STEP text by `tests/makers/ifc`, which shares nothing with the
 * reader: each says what must be found, no more and no less.
 * @source entity tables of IFC2X3 TC1, IFC4 ADD2 TC1, IFC4X3 ADD2; outcomes by rules §1 of the project
 */
import { describe, expect, test } from 'vitest';
import { brief, type Found, findIn, outcomeOf } from '../makers/ifc/find-in.ts';
import { IfcMaker, MAKER_SCHEMAS, type Made, type Point } from '../makers/ifc/ifc-maker.ts';

const Y: Point = [0, 1, 0];

function codes(found: Found): readonly string[] {
  return [...new Set(found.queries.map(({ code }) => code))].sort();
}

function briefs(found: Found) {
  return found.findings.penetrations
    .map(brief)
    .sort((a, b) => JSON.stringify(a).localeCompare(JSON.stringify(b), 'en'));
}

function guids(...made: readonly Made[]): string[] {
  return made.map(({ guid }) => guid).sort();
}

function rounded(values: readonly number[] | undefined): number[] | undefined {
  return values?.map((value) => Math.round(value * 100) / 100 + 0);
}

describe.each(MAKER_SCHEMAS)('truth, %s', (schema) => {
  const wallOf = (m: IfcMaker, y = 0, thickness = 200, length = 6000): Made =>
    m.wall({ at: [0, y, 0], length, thickness, height: 3000, name: `Wall ${y}` });
  const pipeAcross = (m: IfcMaker, x: number, z = 1500, from = -1000, to = 1000): Made =>
    m.segment('pipe', { from: [x, from, z], to: [x, to, z], outline: { circle: 110 } });

  test('a skew pipe: entry and exit on both faces, angle and path length', async () => {
    const m = new IfcMaker({ schema });
    const wall = wallOf(m);
    const pipe = m.segment('pipe', {
      from: [1000, -1000, 1500],
      to: [3000, 1000, 1500],
      outline: { circle: 50 },
    });
    const found = await findIn(m);
    expect(briefs(found)).toEqual([
      { kind: 'unopened', hosts: guids(wall), openings: [], services: [guids(pipe)] },
    ]);
    const crossing = found.findings.penetrations[0]?.crossings[0];
    expect(crossing?.skewRad).toBeCloseTo(Math.PI / 4, 6);
    expect(crossing?.lengthMm).toBeCloseTo(200 * Math.SQRT2, 3);
    expect(rounded(crossing?.entryMm)).toEqual([1900, -100, 1500]);
    expect(rounded(crossing?.exitMm)).toEqual([2100, 100, 1500]);
  });

  test('a riser through a slab: frame looks down with north up', async () => {
    const m = new IfcMaker({ schema });
    const first = m.storey('First', 3000);
    const slab = m.slab({ at: [0, 0, 2800], size: [8000, 6000], thickness: 200, storey: first });
    const opening = m.opening(slab, {
      at: [1000, 500, 2900],
      axis: [0, 0, 1],
      outline: { rectangle: [400, 250] },
      depth: 300,
    });
    const pipe = m.segment('pipe', {
      from: [1000, 500, 0],
      to: [1000, 500, 6000],
      outline: { circle: 160 },
    });
    const found = await findIn(m);
    expect(briefs(found)).toEqual([
      { kind: 'opening', hosts: guids(slab), openings: guids(opening), services: [guids(pipe)] },
    ]);
    const [penetration] = found.findings.penetrations;
    expect(rounded(penetration?.frame.axis)).toEqual([0, 0, -1]);
    expect(rounded(penetration?.frame.up)).toEqual([0, 1, 0]);
    expect(rounded(penetration?.frame.right)).toEqual([1, 0, 0]);
    expect(rounded(penetration?.frame.originMm)).toEqual([1000, 500, 2900]);
    expect(penetration?.shape).toMatchObject({ type: 'rectangle', widthMm: 400, heightMm: 250 });
    expect(penetration?.where.level).toBe('First');
  });

  test('a run split inside the wall is one crossing', async () => {
    const m = new IfcMaker({ schema });
    const wall = wallOf(m);
    const a = pipeAcross(m, 1000, 1500, -1000, 0);
    const b = pipeAcross(m, 1000, 1500, 0, 1000);
    const found = await findIn(m);
    expect(briefs(found)).toEqual([
      { kind: 'unopened', hosts: guids(wall), openings: [], services: [guids(a, b)] },
    ]);
    expect(found.findings.penetrations[0]?.crossings[0]?.lengthMm).toBeCloseTo(200, 3);
  });

  test('a run split at the face, and one through a fitting in the wall', async () => {
    const m = new IfcMaker({ schema });
    const wall = wallOf(m);
    const a = pipeAcross(m, 1000, 1500, -1000, -100);
    const b = pipeAcross(m, 1000, 1500, -100, 1000);
    const c = pipeAcross(m, 2000, 1500, -1000, -40);
    const f = m.fitting('pipe', {
      from: [2000, -40, 1500],
      to: [2000, 60, 1500],
      outline: { circle: 120 },
    });
    const d = pipeAcross(m, 2000, 1500, 60, 1000);
    m.connect(c, f);
    m.connect(f, d);
    const found = await findIn(m);
    expect(briefs(found)).toEqual(
      [
        { kind: 'unopened', hosts: guids(wall), openings: [], services: [guids(b)] },
        { kind: 'unopened', hosts: guids(wall), openings: [], services: [guids(c, f, d)] },
      ].sort((x, y) => JSON.stringify(x).localeCompare(JSON.stringify(y), 'en')),
    );
    expect(outcomeOf(found, a.guid)).toBe('touches');
    const through = found.findings.penetrations.find(({ crossings }) =>
      crossings.some(({ refs }) => refs.length === 3),
    );
    expect(through?.crossings[0]?.section).toEqual({ type: 'circle', diameterMm: 110 });
  });

  test('a coupling across the whole wall, segments outside', async () => {
    const m = new IfcMaker({ schema });
    const wall = wallOf(m);
    const a = pipeAcross(m, 1000, 1500, -1000, -150);
    const f = m.fitting('pipe', {
      from: [1000, -150, 1500],
      to: [1000, 150, 1500],
      outline: { circle: 120 },
    });
    const b = pipeAcross(m, 1000, 1500, 150, 1000);
    const found = await findIn(m);
    expect(briefs(found)).toEqual([
      { kind: 'unopened', hosts: guids(wall), openings: [], services: [guids(f)] },
    ]);
    expect([a, b].map(({ guid }) => outcomeOf(found, guid))).toEqual(['clear', 'clear']);
  });

  test('two leaves 50 mm apart are one assembly, 150 mm apart two', async () => {
    const m = new IfcMaker({ schema });
    const inner = wallOf(m, 0, 100);
    const outer = wallOf(m, 150, 100);
    const far = wallOf(m, 400, 100);
    const oi = m.opening(inner, {
      at: [1000, 0, 1500],
      axis: Y,
      outline: { circle: 150 },
      depth: 100,
    });
    const oo = m.opening(outer, {
      at: [1000, 150, 1500],
      axis: Y,
      outline: { circle: 150 },
      depth: 100,
    });
    const pipe = pipeAcross(m, 1000);
    const found = await findIn(m);
    expect(briefs(found)).toEqual(
      [
        {
          kind: 'opening',
          hosts: guids(inner, outer),
          openings: guids(oi, oo),
          services: [guids(pipe)],
        },
        { kind: 'unopened', hosts: guids(far), openings: [], services: [guids(pipe)] },
      ].sort((x, y) => JSON.stringify(x).localeCompare(JSON.stringify(y), 'en')),
    );
    const assembly = found.findings.penetrations.find(({ kind }) => kind === 'opening');
    expect(assembly?.thicknessMm).toBeCloseTo(250, 3);
    expect(assembly?.hosts.map(({ thicknessMm }) => Math.round(thicknessMm))).toEqual([100, 100]);
    expect(rounded(assembly?.frame.originMm)).toEqual([1000, 75, 1500]);
  });

  test('one opening through both leaves that voids one of them', async () => {
    const m = new IfcMaker({ schema });
    const inner = wallOf(m, 0, 100);
    const outer = wallOf(m, 120, 100);
    const opening = m.opening(inner, {
      at: [1000, 60, 1500],
      axis: Y,
      outline: { rectangle: [300, 200] },
      depth: 300,
    });
    const pipe = pipeAcross(m, 1000);
    const found = await findIn(m);
    expect(briefs(found)).toEqual([
      {
        kind: 'opening',
        hosts: guids(inner, outer),
        openings: guids(opening),
        services: [guids(pipe)],
      },
    ]);
  });

  test('cables on a tray go with it, through one opening or none', async () => {
    for (const opened of [true, false]) {
      const m = new IfcMaker({ schema });
      const wall = wallOf(m);
      const opening = opened
        ? m.opening(wall, {
            at: [2000, 0, 2500],
            axis: Y,
            outline: { rectangle: [500, 300] },
            depth: 400,
          })
        : null;
      const tray = m.segment('tray', {
        from: [2000, -1500, 2500],
        to: [2000, 1500, 2500],
        outline: { tray: [300, 60] },
        x: [1, 0, 0],
      });
      const cables = [-80, 0, 80].map((x) =>
        m.segment('cable', {
          from: [2000 + x, -1500, 2490],
          to: [2000 + x, 1500, 2490],
          outline: { circle: 30 },
        }),
      );
      const found = await findIn(m);
      expect(briefs(found)).toEqual([
        {
          kind: opened ? 'opening' : 'unopened',
          hosts: guids(wall),
          openings: opening === null ? [] : guids(opening),
          services: [[tray.guid], ...cables.map(({ guid }) => [guid])].sort(),
        },
      ]);
      const crossings = found.findings.penetrations[0]?.crossings ?? [];
      const carrier = crossings.find(({ kind }) => kind === 'carrier');
      expect(carrier?.carrierForm).toBe('tray');
      expect(carrier?.section).toMatchObject({ widthMm: 300, heightMm: 60 });
      expect(crossings.filter(({ carriedBy }) => carriedBy === carrier?.id)).toHaveLength(3);
      expect(carrier?.carriedBy).toBeNull();
      expect(codes(found)).not.toContain('opening-shared-by-trades');
    }
  });

  test('a cable in a conduit is carried by it; one beside it is not', async () => {
    const m = new IfcMaker({ schema });
    const wall = wallOf(m);
    const conduit = m.segment('conduit', {
      from: [1000, -500, 1500],
      to: [1000, 500, 1500],
      outline: { circle: 50, bore: 44 },
    });
    const inside = m.segment('cable', {
      from: [1000, -800, 1490],
      to: [1000, 800, 1490],
      outline: { circle: 20 },
    });
    const beside = m.segment('cable', {
      from: [1100, -800, 1500],
      to: [1100, 800, 1500],
      outline: { circle: 20 },
    });
    const found = await findIn(m);
    expect(briefs(found)).toEqual(
      [
        {
          kind: 'unopened',
          hosts: guids(wall),
          openings: [],
          services: [[conduit.guid], [inside.guid]].sort(),
        },
        { kind: 'unopened', hosts: guids(wall), openings: [], services: [[beside.guid]] },
      ].sort((x, y) => JSON.stringify(x).localeCompare(JSON.stringify(y), 'en')),
    );
  });

  test('several trades in one opening; too small; off centre', async () => {
    const m = new IfcMaker({ schema });
    const wall = wallOf(m);
    m.opening(wall, {
      at: [1000, 0, 1500],
      axis: Y,
      outline: { rectangle: [600, 300] },
      depth: 300,
    });
    const pipe = pipeAcross(m, 850);
    const cable = m.segment('cable', {
      from: [1150, -800, 1500],
      to: [1150, 800, 1500],
      outline: { circle: 30 },
    });
    m.opening(wall, { at: [3000, 0, 1500], axis: Y, outline: { circle: 100 }, depth: 300 });
    const tight = pipeAcross(m, 3000);
    m.opening(wall, { at: [4000, 0, 1500], axis: Y, outline: { circle: 160 }, depth: 300 });
    const off = pipeAcross(m, 4060);
    const found = await findIn(m);
    expect(briefs(found).map(({ kind, services }) => ({ kind, services }))).toEqual(
      expect.arrayContaining([
        { kind: 'opening', services: [[pipe.guid], [cable.guid]].sort() },
        { kind: 'opening', services: [[tight.guid]] },
        { kind: 'opening', services: [[off.guid]] },
      ]),
    );
    expect(found.findings.penetrations).toHaveLength(3);
    expect(codes(found)).toEqual(
      expect.arrayContaining([
        'opening-shared-by-trades',
        'opening-too-small',
        'opening-off-centre',
      ]),
    );
  });

  test('openings without services, recess, shaft, door, no host', async () => {
    const m = new IfcMaker({ schema });
    const wall = wallOf(m);
    const slab = m.slab({ at: [0, 5000, 0], size: [8000, 6000], thickness: 250 });
    const spare = m.opening(wall, {
      at: [1000, 0, 1500],
      axis: Y,
      outline: { circle: 150 },
      depth: 200,
    });
    const niche = m.opening(wall, {
      at: [2000, -60, 1500],
      axis: Y,
      outline: { rectangle: [300, 300] },
      depth: 80,
      recess: true,
    });
    const door = m.opening(wall, {
      at: [3000, 0, 1000],
      axis: Y,
      outline: { rectangle: [900, 2000] },
      depth: 400,
    });
    m.filling(door, 'IFCDOOR');
    const shaft = m.opening(slab, {
      at: [0, 5000, 125],
      axis: [0, 0, 1],
      outline: { rectangle: [2000, 1500] },
      depth: 300,
    });
    const lost = m.opening(null, {
      at: [0, 30000, 1500],
      axis: Y,
      outline: { circle: 150 },
      depth: 200,
    });
    const riser = m.segment('pipe', {
      from: [200, 5000, -1000],
      to: [200, 5000, 2000],
      outline: { circle: 110 },
    });
    const found = await findIn(m);
    expect(briefs(found)).toEqual([
      { kind: 'opening', hosts: guids(wall), openings: guids(spare), services: [] },
    ]);
    expect([spare, niche, door, shaft, lost].map(({ guid }) => outcomeOf(found, guid))).toEqual([
      'inPenetration',
      'recess',
      'doorsWindows',
      'shaft',
      'noHost',
    ]);
    expect(outcomeOf(found, riser.guid)).toBe('excluded');
    expect(codes(found)).toEqual(
      expect.arrayContaining(['opening-without-host', 'opening-without-service']),
    );
  });

  test('a provision not cut, one cut beside it, and one in nothing', async () => {
    const m = new IfcMaker({ schema });
    const wall = wallOf(m);
    const asked = m.provision({
      at: [1000, 0, 1500],
      axis: Y,
      outline: { circle: 200 },
      depth: 260,
    });
    const pipe = pipeAcross(m, 1000);
    const askedToo = m.provision({
      at: [3000, 0, 1500],
      axis: Y,
      outline: { rectangle: [300, 200] },
      depth: 260,
    });
    const cut = m.opening(wall, {
      at: [3000, 0, 1500],
      axis: Y,
      outline: { rectangle: [300, 200] },
      depth: 200,
    });
    const lost = m.provision({
      at: [0, 30000, 1500],
      axis: Y,
      outline: { circle: 150 },
      depth: 200,
    });
    const found = await findIn(m);
    expect(briefs(found)).toEqual(
      [
        { kind: 'provision', hosts: guids(wall), openings: guids(asked), services: [guids(pipe)] },
        { kind: 'opening', hosts: guids(wall), openings: guids(cut, askedToo), services: [] },
      ].sort((x, y) => JSON.stringify(x).localeCompare(JSON.stringify(y), 'en')),
    );
    expect(outcomeOf(found, lost.guid)).toBe('noHost');
    expect(codes(found)).toContain('provision-not-cut');
  });

  test('an opening drawn as a plan rectangle and raised', async () => {
    const m = new IfcMaker({ schema });
    const wall = wallOf(m);
    const opening = m.opening(wall, {
      at: [1000, 0, 1500],
      axis: [0, 0, 1],
      x: [1, 0, 0],
      outline: { rectangle: [500, 400] },
      depth: 200,
    });
    const pipe = pipeAcross(m, 1000);
    const found = await findIn(m);
    expect(briefs(found)).toEqual([
      { kind: 'opening', hosts: guids(wall), openings: guids(opening), services: [guids(pipe)] },
    ]);
    const shape = found.findings.penetrations[0]?.shape;
    expect(shape).toMatchObject({ type: 'rectangle' });
    if (shape?.type === 'rectangle') {
      expect(shape.widthMm).toBeCloseTo(500, 2);
      expect(shape.heightMm).toBeCloseTo(200, 2);
    }
  });

  test('a cable swept through two walls, and back through the second', async () => {
    const m = new IfcMaker({ schema });
    const first = wallOf(m, 0);
    const second = wallOf(m, 2000);
    const cable = m.swept('cable', {
      points: [
        [1000, -1000, 1500],
        [1000, 3000, 1500],
        [2000, 3000, 1500],
        [2000, 1000, 1500],
      ],
      diameter: 40,
    });
    const found = await findIn(m);
    expect(briefs(found)).toEqual(
      [first, second, second]
        .map((wall) => ({
          kind: 'unopened',
          hosts: guids(wall),
          openings: [],
          services: [guids(cable)],
        }))
        .sort((x, y) => JSON.stringify(x).localeCompare(JSON.stringify(y), 'en')),
    );
    expect(new Set(found.findings.penetrations.map(({ id }) => id)).size).toBe(3);
  });

  test('a duct wider than tall, however its profile is turned', async () => {
    for (const x of [
      [1, 0, 0],
      [0, 0, 1],
    ] as const) {
      const m = new IfcMaker({ schema });
      wallOf(m);
      m.segment('duct', {
        from: [2000, -1000, 2000],
        to: [2000, 1000, 2000],
        outline: { rectangle: x[0] === 1 ? [600, 200] : [200, 600] },
        x,
      });
      const found = await findIn(m);
      expect(found.findings.penetrations).toHaveLength(1);
      expect(found.findings.penetrations[0]?.crossings[0]?.section).toEqual({
        type: 'rectangle',
        widthMm: 600,
        heightMm: 200,
      });
      expect(found.findings.penetrations[0]?.crossings[0]?.kind).toBe('duct');
    }
  });

  test('along a wall, over its top, and in by an end are no crossings', async () => {
    const m = new IfcMaker({ schema });
    const wall = wallOf(m);
    const along = m.segment('pipe', {
      from: [-500, 0, 1500],
      to: [6500, 0, 1500],
      outline: { circle: 50 },
    });
    const down = m.segment('pipe', {
      from: [2000, 0, 3500],
      to: [2000, 0, 1000],
      outline: { circle: 50 },
    });
    const corner = m.segment('pipe', {
      from: [5800, -400, 1500],
      to: [6100, 200, 1500],
      outline: { circle: 50 },
    });
    const found = await findIn(m);
    expect(briefs(found)).toEqual([]);
    expect(outcomeOf(found, along.guid)).toBe('touches');
    expect(outcomeOf(found, down.guid)).toBe('endsInside');
    expect(outcomeOf(found, corner.guid)).toBe('touches');
    expect(found.queries.filter(({ code }) => code === 'service-leaves-by-edge')).toHaveLength(2);
    expect(wall.guid).toBeTruthy();
  });

  test('a hole in the profile of a wall and of a slab', async () => {
    const m = new IfcMaker({ schema });
    const body = m.body(
      m.extruded(
        {
          polygonWithHoles: [
            [-2000, 0],
            [2000, 0],
            [2000, 3000],
            [-2000, 3000],
          ],
          holes: [
            [
              [-150, 1400],
              [150, 1400],
              [150, 1600],
              [-150, 1600],
            ],
          ],
        },
        200,
      ),
    );
    // The profile stands upright: its x along the wall, its y up, drawn through the thickness.
    const wall = m.element(
      'IFCWALL',
      { name: 'W', at: [0, 100, 0], z: [0, -1, 0], x: [1, 0, 0] },
      body,
      schema === 'IFC2X3' ? '' : ',.STANDARD.',
    );
    const pipe = m.segment('pipe', {
      from: [50, -1000, 1500],
      to: [50, 1000, 1500],
      outline: { circle: 90 },
    });
    const found = await findIn(m);
    expect(briefs(found)).toEqual([
      { kind: 'hole', hosts: guids(wall), openings: [], services: [guids(pipe)] },
    ]);
    const [penetration] = found.findings.penetrations;
    expect(penetration?.shape).toMatchObject({ type: 'rectangle' });
    expect(rounded(penetration?.frame.originMm)).toEqual([0, 0, 1500]);
    expect(penetration?.thicknessMm).toBeCloseTo(200, 2);
    expect(rounded(penetration?.crossings[0]?.offsetMm ?? undefined)).toEqual([50, 0]);
  });

  test('an insulated pipe counts with its insulation, a mapped one as if drawn in place', async () => {
    const m = new IfcMaker({ schema });
    wallOf(m);
    const item = m.mapped(m.extruded({ circle: 90 }, 2000), [0, 0, 0]);
    const mapped = m.segment('pipe', {
      from: [3000, -1000, 1500],
      to: [3000, 1000, 1500],
      outline: { circle: 1 },
      body: item,
    });
    const found = await findIn(m);
    expect(briefs(found).map(({ services }) => services)).toEqual([[[mapped.guid]]]);
    expect(found.findings.penetrations[0]?.crossings[0]?.section).toEqual({
      type: 'circle',
      diameterMm: 90,
    });
  });

  test('a service whose body is a brep: axis and size from its mesh', async () => {
    const m = new IfcMaker({ schema });
    wallOf(m);
    const body = m.body(m.boxBrep([-150, -100, 0], [150, 100, 2400]), 'Brep');
    const duct = m.element(
      schema === 'IFC2X3' ? 'IFCFLOWSEGMENT' : 'IFCDUCTSEGMENT',
      { name: 'Supply duct 1', at: [2000, -1200, 1500], z: Y, x: [1, 0, 0] },
      body,
      schema === 'IFC2X3' ? '' : ',.RIGIDSEGMENT.',
    );
    const found = await findIn(m);
    expect(briefs(found).map(({ services }) => services)).toEqual([[[duct.guid]]]);
    const crossing = found.findings.penetrations[0]?.crossings[0];
    expect(crossing?.kind).toBe('duct');
    expect(crossing?.section?.type).toBe('rectangle');
    if (crossing?.section?.type === 'rectangle') {
      expect(crossing.section.widthMm).toBeCloseTo(300, 2);
      expect(crossing.section.heightMm).toBeCloseTo(200, 2);
    }
  });

  test('elements without placement or body are asked about, not put at the origin', async () => {
    const m = new IfcMaker({ schema });
    wallOf(m);
    const tail = schema === 'IFC2X3' ? '' : ',.RIGIDSEGMENT.';
    const type = schema === 'IFC2X3' ? 'IFCFLOWSEGMENT' : 'IFCPIPESEGMENT';
    const body = m.body(m.extruded({ circle: 50 }, 2000));
    const placeless = m.rooted(type, `'P1',$,$,$,${body},$${tail}`);
    const bodiless = m.rooted(type, `'P2',$,$,$,$,$${tail}`);
    const found = await findIn(m);
    expect(found.findings.penetrations).toEqual([]);
    expect([placeless, bodiless].map(({ guid }) => outcomeOf(found, guid))).toEqual([
      'noGeometry',
      'noGeometry',
    ]);
    expect(codes(found)).toEqual(
      expect.arrayContaining(['placement-missing', 'element-without-geometry']),
    );
  });
});
