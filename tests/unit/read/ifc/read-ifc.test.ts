import { afterEach, describe, expect, test, vi } from 'vitest';
import { SealbookError } from '../../../../src/basics/errors.ts';
import type { Mesh } from '../../../../src/model/building.ts';
import { Settings } from '../../../../src/model/settings.ts';
import { readIfc } from '../../../../src/read/ifc/read-ifc.ts';
import { IfcMaker, MAKER_SCHEMAS } from '../../../makers/ifc/ifc-maker.ts';

const settings = Settings.parse({});

function read(text: string | Uint8Array, given: unknown = {}) {
  const bytes = typeof text === 'string' ? new TextEncoder().encode(text) : text;
  return readIfc({ key: 'm', name: 'model.ifc', bytes }, Settings.parse(given));
}

async function failure(text: string | Uint8Array, given: unknown = {}): Promise<SealbookError> {
  try {
    await read(text, given);
  } catch (error) {
    if (error instanceof SealbookError) return error;
    throw error;
  }
  throw new Error('It was read without an error.');
}

function plainModel(schema: (typeof MAKER_SCHEMAS)[number] = 'IFC4'): IfcMaker {
  const m = new IfcMaker({ schema });
  m.wall({ at: [0, 0, 0], length: 4000, thickness: 200, height: 3000, name: 'Wall' });
  m.segment('pipe', { from: [1000, -500, 1500], to: [1000, 500, 1500], outline: { circle: 50 } });
  return m;
}

/** Divergence theorem over the triangles. */
function volumeMm3({ positionsMm, triangles }: Mesh): number {
  const at = (n: number, k: number): number => positionsMm[(triangles[n] ?? 0) * 3 + k] ?? 0;
  let six = 0;
  for (let n = 0; n + 2 < triangles.length; n += 3) {
    const [a, b, c] = [n, n + 1, n + 2].map((m) => [at(m, 0), at(m, 1), at(m, 2)] as const);
    if (!a || !b || !c) continue;
    six +=
      a[0] * (b[1] * c[2] - b[2] * c[1]) +
      a[1] * (b[2] * c[0] - b[0] * c[2]) +
      a[2] * (b[0] * c[1] - b[1] * c[0]);
  }
  return Math.abs(six) / 6;
}

afterEach(() => {
  vi.restoreAllMocks();
});

describe('files that can’t be used end in an error that names file and cause', () => {
  test.each([
    ['empty', '', 'empty'],
    ['blank', ' \n\t', 'empty'],
    ['no STEP', 'Hello, this is a letter.', 'no STEP'],
    ['zipped', new Uint8Array([0x50, 0x4b, 3, 4, 0, 0]), 'no STEP'],
    ['header only', 'ISO-10303-21;\nHEADER;\nENDSEC;\n', 'cut short'],
  ])('%s', async (_what, content, cause) => {
    const error = await failure(content);
    expect(error.code).toBe('input-unreadable');
    expect(error.where.file).toBe('model.ifc');
    expect(error.message).toContain(cause);
    expect(error.todo).not.toBeNull();
  });

  test.each([0.3, 0.6, 0.9])('cut at %f of its length', async (ratio) => {
    const text = plainModel().toText();
    const error = await failure(text.slice(0, Math.floor(text.length * ratio)));
    expect(error.code).toBe('input-unreadable');
    expect(error.message).toContain('cut short');
  });

  test('a text that never ends', async () => {
    const text = plainModel().toText().replace("'Wall'", "'Wall");
    expect((await failure(text)).code).toBe('input-unreadable');
  });

  test.each(['IFC9', 'AUTOMOTIVE_DESIGN', 'IFC2X_FINAL', ''])('schema "%s"', async (schema) => {
    const text = plainModel().toText().replace("'IFC4'", `'${schema}'`);
    const error = await failure(text);
    expect(error.code).toBe('input-unreadable');
    expect(error.message).toContain('schema');
  });

  test('beyond the limits of size and of records', async () => {
    expect((await failure(plainModel().toText(), { limits: { fileMb: 0.001 } })).code).toBe(
      'input-too-large',
    );
    expect((await failure(plainModel().toText(), { limits: { entities: 10 } })).code).toBe(
      'input-too-large',
    );
  });
});

describe.each(MAKER_SCHEMAS)('what is odd in a model becomes a query, %s', (schema) => {
  test('nothing is written to the console, not even for a broken model', async () => {
    const spies = (['log', 'warn', 'error', 'info', 'trace', 'debug'] as const).map((method) =>
      vi.spyOn(console, method).mockImplementation(() => undefined),
    );
    const text = plainModel(schema).toText();
    await read(text);
    await read(text.replace(/IFCEXTRUDEDAREASOLID\(#\d+/, 'IFCEXTRUDEDAREASOLID(#999999'));
    await failure(text.slice(0, 900));
    for (const spy of spies) expect(spy).not.toHaveBeenCalled();
  });

  test('the same GlobalId twice: both are kept apart by what they are', async () => {
    const make = (reversed: boolean): IfcMaker => {
      const m = new IfcMaker({ schema, reversed });
      const guid = '0123456789ABCDEFGHIJKL';
      m.wall({ at: [0, 0, 0], length: 4000, thickness: 200, height: 3000, name: 'A', guid });
      m.wall({ at: [0, 5000, 0], length: 4000, thickness: 200, height: 3000, name: 'B', guid });
      return m;
    };
    const plain = await read(make(false).toText());
    const ids = plain.result.building.hosts.map(({ id, name }) => `${id} ${name}`);
    expect(new Set(plain.result.building.hosts.map(({ id }) => id)).size).toBe(2);
    expect(plain.queries.map(({ code }) => code)).toContain('duplicate-global-id');
    const reversed = await read(make(true).toText());
    expect(reversed.result.building.hosts.map(({ id, name }) => `${id} ${name}`)).toEqual(ids);
  });

  test('a malformed GlobalId, a dangling reference, a record number used twice', async () => {
    const m = new IfcMaker({ schema });
    m.wall({ at: [0, 0, 0], length: 4000, thickness: 200, height: 3000, guid: 'short' });
    m.rooted('IFCRELVOIDSELEMENT', '$,$,#900001,#900002');
    const text = m
      .toText()
      .replace('ENDSEC;\nEND-ISO', '#1=IFCPERSON($,$,$,$,$,$,$,$);\nENDSEC;\nEND-ISO');
    const { queries } = await read(text);
    const codes = queries.map(({ code }) => code);
    expect(codes).toContain('malformed-global-id');
    expect(queries.find(({ code }) => code === 'dangling-reference')?.text).toMatch(
      /#900001.*used twice/s,
    );
  });

  test('no unit of length: metres, and a query', async () => {
    const text = plainModel(schema).toText().replaceAll('.LENGTHUNIT.', '.AREAUNIT.');
    const { queries, result } = await read(text);
    expect(queries.map(({ code }) => code)).toContain('units-missing');
    expect(result.frame.mmPerUnit).toBe(1000);
  });

  test('a placement that refers to itself ends, with a query', async () => {
    const m = plainModel(schema);
    const text = m
      .toText()
      .replace(`IFCLOCALPLACEMENT($,`, 'IFCLOCALPLACEMENT(#900000,')
      .replace('ENDSEC;\nEND-ISO', '#900000=IFCLOCALPLACEMENT(#900000,$);\nENDSEC;\nEND-ISO');
    const { queries, result } = await read(text);
    expect(result.building.hosts[0]?.mesh).toBeNull();
    expect(queries.map(({ code }) => code)).toContain('placement-missing');
  });

  test('a correction turns and moves the model', async () => {
    const bytes = plainModel(schema).toBytes();
    const { result } = await readIfc({ key: 'm', name: 'model.ifc', bytes }, settings, {
      correction: { moveMm: [100, 200, 300], turnDeg: 90 },
    });
    const [start, end] = result.building.services[0]?.axisMm ?? [];
    // (1000, −500) turned by a quarter is (500, 1000).
    expect(start?.map(Math.round)).toEqual([600, 1200, 1800]);
    expect(end?.map(Math.round)).toEqual([-400, 1200, 1800]);
  });

  test('hosts come gross: no opening is cut from them', async () => {
    const m = new IfcMaker({ schema });
    const wall = m.wall({ at: [0, 0, 0], length: 4000, thickness: 200, height: 3000 });
    for (const x of [500, 1500, 2500]) {
      m.opening(wall, { at: [x, 0, 1500], axis: [0, 1, 0], outline: { circle: 150 }, depth: 300 });
    }
    const { result } = await read(m.toText());
    const mesh = result.building.hosts[0]?.mesh;
    // A box: its volume is length × thickness × height, with nothing missing.
    expect(mesh === null || mesh === undefined ? 0 : volumeMm3(mesh)).toBeCloseTo(
      4000 * 200 * 3000,
      -3,
    );
    expect(result.building.hosts[0]?.openingIds).toHaveLength(3);
  });

  test('an empty record, on which web-ifc would never end, is left out with a query', async () => {
    const m = new IfcMaker({ schema });
    const tail = schema === 'IFC2X3' ? '' : ',.RIGIDSEGMENT.';
    m.element(
      schema === 'IFC2X3' ? 'IFCFLOWSEGMENT' : 'IFCPIPESEGMENT',
      { at: [0, 0, 0], z: [0, 0, 1], x: [1, 0, 0] },
      m.body(m.boxBrep([-50, -50, 0], [50, 50, 1000]), 'Brep'),
      tail,
    );
    const text = m.toText().replace(/IFCPOLYLOOP\(\([^;]*;/, 'IFCPOLYLOOP();');
    const { queries } = await read(text);
    expect(queries.find(({ code }) => code === 'dangling-reference')?.text).toContain(
      'empty, broken or not as their type asks',
    );
  });

  test('the user’s own classes count as hosts and services', async () => {
    const m = new IfcMaker({ schema });
    m.element(
      'IFCCOLUMN',
      { name: 'C', at: [0, 0, 0], z: [0, 0, 1], x: [1, 0, 0] },
      m.body(m.extruded({ rectangle: [400, 400] }, 3000)),
      schema === 'IFC2X3' ? '' : ',$',
    );
    m.element(
      'IFCBUILDINGELEMENTPROXY',
      { name: 'Sleeve', at: [0, -500, 1500], z: [0, 1, 0], x: [1, 0, 0] },
      m.body(m.extruded({ circle: 80 }, 1000)),
      ',$',
    );
    const { result } = await read(m.toText(), {
      hosts: { classes: ['IfcColumn'] },
      services: { classes: [{ class: 'IfcBuildingElementProxy', kind: 'conduit' }] },
    });
    expect(result.building.hosts.map(({ kind }) => kind)).toEqual(['other']);
    expect(result.building.services.map(({ kind }) => kind)).toEqual(['conduit']);
  });

  test('properties of the type and of the element: fire rating, external, sizes, references', async () => {
    const m = new IfcMaker({ schema });
    const wall = m.wall({ at: [0, 0, 0], length: 4000, thickness: 200, height: 3000 });
    m.properties([wall], 'Pset_WallCommon', {
      FireRating: 'REI 90',
      IsExternal: true,
      LoadBearing: false,
    });
    const cable = m.segment('cable', {
      from: [1000, -500, 1500],
      to: [1000, 500, 1500],
      outline: { circle: 35 },
      name: "Cable 'K-12' Übergabe",
      tag: 'K-12',
    });
    m.properties([cable], 'Electrical', { 'Cable Reference': 'W-0012' });
    const { result } = await read(m.toText());
    expect(result.building.hosts[0]).toMatchObject({
      fireRating: 'REI 90',
      isExternal: true,
      isLoadBearing: false,
    });
    expect(result.building.services[0]?.references.map(({ text }) => text)).toEqual([
      "Cable 'K-12' Übergabe",
      'K-12',
      'W-0012',
    ]);
  });
});

describe.each(MAKER_SCHEMAS)('what properties say of sizes, %s', (schema) => {
  const conflicts = async (
    values: Record<string, number>,
    outline: Parameters<IfcMaker['segment']>[1]['outline'] = { circle: 110 },
  ) => {
    const m = new IfcMaker({ schema });
    const kind = 'circle' in outline ? 'pipe' : 'duct';
    const made = m.segment(kind, { from: [0, 0, 0], to: [0, 1000, 0], outline });
    m.properties([made], 'Pset_PipeSegmentOccurrence', values);
    const { queries } = await read(m.toText());
    return queries.filter(({ code }) => code === 'size-conflict').length;
  };

  test('an outside other than the body’s is asked about', async () => {
    expect(await conflicts({ OuterDiameter: 110 })).toBe(0);
    expect(await conflicts({ OuterDiameter: 111 })).toBe(0);
    expect(await conflicts({ OuterDiameter: 160 })).toBe(1);
  });
  // Outsides of EN 10255 and of plastics named after theirs, from memory.
  test.each([
    [17.2, 10],
    [21.3, 15],
    [60.3, 50],
    [114.3, 100],
    [110, 100],
    [110, 110],
    [186, 150],
  ])('a body of %f mm may be nominal %f', async (circle, NominalDiameter) => {
    expect(await conflicts({ NominalDiameter }, { circle })).toBe(0);
  });
  test('a nominal size far from the body is asked about', async () => {
    expect(await conflicts({ NominalDiameter: 150 })).toBe(1);
    expect(await conflicts({ NominalDiameter: 50 })).toBe(1);
  });
  test('ducts, whichever side is called the width', async () => {
    const outline = { rectangle: [600, 300] } as const;
    expect(await conflicts({ NominalWidth: 600, NominalHeight: 300 }, outline)).toBe(0);
    expect(await conflicts({ NominalWidth: 300, NominalHeight: 600 }, outline)).toBe(0);
    expect(await conflicts({ NominalWidth: 900, NominalHeight: 300 }, outline)).toBe(1);
  });
});
