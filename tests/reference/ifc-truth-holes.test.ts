/**
 * Truth models of holes that are part of a host's own body: inner loops of profiles, boolean
 * differences, loops in faces of breps and tessellations, in flat, sloped and curved hosts, at
 * edges, with joints in them, and niches that are none.
 * @source entity tables of IFC2X3 TC1, IFC4 ADD2 TC1, IFC4X3 ADD2; outcomes by rules §1 of the project
 */
import { describe, expect, test } from 'vitest';
import { briefs, codes, findIn, guids, outcomeOf, sortedBriefs } from '../makers/ifc/find-in.ts';
import { IfcMaker, MAKER_SCHEMAS, type Made, type Point } from '../makers/ifc/ifc-maker.ts';

const Y: Point = [0, 1, 0];
const Z: Point = [0, 0, 1];
const X: Point = [1, 0, 0];

function rounded(values: readonly number[] | undefined): number[] | undefined {
  return values?.map((value) => Math.round(value) + 0);
}

/** Chords of a circle in a plane. */
function ring(x: number, y: number, diameter: number, chords = 24): [number, number][] {
  return Array.from({ length: chords }, (_, n): [number, number] => {
    const angle = (2 * Math.PI * n) / chords;
    return [x + (diameter / 2) * Math.cos(angle), y + (diameter / 2) * Math.sin(angle)];
  });
}

function ringSector(inner: number, outer: number, from: number, to: number): [number, number][] {
  const count = 60;
  const arc = (radius: number, a: number, b: number) =>
    Array.from({ length: count + 1 }, (_, n): [number, number] => {
      const angle = ((a + ((b - a) * n) / count) * Math.PI) / 180;
      return [radius * Math.cos(angle), radius * Math.sin(angle)];
    });
  return [...arc(outer, from, to), ...arc(inner, to, from)];
}

describe.each(MAKER_SCHEMAS)('holes in the host itself, %s', (schema) => {
  const wallTail = schema === 'IFC2X3' ? '' : ',.STANDARD.';
  const host = (m: IfcMaker, type: 'IFCWALL' | 'IFCSLAB', item: string, kind = 'CSG'): Made =>
    m.element(
      type,
      { name: 'Host', at: [0, 0, 0], z: Z, x: X },
      m.body(item, kind),
      type === 'IFCSLAB' ? ',.FLOOR.' : wallTail,
    );
  const pipe = (m: IfcMaker, from: Point, to: Point, diameter = 110): Made =>
    m.segment('pipe', { from, to, outline: { circle: diameter } });
  const placed = (
    m: IfcMaker,
    outline: Parameters<IfcMaker['profile']>[0],
    at: Point,
    z: Point,
    x: Point,
    depth: number,
  ) =>
    m.add(
      'IFCEXTRUDEDAREASOLID',
      `${m.profile(outline)},${m.placement3(at, z, x)},${m.direction([0, 0, 1])},${m.length(depth)}`,
    );
  const less = (m: IfcMaker, a: string, b: string) =>
    m.add('IFCBOOLEANRESULT', `.DIFFERENCE.,${a},${b}`);

  test('a round and a square inner loop in a slab', async () => {
    const m = new IfcMaker({ schema });
    const centre = m.add('IFCAXIS2PLACEMENT2D', `${m.point2([1000, 500])},$`);
    const circle = m.add('IFCCIRCLE', `${centre},${m.length(100)}`);
    const outer = m.profile({
      polygonWithHoles: [
        [-3000, -2000],
        [3000, -2000],
        [3000, 2000],
        [-3000, 2000],
      ],
      holes: [
        [
          [-1200, -100],
          [-800, -100],
          [-800, 100],
          [-1200, 100],
        ],
      ],
    });
    const text = new RegExp(`(${outer}=IFCARBITRARYPROFILEDEFWITHVOIDS\\([^)]*\\()`);
    const item = m.add(
      'IFCEXTRUDEDAREASOLID',
      `${outer},${m.placement3([0, 0, 0])},${m.direction([0, 0, 1])},${m.length(200)}`,
    );
    const slab = host(m, 'IFCSLAB', item, 'SweptSolid');
    const a = pipe(m, [1000, 500, -1000], [1000, 500, 1000]);
    const b = pipe(m, [-900, 0, -1000], [-900, 0, 1000], 50);
    const c = pipe(m, [-1100, 0, -1000], [-1100, 0, 1000], 50);
    const bytes = m.toText().replace(text, `$1${circle},`);
    const { findInBytes } = await import('../makers/ifc/find-in.ts');
    const found = await findInBytes(new TextEncoder().encode(bytes));
    expect(briefs(found)).toEqual(
      sortedBriefs([
        { kind: 'hole', hosts: guids(slab), openings: [], services: [[a.guid]] },
        { kind: 'hole', hosts: guids(slab), openings: [], services: [[b.guid], [c.guid]].sort() },
      ]),
    );
    const shapes = found.findings.penetrations.map(({ shape }) => shape);
    expect(shapes.find((shape) => shape?.type === 'circle')).toMatchObject({ diameterMm: 200 });
    expect(shapes.find((shape) => shape?.type === 'rectangle')).toMatchObject({
      widthMm: 400,
      heightMm: 200,
    });
  });

  test('a boolean difference cut through a wall, and one that is a niche only', async () => {
    const m = new IfcMaker({ schema });
    const wallBody = m.extruded({ rectangle: [6000, 200] }, 3000);
    const hole = placed(m, { circle: 180 }, [1000, -300, 1500], Y, X, 600);
    const niche = placed(m, { rectangle: [300, 300] }, [-1000, -300, 1500], Y, X, 280);
    const wall = host(m, 'IFCWALL', less(m, less(m, wallBody, hole), niche));
    const inHole = pipe(m, [1000, -800, 1500], [1000, 800, 1500]);
    const inNiche = pipe(m, [-1000, -800, 1500], [-1000, 800, 1500]);
    const found = await findIn(m);
    expect(briefs(found)).toEqual(
      sortedBriefs([
        { kind: 'hole', hosts: guids(wall), openings: [], services: [[inHole.guid]] },
        { kind: 'unopened', hosts: guids(wall), openings: [], services: [[inNiche.guid]] },
      ]),
    );
    const holed = found.findings.penetrations.find(({ kind }) => kind === 'hole');
    expect(holed?.shape).toMatchObject({ type: 'circle' });
    expect(rounded(holed?.frame.originMm)).toEqual([1000, 0, 1500]);
    expect(holed?.thicknessMm).toBeCloseTo(200, 1);
  });

  test('a joint inside the hole, a run that ends in it, a skew one that scrapes its side', async () => {
    const m = new IfcMaker({ schema });
    const body = m.extruded({ rectangle: [6000, 300] }, 3000);
    const cut = (x: number) => placed(m, { rectangle: [300, 200] }, [x, -400, 1500], Y, X, 800);
    const wall = host(m, 'IFCWALL', less(m, less(m, less(m, body, cut(0)), cut(1000)), cut(2000)));
    const a = pipe(m, [0, -800, 1500], [0, 20, 1500]);
    const b = pipe(m, [0, 20, 1500], [0, 800, 1500]);
    const ends = pipe(m, [1000, -800, 1500], [1000, 0, 1500]);
    // In by the hole at the near face, out through the solid beside it at the far face.
    const skew = pipe(m, [1600, -550, 1500], [2700, 550, 1500], 40);
    const found = await findIn(m);
    expect(briefs(found)).toEqual(
      sortedBriefs([
        { kind: 'hole', hosts: guids(wall), openings: [], services: [guids(a, b)] },
        { kind: 'hole', hosts: guids(wall), openings: [], services: [guids(skew)] },
        // The hole stays when its pipe ends in it.
        { kind: 'hole', hosts: guids(wall), openings: [], services: [] },
      ]),
    );
    expect(outcomeOf(found, ends.guid)).toBe('endsInside');
  });

  test('a hole with nothing in it is a penetration too; a window-sized one is only asked about', async () => {
    const m = new IfcMaker({ schema });
    const body = m.extruded({ rectangle: [6000, 200] }, 3000);
    const small = placed(m, { circle: 150 }, [1000, -300, 1500], Y, X, 600);
    const window = placed(m, { rectangle: [1500, 1200] }, [-1500, -300, 1500], Y, X, 600);
    const wall = host(m, 'IFCWALL', less(m, less(m, body, small), window));
    const found = await findIn(m);
    expect(briefs(found)).toEqual([
      { kind: 'hole', hosts: guids(wall), openings: [], services: [] },
    ]);
    expect(codes(found)).toContain('opening-without-service');
  });

  test('holes in a curved wall that nothing passes; a niche and the wall’s own edges are none', async () => {
    const m = new IfcMaker({ schema });
    const out = (deg: number): Point => {
      const angle = (deg * Math.PI) / 180;
      return [Math.cos(angle), Math.sin(angle), 0];
    };
    const at = (
      deg: number,
      outline: Parameters<IfcMaker['profile']>[0],
      z: number,
      [from, depth]: readonly [number, number] = [4500, 1500],
    ) => {
      const [x, y] = out(deg);
      return placed(m, outline, [x * from, y * from, z], out(deg), [-y, x, 0], depth);
    };
    const cuts = [
      at(0, { circle: 250 }, 1500),
      at(20, { rectangle: [400, 200] }, 1000),
      at(-25, { rectangle: [300, 300] }, 2000, [4500, 650]),
    ];
    const body = m.extruded({ polygon: ringSector(5000, 5300, -60, 60) }, 3000);
    const wall = host(
      m,
      'IFCWALL',
      cuts.reduce((item, cut) => less(m, item, cut), body),
    );
    const found = await findIn(m);
    const empty = { kind: 'hole', hosts: guids(wall), openings: [], services: [] };
    expect(briefs(found)).toEqual([empty, empty]);
    const places = found.findings.penetrations.map(({ frame, shape, thicknessMm }) => {
      const [x, y, z] = frame.originMm;
      const deg = Math.round((Math.atan2(y, x) * 180) / Math.PI) + 0;
      return [shape?.type, deg, Math.round(z), Math.abs(thicknessMm - 300) < 5];
    });
    expect(places.sort()).toEqual([
      ['circle', 0, 1500, true],
      ['rectangle', 20, 1000, true],
    ]);
    expect(codes(found)).toContain('opening-without-service');
  });

  test('a round tank and an angled wall without holes have none', async () => {
    const m = new IfcMaker({ schema });
    const tank = m.extruded(
      { polygonWithHoles: ring(0, 0, 6000, 48), holes: [ring(0, 0, 5600, 48)] },
      2500,
    );
    host(m, 'IFCWALL', tank, 'SweptSolid');
    expect(briefs(await findIn(m))).toEqual([]);
  });

  test('a curved wall with round and square holes, one service in each, one beside', async () => {
    const m = new IfcMaker({ schema });
    const body = m.extruded({ polygon: ringSector(5000, 5300, -60, 60) }, 3000);
    const at = (deg: number, outline: Parameters<IfcMaker['profile']>[0], z: number) => {
      const angle = (deg * Math.PI) / 180;
      const out: Point = [Math.cos(angle), Math.sin(angle), 0];
      return placed(m, outline, [out[0] * 4500, out[1] * 4500, z], out, [-out[1], out[0], 0], 1500);
    };
    const wall = host(
      m,
      'IFCWALL',
      less(m, less(m, body, at(0, { circle: 250 }, 1500)), at(20, { rectangle: [400, 200] }, 1000)),
    );
    const radial = (deg: number, z: number): Made => {
      const angle = (deg * Math.PI) / 180;
      const p = (r: number): Point => [r * Math.cos(angle), r * Math.sin(angle), z];
      return pipe(m, p(4000), p(6500));
    };
    const a = radial(0, 1500);
    const b = radial(20, 1000);
    const c = radial(-20, 1000);
    const over = radial(0, 3200);
    const found = await findIn(m);
    expect(briefs(found)).toEqual(
      sortedBriefs([
        { kind: 'hole', hosts: guids(wall), openings: [], services: [[a.guid]] },
        { kind: 'hole', hosts: guids(wall), openings: [], services: [[b.guid]] },
        { kind: 'unopened', hosts: guids(wall), openings: [], services: [[c.guid]] },
      ]),
    );
    expect(outcomeOf(found, over.guid)).toBe('clear');
    for (const penetration of found.findings.penetrations) {
      expect(Math.abs(penetration.thicknessMm - 300)).toBeLessThan(3);
    }
    const round = found.findings.penetrations.find(({ crossings }) =>
      crossings.some(({ refs }) => refs[0]?.id === a.guid),
    );
    expect(round?.shape?.type).toBe('circle');
    if (round?.shape?.type === 'circle')
      expect(Math.abs(round.shape.diameterMm - 250)).toBeLessThan(3);
    expect(rounded(round?.frame.originMm)?.[2]).toBe(1500);
    expect(Math.abs((round?.frame.originMm[0] ?? 0) - 5150)).toBeLessThan(5);
  });

  test('a notch in the top of a wall and in the edge of a slab; an inner corner is none', async () => {
    const m = new IfcMaker({ schema });
    const wallBody = placed(
      m,
      {
        polygon: [
          [-3000, 0],
          [3000, 0],
          [3000, 3000],
          [700, 3000],
          [700, 2700],
          [300, 2700],
          [300, 3000],
          [-3000, 3000],
        ],
      },
      [0, 100, 0],
      [0, -1, 0],
      X,
      200,
    );
    const wall = host(m, 'IFCWALL', wallBody, 'SweptSolid');
    const tray = m.segment('tray', {
      from: [500, -1000, 2850],
      to: [500, 1000, 2850],
      outline: { tray: [300, 60] },
      x: X,
    });
    const overWall = pipe(m, [-1000, -800, 3100], [-1000, 800, 3100]);
    const slab = m.element(
      'IFCSLAB',
      { name: 'Slab', at: [0, 10000, 0], z: Z, x: X },
      m.body(
        m.extruded(
          {
            polygon: [
              [0, 0],
              [6000, 0],
              [6000, 1000],
              [5700, 1000],
              [5700, 1300],
              [6000, 1300],
              [6000, 3000],
              [3000, 3000],
              [3000, 6000],
              [0, 6000],
            ],
          },
          250,
        ),
      ),
      ',.FLOOR.',
    );
    const riser = pipe(m, [5850, 11150, -1000], [5850, 11150, 1000]);
    const corner = pipe(m, [3150, 13150, -1000], [3150, 13150, 1000]);
    const beside = pipe(m, [6150, 10500, -1000], [6150, 10500, 1000]);
    const found = await findIn(m);
    expect(briefs(found)).toEqual(
      sortedBriefs([
        { kind: 'hole', hosts: guids(wall), openings: [], services: [[tray.guid]] },
        { kind: 'hole', hosts: guids(slab), openings: [], services: [[riser.guid]] },
      ]),
    );
    expect([overWall, corner, beside].map(({ guid }) => outcomeOf(found, guid))).toEqual([
      'clear',
      'clear',
      'clear',
    ]);
    const inSlab = found.findings.penetrations.find(({ hosts }) => hosts[0]?.kind === 'slab');
    expect(inSlab?.shape).toMatchObject({ type: 'rectangle', widthMm: 300, heightMm: 300 });
  });

  test('a brep whose faces have loops, and a hole in a sloped roof', async () => {
    const m = new IfcMaker({ schema });
    const slab = host(m, 'IFCSLAB', slabBrepWithHole(m), 'Brep');
    const inSlab = pipe(m, [1000, 500, -1000], [1000, 500, 1000]);
    const roofBody = m.extruded(
      {
        polygonWithHoles: [
          [-3000, -2000],
          [3000, -2000],
          [3000, 2000],
          [-3000, 2000],
        ],
        holes: [ring(0, 0, 400)],
      },
      250,
    );
    const roof = m.element(
      'IFCROOF',
      { name: 'Roof', at: [0, 20000, 4000], z: [0, -0.5, 0.8660254037844386], x: X },
      m.body(roofBody),
      schema === 'IFC2X3' ? ',.NOTDEFINED.' : ',.NOTDEFINED.',
    );
    const duct = m.segment('duct', {
      from: [0, 20000, 3000],
      to: [0, 20000, 6000],
      outline: { circle: 315 },
    });
    const found = await findIn(m);
    expect(briefs(found)).toEqual(
      sortedBriefs([
        { kind: 'hole', hosts: guids(slab), openings: [], services: [[inSlab.guid]] },
        { kind: 'hole', hosts: guids(roof), openings: [], services: [[duct.guid]] },
      ]),
    );
  });
});

/** A slab 6 × 4 m, 200 mm thick, as a brep with a 300 mm square hole at (1000, 500). */
function slabBrepWithHole(m: IfcMaker): string {
  const outer: [number, number][] = [
    [-3000, -2000],
    [3000, -2000],
    [3000, 2000],
    [-3000, 2000],
  ];
  const inner: [number, number][] = [
    [850, 350],
    [1150, 350],
    [1150, 650],
    [850, 650],
  ];
  const at = (points: readonly [number, number][], z: number) =>
    points.map(([x, y]) => m.point([x, y, z]));
  const [o0, o1, i0, i1] = [at(outer, 0), at(outer, 200), at(inner, 0), at(inner, 200)];
  const loop = (refs: readonly string[]) => m.add('IFCPOLYLOOP', `(${refs.join(',')})`);
  const face = (bounds: readonly string[]) => m.add('IFCFACE', `(${bounds.join(',')})`);
  const outerBound = (refs: readonly string[]) => m.add('IFCFACEOUTERBOUND', `${loop(refs)},.T.`);
  const innerBound = (refs: readonly string[]) => m.add('IFCFACEBOUND', `${loop(refs)},.T.`);
  const faces = [
    face([outerBound([...o0].reverse()), innerBound(i0)]),
    face([outerBound(o1), innerBound([...i1].reverse())]),
  ];
  for (let n = 0; n < 4; n += 1) {
    const k = (n + 1) % 4;
    const pick = (refs: readonly string[], at: number): string => refs[at] ?? '';
    faces.push(face([outerBound([pick(o0, n), pick(o0, k), pick(o1, k), pick(o1, n)])]));
    faces.push(face([outerBound([pick(i0, k), pick(i0, n), pick(i1, n), pick(i1, k)])]));
  }
  return m.add('IFCFACETEDBREP', m.add('IFCCLOSEDSHELL', `(${faces.join(',')})`));
}

describe.each(['IFC4', 'IFC4X3'] as const)('tessellated hosts, %s', (schema) => {
  test('a hole in a triangulated wall', async () => {
    const m = new IfcMaker({ schema });
    const outer: [number, number][] = [
      [-2000, 0],
      [2000, 0],
      [2000, 3000],
      [-2000, 3000],
    ];
    const inner: [number, number][] = [
      [-150, 1400],
      [150, 1400],
      [150, 1600],
      [-150, 1600],
    ];
    const points: Point[] = [-100, 100].flatMap((y) =>
      [...outer, ...inner].map(([x, z]): Point => [x, y, z]),
    );
    const triangles: number[][] = [];
    const quad = (a: number, b: number, c: number, d: number) =>
      triangles.push([a, b, c], [a, c, d]);
    for (let n = 0; n < 4; n += 1) {
      const k = (n + 1) % 4;
      quad(n, k, k + 4, n + 4);
      quad(n + 12, k + 12, k + 8, n + 8);
      quad(k, n, n + 8, k + 8);
      quad(n + 4, k + 4, k + 12, n + 12);
    }
    const list = m.add(
      'IFCCARTESIANPOINTLIST3D',
      `(${points.map((p) => `(${p.map((v) => m.length(v)).join(',')})`).join(',')})${schema === 'IFC4' ? '' : ',$'}`,
    );
    const item = m.add(
      'IFCTRIANGULATEDFACESET',
      `${list},$,.T.,(${triangles.map((t) => `(${t.map((n) => n + 1).join(',')})`).join(',')}),$`,
    );
    const wall = m.element(
      'IFCWALL',
      { name: 'W', at: [0, 0, 0], z: Z, x: X },
      m.body(item, 'Tessellation'),
      ',.STANDARD.',
    );
    const pipe = m.segment('pipe', {
      from: [50, -1000, 1500],
      to: [50, 1000, 1500],
      outline: { circle: 90 },
    });
    const found = await findIn(m);
    expect(briefs(found)).toEqual([
      { kind: 'hole', hosts: guids(wall), openings: [], services: [[pipe.guid]] },
    ]);
    expect(found.findings.penetrations[0]?.shape).toMatchObject({ widthMm: 300, heightMm: 200 });
  });
});
