import { readFileSync } from 'node:fs';
import path from 'node:path';
import { SCHEMA_REGISTRY } from '@ifc-lite/parser';
import { afterAll, beforeAll, expect, test } from 'vitest';
import {
  IFC2X3,
  IFC4,
  IFC4X3,
  IFCELEMENT,
  IFCFLOWSEGMENT,
  IFCSLAB,
  IFCWALL,
  IfcAPI,
  LogLevel,
} from 'web-ifc';
import { HOSTS } from '../../../samples/dimensions/building.ts';
import { OPENINGS } from '../../../samples/dimensions/openings.ts';
import { RUNS } from '../../../samples/dimensions/services.ts';
import type { HostDim, OpeningDim, ShapeDim } from '../../../samples/dimensions/types.ts';
import { openingSweep } from '../../../samples/make/host-frame.ts';
import { pieceName } from '../../../samples/make/ifc-runs.ts';
import { globalIdOf } from '../../../samples/make/step-writer.ts';
import { repoRoot, sharedPath, testWith } from '../../set-up/outside.ts';

const MODELS = [
  'pumping-station/architecture.ifc',
  'pumping-station/services.ifc',
  'valve-chamber/annex-2x3.ifc',
  'valve-chamber/annex-4x3.ifc',
];

const read = (file: string): Uint8Array => readFileSync(path.join(repoRoot, 'samples', file));

const ifc = new IfcAPI();
beforeAll(async () => {
  await ifc.Init();
  ifc.SetLogLevel(LogLevel.LOG_LEVEL_OFF);
});
const opened: number[] = [];
afterAll(() => {
  for (const model of opened) ifc.CloseModel(model);
});

function open(file: string): number {
  const model = ifc.OpenModel(read(file));
  opened.push(model);
  return model;
}

function schemaOf(file: string): string {
  const text = new TextDecoder().decode(read(file));
  return /FILE_SCHEMA\(\('(\w+)'\)\)/.exec(text)?.[1] ?? '';
}

interface Instance {
  readonly id: string;
  readonly type: string;
  readonly attributes: readonly string[];
}

/** A plain second reading of the exchange file, for counting. */
function instances(file: string): readonly Instance[] {
  const text = new TextDecoder().decode(read(file));
  return [...text.matchAll(/^#(\d+)=(\w+)\((.*)\);$/gm)].map(([, id, type, attributes]) => ({
    id: id ?? '',
    type: type ?? '',
    attributes: splitAtCommas(attributes ?? ''),
  }));
}

function splitAtCommas(text: string): readonly string[] {
  const parts: string[] = [];
  let depth = 0;
  let isQuoted = false;
  let from = 0;
  for (let index = 0; index < text.length; index += 1) {
    const character = text[index];
    if (character === "'") isQuoted = !isQuoted;
    if (isQuoted) continue;
    if (character === '(') depth += 1;
    if (character === ')') depth -= 1;
    if (character === ',' && depth === 0) {
      parts.push(text.slice(from, index));
      from = index + 1;
    }
  }
  return [...parts, text.slice(from)];
}

const SCHEMAS: Readonly<Record<string, object>> = { IFC2X3, IFC4, IFC4X3_ADD2: IFC4X3 };

test.each(MODELS)('%s: every instance has as many attributes as its schema says', (file) => {
  // web-ifc generates its classes from the published EXPRESS schemas: one parameter an attribute.
  // Attributes that a subtype derives are left out there and stand as `*` in the file.
  const classes = new Map(
    Object.entries(SCHEMAS[schemaOf(file)] ?? {}).map(([name, made]) => [name.toUpperCase(), made]),
  );
  const wrong = instances(file).filter(({ type, attributes }) => {
    const made: unknown = classes.get(type);
    const written = attributes.filter((attribute) => attribute !== '*').length;
    return typeof made !== 'function' || made.length !== written;
  });
  expect(classes.size).toBeGreaterThan(600);
  expect(wrong).toEqual([]);
});

test.each(MODELS.slice(0, 2))('%s: mandatory attributes are filled, enumerations known', (file) => {
  // @ifc-lite/parser's registry, generated from IFC4_ADD2_TC1.
  const entities = new Map(
    Object.values(SCHEMA_REGISTRY.entities).map((entity) => [entity.name.toUpperCase(), entity]),
  );
  const wrong: string[] = [];
  for (const { id, type, attributes } of instances(file)) {
    const known = entities.get(type)?.allAttributes ?? [];
    for (const [index, attribute] of known.entries()) {
      const value = attributes[index];
      if (value === '$' && !attribute.optional) wrong.push(`#${id} ${type}.${attribute.name}`);
      const choices = SCHEMA_REGISTRY.enums[attribute.type];
      if (choices === undefined || value === undefined || !/^\.\w+\.$/.test(value)) continue;
      if (!choices.includes(value.slice(1, -1))) wrong.push(`#${id} ${type}.${attribute.name}`);
    }
  }
  expect(wrong).toEqual([]);
});

test.each(MODELS)('%s: no reference dangles and every GlobalId is valid and used once', (file) => {
  const all = instances(file);
  const ids = new Set(all.map(({ id }) => id));
  const referred = all.flatMap(({ attributes }) =>
    attributes
      .filter((attribute) => !attribute.startsWith("'"))
      .flatMap((attribute) => [...attribute.matchAll(/#(\d+)/g)].map(([, id]) => id ?? '')),
  );
  expect(referred.filter((id) => !ids.has(id))).toEqual([]);
  const rooted = all.filter(
    ({ attributes }) => attributes.length >= 4 && attributes[1]?.startsWith('#'),
  );
  const globalIds = rooted
    .map(({ attributes }) => attributes[0] ?? '')
    .filter((value) => value.startsWith("'"));
  expect(globalIds.length).toBeGreaterThan(30);
  expect(globalIds.filter((id) => !/^'[0-3][0-9A-Za-z_$]{21}'$/.test(id))).toEqual([]);
  expect(new Set(globalIds).size).toBe(globalIds.length);
});

testWith(['shared'], 'standard property sets hold only what their schema gives them', () => {
  // Shared `psets-penetration.csv`, made from the published property sets of each schema.
  const known = new Map<string, string>();
  const table = readFileSync(sharedPath('schemas', 'psets-penetration.csv'), 'utf8');
  for (const line of table.split('\n').slice(1)) {
    // The columns used stand before the first one that may hold a comma.
    const [schema, set, , , property, , measure] = line.split(',');
    known.set(`${schema} ${set} ${property}`, (measure ?? '').trim().toUpperCase());
  }
  let compared = 0;
  const wrong: string[] = [];
  for (const file of MODELS) {
    const schema = schemaOf(file).replace('_ADD2', '');
    const all = new Map(instances(file).map((instance) => [instance.id, instance]));
    for (const { type, attributes } of all.values()) {
      const set = attributes[2]?.slice(1, -1) ?? '';
      if (type !== 'IFCPROPERTYSET' || !set.startsWith('Pset_')) continue;
      for (const [, id] of (attributes[4] ?? '').matchAll(/#(\d+)/g)) {
        const property = all.get(id ?? '')?.attributes ?? [];
        const measure = known.get(`${schema} ${set} ${property[0]?.slice(1, -1)}`);
        compared += 1;
        if (!property[2]?.startsWith(`${measure}(`)) wrong.push(`${file} ${set} ${property[0]}`);
      }
    }
  }
  expect(compared).toBeGreaterThan(200);
  expect(wrong).toEqual([]);
});

/** Volume by the divergence theorem and box of an element's mesh, in mm and the file's own frame. */
function meshOf(model: number, expressId: number) {
  let volume = 0;
  const low = [Number.POSITIVE_INFINITY, Number.POSITIVE_INFINITY, Number.POSITIVE_INFINITY];
  const high = [Number.NEGATIVE_INFINITY, Number.NEGATIVE_INFINITY, Number.NEGATIVE_INFINITY];
  const mesh = ifc.GetFlatMesh(model, expressId);
  for (let part = 0; part < mesh.geometries.size(); part += 1) {
    const placed = mesh.geometries.get(part);
    const geometry = ifc.GetGeometry(model, placed.geometryExpressID);
    const vertices = ifc.GetVertexArray(geometry.GetVertexData(), geometry.GetVertexDataSize());
    const indices = ifc.GetIndexArray(geometry.GetIndexData(), geometry.GetIndexDataSize());
    const m = placed.flatTransformation;
    const point = (index: number): readonly [number, number, number] => {
      const [x, y, z] = [0, 1, 2].map((axis) => vertices[index * 6 + axis] ?? 0) as [
        number,
        number,
        number,
      ];
      const at = (row: number): number =>
        1000 *
        ((m[row] ?? 0) * x + (m[4 + row] ?? 0) * y + (m[8 + row] ?? 0) * z + (m[12 + row] ?? 0));
      // web-ifc gives y up.
      return [at(0), -at(2), at(1)];
    };
    for (let index = 0; index < indices.length; index += 3) {
      const [a, b, c] = [0, 1, 2].map((corner) => point(indices[index + corner] ?? 0)) as [
        readonly [number, number, number],
        readonly [number, number, number],
        readonly [number, number, number],
      ];
      volume +=
        (a[0] * (b[1] * c[2] - b[2] * c[1]) -
          a[1] * (b[0] * c[2] - b[2] * c[0]) +
          a[2] * (b[0] * c[1] - b[1] * c[0])) /
        6;
      for (const corner of [a, b, c]) {
        for (const axis of [0, 1, 2]) {
          low[axis] = Math.min(low[axis] ?? 0, corner[axis] ?? 0);
          high[axis] = Math.max(high[axis] ?? 0, corner[axis] ?? 0);
        }
      }
    }
    geometry.delete();
  }
  return { volumeMm3: Math.abs(volume), low, high };
}

function idsByGlobalId(model: number, type: number): ReadonlyMap<string, number> {
  const ids = ifc.GetLineIDsWithType(model, type, true);
  const byGlobalId = new Map<string, number>();
  for (let index = 0; index < ids.size(); index += 1) {
    const id = ids.get(index);
    byGlobalId.set(String(ifc.GetLine(model, id).GlobalId.value), id);
  }
  return byGlobalId;
}

function areaMm2(shape: ShapeDim): number {
  if (shape.type === 'circle') return (Math.PI / 4) * shape.diameterMm ** 2;
  if (shape.type === 'rectangle') return shape.widthMm * shape.heightMm;
  return (shape.lengthMm - shape.widthMm) * shape.widthMm + (Math.PI / 4) * shape.widthMm ** 2;
}

function grossVolumeMm3(host: HostDim): number {
  if (host.form === 'ring') {
    const inner = host.outerRadiusMm - host.thicknessMm;
    return Math.PI * (host.outerRadiusMm ** 2 - inner ** 2) * host.heightMm;
  }
  if (host.form === 'slab') {
    return (host.x[1] - host.x[0]) * (host.y[1] - host.y[0]) * host.heightMm;
  }
  const length = Math.hypot(host.to[0] - host.from[0], host.to[1] - host.from[1]);
  return length * host.thicknessMm * host.heightMm;
}

const cuts = (host: HostDim): readonly OpeningDim[] =>
  OPENINGS.filter((opening) => opening.host === host.mark && opening.declared !== 'PROVISION');

test('each opening cuts its own host, by as much as its size says', () => {
  const model = open('pumping-station/architecture.ifc');
  const walls = new Map([...idsByGlobalId(model, IFCWALL), ...idsByGlobalId(model, IFCSLAB)]);
  expect(walls.size).toBe(HOSTS.length);
  for (const host of HOSTS) {
    const id = walls.get(globalIdOf('architecture.ifc', host.mark));
    if (id === undefined) throw new Error(`${host.mark} is not in the model.`);
    const cutMm3 = cuts(host).reduce((sum, opening) => {
      const { depthMm } = openingSweep({ ...opening, overshootMm: 0 }, host);
      return sum + areaMm2(opening.shape) * depthMm;
    }, 0);
    // Circles are meshed with twelve sides: 4.5 % short of their area.
    const slackMm3 = 0.06 * cutMm3 + (host.form === 'ring' ? 0.06 : 1e-6) * grossVolumeMm3(host);
    const netMm3 = meshOf(model, id).volumeMm3;
    expect(Math.abs(grossVolumeMm3(host) - cutMm3 - netMm3), host.mark).toBeLessThan(slackMm3);
    expect(cuts(host).length === 0 || cutMm3 > 0).toBe(true);
  }
});

test('each straight piece of service lies where the dimensions put it', () => {
  const model = open('pumping-station/services.ifc');
  const elements = idsByGlobalId(model, IFCELEMENT);
  const pieces = RUNS.flatMap((run) => run.pieces.map((piece) => ({ run, piece })));
  expect(pieces.length).toBe(75);
  for (const { run, piece } of pieces) {
    const name = pieceName(run, piece);
    const id = elements.get(globalIdOf('services.ifc', name));
    if (id === undefined) throw new Error(`${name} is not in the model.`);
    if (run.withoutBody === true || piece.via !== undefined) continue;
    const { low, high } = meshOf(model, id);
    const middle = [0, 1, 2].map((axis) => ((low[axis] ?? 0) + (high[axis] ?? 0)) / 2);
    const expected = [0, 1, 2].map((axis) => ((piece.from[axis] ?? 0) + (piece.to[axis] ?? 0)) / 2);
    // A tube's facets are not the same on both sides of its middle.
    const slackMm = run.section.type === 'circle' ? 1 + 0.02 * run.section.diameterMm : 1;
    for (const axis of [0, 1, 2]) {
      expect(Math.abs((middle[axis] ?? 0) - (expected[axis] ?? 0)), name).toBeLessThan(slackMm);
    }
  }
});

test('the trays that are folded from sheet are open upwards', () => {
  const model = open('pumping-station/services.ifc');
  const elements = idsByGlobalId(model, IFCELEMENT);
  const folded = RUNS.filter((run) => run.folded === true);
  expect(folded.length).toBe(2);
  for (const run of folded) {
    const [piece] = run.pieces;
    if (piece === undefined) continue;
    const id = elements.get(globalIdOf('services.ifc', pieceName(run, piece)));
    const { volumeMm3 } = meshOf(model, id ?? 0);
    if (run.section.type !== 'rectangle') continue;
    const length = Math.hypot(piece.to[0] - piece.from[0], piece.to[1] - piece.from[1]);
    const sheetMm2 = 2 * run.section.widthMm + 2 * 2 * (run.section.heightMm - 2);
    expect(volumeMm3 / length).toBeCloseTo(sheetMm2, 0);
  }
});

const VALVE_CHAMBER_SEGMENTS = 5;
const KIOSK_SEGMENTS = 3;

test('the annexes hold the older and the newer schema', () => {
  const [older, newer] = [open('valve-chamber/annex-2x3.ifc'), open('valve-chamber/annex-4x3.ifc')];
  expect(ifc.GetModelSchema(older)).toBe('IFC2X3');
  expect(ifc.GetModelSchema(newer)).toBe('IFC4X3_ADD2');
  expect(ifc.GetLineIDsWithType(older, IFCFLOWSEGMENT, true).size()).toBe(VALVE_CHAMBER_SEGMENTS);
  expect(ifc.GetLineIDsWithType(newer, IFCFLOWSEGMENT, true).size()).toBe(KIOSK_SEGMENTS);
});
