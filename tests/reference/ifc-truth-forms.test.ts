/**
 * Truth models for odd forms: curved, clipped, sloped and layered hosts, openings as breps and
 * cylinders, bends, insulation, names in IFC2X3, federation.
 * @source entity tables of IFC2X3 TC1, IFC4 ADD2 TC1, IFC4X3 ADD2; outcomes by rules §1 of the project
 */
import { describe, expect, test } from 'vitest';
import { findInModels } from '../../src/find/models/find-in-models.ts';
import { shapeAreaMm2, shapeExtentMm } from '../../src/geometry/shape.ts';
import { Settings } from '../../src/model/settings.ts';
import { joinBuildings } from '../../src/read/ifc/join-buildings.ts';
import { readIfc } from '../../src/read/ifc/read-ifc.ts';
import { brief, type Found, findIn, findInBytes, outcomeOf } from '../makers/ifc/find-in.ts';
import { IfcMaker, MAKER_SCHEMAS, type Made, type Point } from '../makers/ifc/ifc-maker.ts';

const Y: Point = [0, 1, 0];

function briefs(found: Pick<Found, 'findings'>) {
  return found.findings.penetrations
    .map(brief)
    .sort((a, b) => JSON.stringify(a).localeCompare(JSON.stringify(b), 'en'));
}

function guids(...made: readonly Made[]): string[] {
  return made.map(({ guid }) => guid).sort();
}

function rounded(values: readonly number[] | undefined): number[] | undefined {
  return values?.map((value) => Math.round(value * 10) / 10 + 0);
}

/** A ring sector in plan: inner and outer radius, from one angle to another, as chords. */
function ringSector(inner: number, outer: number, from: number, to: number) {
  const count = 40;
  const arc = (radius: number, a: number, b: number) =>
    Array.from({ length: count + 1 }, (_, n): [number, number] => {
      const angle = ((a + ((b - a) * n) / count) * Math.PI) / 180;
      return [radius * Math.cos(angle), radius * Math.sin(angle)];
    });
  return [...arc(outer, from, to), ...arc(inner, to, from)];
}

/** A cylinder of chords standing on the local origin, as a brep. */
function cylinderBrep(m: IfcMaker, diameter: number, length: number, chords = 24): string {
  const points: Point[] = [];
  for (const z of [0, length]) {
    for (let n = 0; n < chords; n += 1) {
      const angle = (2 * Math.PI * n) / chords;
      points.push([(diameter / 2) * Math.cos(angle), (diameter / 2) * Math.sin(angle), z]);
    }
  }
  const ring = Array.from({ length: chords }, (_, n) => n);
  return m.brep(points, [
    [...ring].reverse(),
    ring.map((n) => n + chords),
    ...ring.map((n) => [n, (n + 1) % chords, ((n + 1) % chords) + chords, n + chords]),
  ]);
}

describe.each(MAKER_SCHEMAS)('openings with round corners, %s', (schema) => {
  const shapeOf = async (corners: readonly [number, number, number]) => {
    const m = new IfcMaker({ schema });
    const wall = m.element(
      'IFCWALL',
      { name: 'Wall', at: [0, 0, 0], z: [0, 0, 1], x: [1, 0, 0] },
      m.body(m.extruded({ rectangle: [6000, 200] }, 3000)),
      schema === 'IFC2X3' ? '' : ',.STANDARD.',
    );
    const place = { at: [500, 0, 1200], axis: Y, x: [1, 0, 0] } satisfies Record<string, Point>;
    m.opening(wall, { ...place, outline: { rounded: corners }, depth: 400 });
    const { findings } = await findIn(m);
    return findings.penetrations[0]?.shape;
  };

  test('round ends make a slot, and all round a circle', async () => {
    expect(await shapeOf([400, 150, 75])).toEqual({
      type: 'slot',
      lengthMm: 400,
      widthMm: 150,
    });
    expect(await shapeOf([200, 200, 100])).toEqual({ type: 'circle', diameterMm: 200 });
  });

  test('standing upright, or with small radii, it is its outline', async () => {
    for (const corners of [[150, 400, 75] as const, [300, 200, 20] as const]) {
      const shape = await shapeOf(corners);
      if (shape?.type !== 'polygon') throw new Error(`a ${shape?.type}`);
      const [width, height, radius] = corners;
      expect(shapeExtentMm(shape).widthMm).toBeCloseTo(width, 1);
      expect(shapeExtentMm(shape).heightMm).toBeCloseTo(height, 1);
      // Rectangle less what four quarter circles leave of their squares; chords lie inside.
      const areaMm2 = width * height - (4 - Math.PI) * radius ** 2;
      expect(shapeAreaMm2(shape) / areaMm2).toBeGreaterThan(0.99);
      expect(shapeAreaMm2(shape)).toBeLessThanOrEqual(areaMm2 + 1);
    }
  });
});

describe.each(MAKER_SCHEMAS)('truth of odd forms, %s', (schema) => {
  const wallClass = schema === 'IFC2X3' ? 'IFCWALL' : 'IFCWALL';
  const wallTail = schema === 'IFC2X3' ? '' : ',.STANDARD.';

  test('a curved wall, radial and skew services, an opening in it', async () => {
    const m = new IfcMaker({ schema });
    const wall = m.element(
      wallClass,
      { name: 'Curved', at: [0, 0, 0], z: [0, 0, 1], x: [1, 0, 0] },
      m.body(m.extruded({ polygon: ringSector(5000, 5300, -60, 60) }, 3000)),
      wallTail,
    );
    const opening = m.opening(wall, {
      at: [5150, 0, 1500],
      axis: [1, 0, 0],
      outline: { circle: 200 },
      depth: 700,
    });
    const radial = m.segment('pipe', {
      from: [4000, 0, 1500],
      to: [6500, 0, 1500],
      outline: { circle: 110 },
    });
    const skew = m.segment('pipe', {
      from: [2000, 3000, 1000],
      to: [6000, 3600, 1000],
      outline: { circle: 50 },
    });
    const chord = m.segment('pipe', {
      from: [5200, -1500, 2500],
      to: [5200, 1500, 2500],
      outline: { circle: 20 },
    });
    const found = await findIn(m);
    expect(briefs(found)).toEqual(
      [
        {
          kind: 'opening',
          hosts: guids(wall),
          openings: guids(opening),
          services: [guids(radial)],
        },
        { kind: 'unopened', hosts: guids(wall), openings: [], services: [guids(skew)] },
      ].sort((a, b) => JSON.stringify(a).localeCompare(JSON.stringify(b), 'en')),
    );
    // In through the outer face and out through it again.
    expect(outcomeOf(found, chord.guid)).toBe('touches');
    const opened = found.findings.penetrations.find(({ kind }) => kind === 'opening');
    expect(opened?.shape).toEqual({ type: 'circle', diameterMm: 200 });
    expect(opened?.thicknessMm).toBeGreaterThan(299);
    expect(opened?.thicknessMm).toBeLessThan(301);
  });

  test('a gable wall clipped by planes: below through, above clear', async () => {
    const m = new IfcMaker({ schema });
    const solid = m.extruded({ rectangle: [6000, 200] }, 4000);
    const plane = m.add(
      'IFCPLANE',
      m.placement3([0, 0, 3000], [-0.5, 0, 0.8660254], [0.8660254, 0, 0.5]),
    );
    const half = m.add('IFCHALFSPACESOLID', `${plane},.F.`);
    const clipped = m.add('IFCBOOLEANCLIPPINGRESULT', `.DIFFERENCE.,${solid},${half}`);
    const wall = m.element(
      wallClass,
      { name: 'Gable', at: [0, 0, 0], z: [0, 0, 1], x: [1, 0, 0] },
      m.body(clipped, 'Clipping'),
      wallTail,
    );
    const below = m.segment('pipe', {
      from: [-2000, -800, 1500],
      to: [-2000, 800, 1500],
      outline: { circle: 50 },
    });
    // The cut runs up at 30° from (0, 3000): at x = −2000 it is at 1845.
    const above = m.segment('pipe', {
      from: [-2000, -800, 2500],
      to: [-2000, 800, 2500],
      outline: { circle: 50 },
    });
    const found = await findIn(m);
    expect(briefs(found)).toEqual([
      { kind: 'unopened', hosts: guids(wall), openings: [], services: [guids(below)] },
    ]);
    expect(outcomeOf(found, above.guid)).toBe('clear');
  });

  test('a pitched roof slab with a plumb duct', async () => {
    const m = new IfcMaker({ schema });
    const roof = m.slab({
      at: [0, 0, 4000],
      size: [6000, 5000],
      thickness: 250,
      z: [0, -0.5, 0.8660254037844386],
      x: [1, 0, 0],
    });
    const duct = m.segment('duct', {
      from: [1000, 0, 3000],
      to: [1000, 0, 6000],
      outline: { circle: 315 },
    });
    const found = await findIn(m);
    expect(briefs(found)).toEqual([
      { kind: 'unopened', hosts: guids(roof), openings: [], services: [guids(duct)] },
    ]);
    const [penetration] = found.findings.penetrations;
    expect(penetration?.thicknessMm).toBeCloseTo(250, 2);
    expect(penetration?.crossings[0]?.skewRad).toBeCloseTo(Math.PI / 6, 5);
    expect(penetration?.crossings[0]?.lengthMm).toBeCloseTo(250 / Math.cos(Math.PI / 6), 2);
  });

  test('slab and screed are one assembly with its opening through both', async () => {
    const m = new IfcMaker({ schema });
    const slab = m.slab({ at: [0, 0, -280], size: [6000, 5000], thickness: 200, name: 'Slab' });
    const screed = m.slab({ at: [0, 0, -80], size: [6000, 5000], thickness: 80, name: 'Screed' });
    const opening = m.opening(slab, {
      at: [500, 500, -140],
      axis: [0, 0, 1],
      outline: { circle: 200 },
      depth: 400,
    });
    const pipe = m.segment('pipe', {
      from: [500, 500, -1000],
      to: [500, 500, 1000],
      outline: { circle: 110 },
    });
    const bare = m.segment('pipe', {
      from: [1500, 500, -1000],
      to: [1500, 500, 1000],
      outline: { circle: 50 },
    });
    const found = await findIn(m);
    expect(briefs(found)).toEqual(
      [
        {
          kind: 'opening',
          hosts: guids(slab, screed),
          openings: guids(opening),
          services: [guids(pipe)],
        },
        { kind: 'unopened', hosts: guids(slab, screed), openings: [], services: [guids(bare)] },
      ].sort((a, b) => JSON.stringify(a).localeCompare(JSON.stringify(b), 'en')),
    );
    const opened = found.findings.penetrations.find(({ kind }) => kind === 'opening');
    expect(opened?.thicknessMm).toBeCloseTo(280, 3);
    // Looking down, the screed comes first.
    expect(opened?.hosts.map(({ name }) => name)).toEqual(['Screed', 'Slab']);
  });

  test('one opening through three floors is a hole in each', async () => {
    const m = new IfcMaker({ schema });
    const slabs = [0, 3000, 6000].map((z) =>
      m.slab({ at: [0, 0, z - 200], size: [6000, 5000], thickness: 200 }),
    );
    const [ground, first, second] = slabs;
    if (!ground || !first || !second) throw new Error('Three slabs were made.');
    const opening = m.opening(ground, {
      at: [500, 500, 2900],
      axis: [0, 0, 1],
      outline: { rectangle: [400, 300] },
      depth: 7000,
    });
    for (const slab of [first, second]) {
      m.rooted('IFCRELVOIDSELEMENT', `$,$,${slab.ref},${opening.ref}`);
    }
    const riser = m.segment('pipe', {
      from: [500, 500, -1000],
      to: [500, 500, 4500],
      outline: { circle: 110 },
    });
    const found = await findIn(m);
    expect(briefs(found)).toEqual(
      slabs
        .map((slab) => ({
          kind: 'opening',
          hosts: guids(slab),
          openings: guids(opening),
          services: slab === second ? [] : [guids(riser)],
        }))
        .sort((a, b) => JSON.stringify(a).localeCompare(JSON.stringify(b), 'en')),
    );
    expect(found.findings.penetrations.map(({ thicknessMm }) => thicknessMm)).toEqual([
      200, 200, 200,
    ]);
    expect(outcomeOf(found, opening.guid)).toBe('inPenetration');
    expect(new Set(found.findings.penetrations.map(({ id }) => id)).size).toBe(3);
  });

  test('a wall made of parts only', async () => {
    const m = new IfcMaker({ schema });
    const placement = m.add('IFCLOCALPLACEMENT', `${m.placement},${m.placement3([0, 0, 0])}`);
    const wall = m.rooted(wallClass, `'Framed',$,$,${placement},$,$${wallTail}`);
    const part = (y: number, thickness: number) =>
      m.element(
        'IFCBUILDINGELEMENTPART',
        { name: 'Part', at: [0, y, 0], z: [0, 0, 1], x: [1, 0, 0], storey: null },
        m.body(m.extruded({ rectangle: [6000, thickness] }, 3000)),
        schema === 'IFC2X3' ? '' : ',$',
      );
    m.aggregate(wall, [part(-50, 12.5), part(0, 60), part(50, 12.5)]);
    const opening = m.opening(wall, {
      at: [0, 0, 1500],
      axis: Y,
      outline: { rectangle: [200, 150] },
      depth: 200,
    });
    const pipe = m.segment('pipe', {
      from: [0, -500, 1500],
      to: [0, 500, 1500],
      outline: { circle: 50 },
    });
    const found = await findIn(m);
    expect(briefs(found)).toEqual([
      { kind: 'opening', hosts: guids(wall), openings: guids(opening), services: [guids(pipe)] },
    ]);
    expect(found.findings.penetrations[0]?.thicknessMm).toBeCloseTo(112.5, 2);
  });

  test('openings and services as breps: round ones are told from square ones', async () => {
    const m = new IfcMaker({ schema });
    const wall = m.wall({ at: [0, 0, 0], length: 6000, thickness: 200, height: 3000 });
    const round = m.element(
      'IFCOPENINGELEMENT',
      { at: [1000, -200, 1500], z: Y, x: [1, 0, 0] },
      m.body(cylinderBrep(m, 180, 400), 'Brep'),
      schema === 'IFC2X3' ? '' : ',.OPENING.',
    );
    m.rooted('IFCRELVOIDSELEMENT', `$,$,${wall.ref},${round.ref}`);
    const square = m.element(
      'IFCOPENINGELEMENT',
      { at: [2000, -200, 1500], z: Y, x: [1, 0, 0] },
      m.body(m.boxBrep([-125, -60, 0], [125, 60, 400]), 'Brep'),
      schema === 'IFC2X3' ? '' : ',.OPENING.',
    );
    m.rooted('IFCRELVOIDSELEMENT', `$,$,${wall.ref},${square.ref}`);
    const pipe = m.element(
      schema === 'IFC2X3' ? 'IFCFLOWSEGMENT' : 'IFCPIPESEGMENT',
      { name: 'Pipe', at: [1000, -1000, 1500], z: Y, x: [1, 0, 0] },
      m.body(cylinderBrep(m, 110, 2000), 'Brep'),
      schema === 'IFC2X3' ? '' : ',.RIGIDSEGMENT.',
    );
    const found = await findIn(m);
    expect(briefs(found)).toEqual(
      [
        { kind: 'opening', hosts: guids(wall), openings: guids(round), services: [guids(pipe)] },
        { kind: 'opening', hosts: guids(wall), openings: guids(square), services: [] },
      ].sort((a, b) => JSON.stringify(a).localeCompare(JSON.stringify(b), 'en')),
    );
    const withPipe = found.findings.penetrations.find(({ crossings }) => crossings.length > 0);
    const without = found.findings.penetrations.find(({ crossings }) => crossings.length === 0);
    expect(withPipe?.shape?.type).toBe('circle');
    if (withPipe?.shape?.type === 'circle') expect(withPipe.shape.diameterMm).toBeCloseTo(180, 1);
    const section = withPipe?.crossings[0]?.section;
    expect(section?.type).toBe('circle');
    if (section?.type === 'circle') expect(section.diameterMm).toBeCloseTo(110, 1);
    expect(without?.shape?.type).toBe('rectangle');
    if (without?.shape?.type === 'rectangle') {
      expect(without.shape.widthMm).toBeCloseTo(250, 2);
      expect(without.shape.heightMm).toBeCloseTo(120, 2);
    }
    expect(rounded(withPipe?.frame.originMm)).toEqual([1000, 0, 1500]);
  });

  test('a bend in the wall as a revolved solid joins its two pipes; turning back is no crossing', async () => {
    const m = new IfcMaker({ schema });
    const wall = m.wall({ at: [0, 0, 0], length: 6000, thickness: 400, height: 3000 });
    const before = m.segment('pipe', {
      from: [1000, -1000, 1500],
      to: [1000, -100, 1500],
      outline: { circle: 60 },
    });
    // Quarter bend of 100 mm radius from +y to +x, in the plane z = 1500.
    const axis = m.add('IFCAXIS1PLACEMENT', `${m.point([100, 0, 0])},${m.direction([0, 1, 0])}`);
    const bendBody = m.add(
      'IFCREVOLVEDAREASOLID',
      `${m.profile({ circle: 60 })},${m.placement3([0, 0, 0])},${axis},1.5707963267948966`,
    );
    const bendFrame = { at: [1000, -100, 1500] as Point, z: Y, x: [1, 0, 0] as Point };
    const bend =
      schema === 'IFC2X3'
        ? m.element('IFCFLOWFITTING', bendFrame, m.body(bendBody), '')
        : m.element('IFCPIPEFITTING', bendFrame, m.body(bendBody), ',.BEND.');
    if (schema === 'IFC2X3') m.typed(bend, 'IFCPIPEFITTINGTYPE', 'Bend', '.BEND.');
    const after = m.segment('pipe', {
      from: [1100, 0, 1500],
      to: [5000, 0, 1500],
      outline: { circle: 60 },
    });
    const found = await findIn(m);
    expect(briefs(found)).toEqual([]);
    expect(wall.guid).toBeTruthy();
    expect([before, bend, after].map(({ guid }) => outcomeOf(found, guid))).toEqual([
      'endsInside',
      'endsInside',
      'endsInside',
    ]);
  });

  test('an insulated pipe of two bodies passes with its outside', async () => {
    const m = new IfcMaker({ schema });
    m.wall({ at: [0, 0, 0], length: 6000, thickness: 200, height: 3000 });
    const pipe = m.extruded({ circle: 60, bore: 54 }, 2000);
    const insulation = m.extruded({ circle: 140, bore: 60 }, 2000);
    const representation = m.add(
      'IFCSHAPEREPRESENTATION',
      `${m.context},'Body','SweptSolid',(${pipe},${insulation})`,
    );
    const shape = m.add('IFCPRODUCTDEFINITIONSHAPE', `$,$,(${representation})`);
    m.element(
      schema === 'IFC2X3' ? 'IFCFLOWSEGMENT' : 'IFCPIPESEGMENT',
      { name: 'Heating pipe', at: [2000, -1000, 1500], z: Y, x: [1, 0, 0] },
      shape,
      schema === 'IFC2X3' ? '' : ',.RIGIDSEGMENT.',
    );
    const found = await findIn(m);
    expect(found.findings.penetrations[0]?.crossings[0]?.section).toEqual({
      type: 'circle',
      diameterMm: 140,
    });
  });

  test('a ladder of two rails and rungs: the box round its rails', async () => {
    const m = new IfcMaker({ schema });
    m.wall({ at: [0, 0, 0], length: 6000, thickness: 200, height: 3000 });
    const rail = (x: number): string => {
      const profile = m.profile({ rectangle: [10, 100] });
      return m.add(
        'IFCEXTRUDEDAREASOLID',
        `${profile},${m.placement3([x, 0, 0])},${m.direction([0, 0, 1])},${m.length(2000)}`,
      );
    };
    const rung = m.add(
      'IFCEXTRUDEDAREASOLID',
      `${m.profile({ rectangle: [20, 20] })},${m.placement3([-195, 0, 300], [1, 0, 0], [0, 1, 0])},${m.direction([0, 0, 1])},${m.length(390)}`,
    );
    const representation = m.add(
      'IFCSHAPEREPRESENTATION',
      `${m.context},'Body','SweptSolid',(${rail(-195)},${rail(195)},${rung})`,
    );
    const ladder = m.service('ladder', { at: [2000, -1000, 1500], z: Y, x: [1, 0, 0] }, rail(0));
    const shape = m.add('IFCPRODUCTDEFINITIONSHAPE', `$,$,(${representation})`);
    const bytes = m
      .toText()
      .replace(new RegExp(`(${ladder.ref}=[^;]*,)#\\d+(,\\$[^;]*;)`), `$1${shape}$2`);
    const found = await findInBytes(new TextEncoder().encode(bytes));
    expect(found.findings.penetrations[0]?.crossings[0]).toMatchObject({
      kind: 'carrier',
      carrierForm: 'ladder',
      section: { type: 'rectangle', widthMm: 400, heightMm: 100 },
      offsetMm: [0, 0],
    });
  });

  test('a pipe cut short by a plane ends where its body ends', async () => {
    const m = new IfcMaker({ schema });
    m.wall({ at: [0, 0, 0], length: 6000, thickness: 200, height: 3000 });
    const plane = m.add('IFCPLANE', m.placement3([0, 0, 500], [0, 0, 1], [1, 0, 0]));
    const half = m.add('IFCHALFSPACESOLID', `${plane},.F.`);
    const clipped = m.add(
      'IFCBOOLEANCLIPPINGRESULT',
      `.DIFFERENCE.,${m.extruded({ circle: 60 }, 2000)},${half}`,
    );
    const pipe = m.service(
      'pipe',
      { at: [2000, -1000, 1500], z: Y, x: [1, 0, 0] },
      clipped,
      'Clipping',
    );
    const found = await findIn(m);
    expect(found.findings.penetrations).toEqual([]);
    expect(outcomeOf(found, pipe.guid)).toBe('clear');
  });

  test('overlapping walls of two trades in one place are one assembly', async () => {
    const m = new IfcMaker({ schema });
    const a = m.wall({
      at: [0, 0, 0],
      length: 6000,
      thickness: 200,
      height: 3000,
      name: 'Architect',
    });
    const b = m.wall({
      at: [0, 20, 0],
      length: 6000,
      thickness: 160,
      height: 3000,
      name: 'Structure',
    });
    const pipe = m.segment('pipe', {
      from: [1000, -1000, 1500],
      to: [1000, 1000, 1500],
      outline: { circle: 50 },
    });
    const found = await findIn(m);
    expect(briefs(found)).toEqual([
      { kind: 'unopened', hosts: guids(a, b), openings: [], services: [guids(pipe)] },
    ]);
    expect(found.findings.penetrations[0]?.thicknessMm).toBeCloseTo(200, 3);
  });

  test('a conduit embedded from floor to ceiling lies within its wall', async () => {
    const m = new IfcMaker({ schema });
    m.wall({ at: [0, 0, 0], length: 6000, thickness: 200, height: 3000 });
    const conduit = m.segment('conduit', {
      from: [1000, 0, 0],
      to: [1000, 0, 3000],
      outline: { circle: 25 },
    });
    const found = await findIn(m);
    expect(briefs(found)).toEqual([]);
    expect(outcomeOf(found, conduit.guid)).toBe('within');
  });

  test('spaces on both sides, grid and level', async () => {
    const m = new IfcMaker({ schema });
    const ground = m.storey('Ground', 0);
    m.storey('First', 3500);
    m.wall({ at: [0, 0, 0], length: 6000, thickness: 200, height: 3000, storey: ground });
    m.space('Plant room', [0, -4100, 0], [6000, 4000, 2900], ground);
    m.space('Corridor', [0, 100, 0], [6000, 2000, 2900], ground);
    m.grid({ A: 0, B: 6000 }, { 1: 0, 2: 4000 });
    m.segment('pipe', { from: [1200, -500, 1500], to: [1200, 500, 1500], outline: { circle: 50 } });
    const { findings } = await findIn(m);
    expect(findings.penetrations[0]?.where).toMatchObject({
      level: 'Ground',
      heightAboveLevelMm: 1500,
      grid: 'A/1 +1200 +0',
      spaces: { near: 'Plant room', far: 'Corridor' },
    });
  });

  test('two files with their own map conversions meet in the frame of the first', async () => {
    if (schema === 'IFC2X3') return;
    const first = new IfcMaker({
      schema,
      mapConversion: {
        eastings: 500_000_000,
        northings: 5_700_000_000,
        height: 30_000,
        turnDeg: 20,
      },
      guidSeed: 1,
    });
    const wall = first.wall({ at: [0, 0, 0], length: 6000, thickness: 200, height: 3000 });
    // The second model's origin lies 10 m along the first one's x, and it is turned by 90° in it.
    const turn = (20 * Math.PI) / 180;
    const second = new IfcMaker({
      schema,
      unit: 'm',
      mapConversion: {
        eastings: 500_000_000 + 10_000 * Math.cos(turn),
        northings: 5_700_000_000 + 10_000 * Math.sin(turn),
        height: 30_000,
        turnDeg: 110,
      },
      guidSeed: 2,
    });
    // In the first frame this is a pipe at x = 2000 along y: x1 = 10000 − y2, y1 = x2.
    const pipe = second.segment('pipe', {
      from: [-1000, 8000, 1500],
      to: [1000, 8000, 1500],
      outline: { circle: 110 },
    });
    const settings = Settings.parse({});
    const parts = [];
    for (const [key, maker] of [
      ['a', first],
      ['b', second],
    ] as const) {
      parts.push((await readIfc({ key, name: key, bytes: maker.toBytes() }, settings)).result);
    }
    const joined = joinBuildings(parts);
    const found = findInModels(joined.result, settings);
    expect(found.result.penetrations.map(brief)).toEqual([
      { kind: 'unopened', hosts: guids(wall), openings: [], services: [guids(pipe)] },
    ]);
    expect(rounded(found.result.penetrations[0]?.frame.originMm)).toEqual([2000, 0, 1500]);
  });
});

describe('IFC2X3 flow segments are told apart', () => {
  test.each([
    ['IFCCABLECARRIERSEGMENTTYPE', '.CABLELADDERSEGMENT.', 'x', 'carrier', 'ladder'],
    ['IFCCABLECARRIERSEGMENTTYPE', '.CONDUITSEGMENT.', 'x', 'conduit', null],
    ['IFCCABLESEGMENTTYPE', '.CABLESEGMENT.', 'x', 'cable', null],
    ['IFCDUCTSEGMENTTYPE', '.RIGIDSEGMENT.', 'x', 'duct', null],
    ['IFCPIPESEGMENTTYPE', '.RIGIDSEGMENT.', 'x', 'pipe', null],
    [null, '', 'Cable Tray with Fittings:Basic', 'carrier', 'tray'],
    [null, '', 'Conduit without Fittings', 'conduit', null],
    [null, '', 'Rectangular Duct:Mitred', 'duct', null],
    [null, '', 'Pipe Types:Standard', 'pipe', null],
  ] as const)('%s %s "%s" is a %s', async (type, predefined, name, kind, form) => {
    const m = new IfcMaker({ schema: 'IFC2X3' });
    m.wall({ at: [0, 0, 0], length: 6000, thickness: 200, height: 3000 });
    const made = m.element(
      'IFCFLOWSEGMENT',
      { name, at: [1000, -500, 1500], z: Y, x: [1, 0, 0] },
      m.body(m.extruded({ rectangle: [100, 50] }, 1000)),
      '',
    );
    if (type !== null) m.typed(made, type, 'Type', predefined);
    const { findings } = await findIn(m);
    expect(findings.penetrations[0]?.crossings[0]).toMatchObject({ kind, carrierForm: form });
  });

  test('by its system', async () => {
    const m = new IfcMaker({ schema: 'IFC2X3' });
    m.wall({ at: [0, 0, 0], length: 6000, thickness: 200, height: 3000 });
    const made = m.element(
      'IFCFLOWSEGMENT',
      { name: '4711', at: [1000, -500, 1500], z: Y, x: [1, 0, 0] },
      m.body(m.extruded({ circle: 100 }, 1000)),
      '',
    );
    m.system('Supply Air 1', [made]);
    const { findings } = await findIn(m);
    expect(findings.penetrations[0]?.crossings[0]?.kind).toBe('duct');
    expect(findings.penetrations[0]?.crossings[0]?.systems).toEqual(['Supply Air 1']);
  });
});
