import { createHash } from 'node:crypto';
import { readdirSync, readFileSync } from 'node:fs';
import path from 'node:path';
import { pathToFileURL } from 'node:url';
import {
  extractPropertiesOnDemand,
  extractQuantitiesOnDemand,
  extractRelationshipsOnDemand,
  getEntityMetadata,
  IfcParser,
} from '@ifc-lite/parser';
import { describe, expect, test, vi } from 'vitest';
import { IfcAPI } from 'web-ifc';
import { StepFile } from '../../src/formats/ifc/step-file.ts';
import { ifcSchemaOf } from '../../src/formats/ifc/step-schema.ts';
import { planIfcTags } from '../../src/write/ifc-tags/plan-ifc-tags.ts';
import { tagIfc, untagIfc } from '../../src/write/ifc-tags/tag-ifc.ts';
import type { IfcTagOptions } from '../../src/write/ifc-tags/tag-lines.ts';
import { sampleIfcEdits } from '../makers/tags/sample-ifc-edits.ts';
import { hasOutside, repoRoot, sharedPath, testWith } from '../set-up/outside.ts';

const OPTIONS: IfcTagOptions = {
  fileKey: 'model',
  seals: true,
  provisions: true,
  frame: { originMm: [0, 0, 0], turnRad: 0, isLead: true },
  classification: { system: 'Own system', edition: '1', code: 'S-1', title: 'Seals' },
};
const folder = sharedPath('samples', 'ifc');
const samples = hasOutside('shared')
  ? readdirSync(folder).filter((name) => name.endsWith('.ifc'))
  : [];
const read = (name: string) => new Uint8Array(readFileSync(path.join(folder, name)));
const quietly = async <T>(work: () => Promise<T>): Promise<T> => {
  const spies = [vi.spyOn(console, 'log'), vi.spyOn(console, 'warn'), vi.spyOn(console, 'error')];
  for (const spy of spies) spy.mockImplementation(() => {});
  try {
    return await work();
  } finally {
    for (const spy of spies) spy.mockRestore();
  }
};

testWith(['shared'], 'there are samples to tag', () => {
  expect(samples.length).toBeGreaterThanOrEqual(20);
});

describe.each(samples)('%s', (name) => {
  const source = read(name);
  const edits = sampleIfcEdits(source);
  const tagged = tagIfc(source, edits, OPTIONS);

  test('only lines are added, all other bytes stay', () => {
    const { patches } = planIfcTags(source, edits, OPTIONS);
    const [patch] = patches;
    if (patch === undefined) {
      expect(tagged.result).toEqual(source);
      return;
    }
    expect(patches.length).toBe(1);
    expect(patch.remove).toBe(0);
    const { at, insert } = patch;
    const same = (a: Uint8Array, b: Uint8Array) => Buffer.compare(a, b) === 0;
    expect(same(tagged.result.subarray(0, at), source.subarray(0, at))).toBe(true);
    expect(same(tagged.result.subarray(at + insert.length), source.subarray(at))).toBe(true);
    // Written in plain ASCII, whatever the names hold.
    expect(insert.every((byte) => byte < 127)).toBe(true);
  });

  test('tagging again changes nothing, untagging gives the former bytes', () => {
    const again = tagIfc(tagged.result, edits, OPTIONS);
    expect(Buffer.compare(again.result, tagged.result)).toBe(0);
    expect(Buffer.compare(untagIfc(tagged.result), source)).toBe(0);
    expect(Buffer.compare(untagIfc(source), source)).toBe(0);
    const fewer = tagIfc(tagged.result, edits.slice(1), OPTIONS);
    expect(Buffer.compare(fewer.result, tagIfc(source, edits.slice(1), OPTIONS).result)).toBe(0);
  });

  test('each added record has as many parameters as an independent table of the schema says', async () => {
    const schema = ifcSchemaOf(new StepFile(source).layout.schema);
    if (schema === null) throw new Error('a sample of unknown schema');
    const tables = await independentTables();
    const attributes = await tables(schema);
    for (const line of tagged.added) {
      const [, className = '', parameters = ''] = /^#\d+=(\w+)\((.*)\);$/s.exec(line) ?? [];
      const expected = attributes.get(className.toUpperCase());
      expect(expected, `${className} is a class of ${schema}`).toBeDefined();
      const values = splitParameters(parameters);
      expect(values.length, line).toBe(expected?.length);
      // The parser's own registry tells which attributes may be left out (IFC4).
      const known = schema === 'IFC4' ? registryClass(expected?.className ?? '') : null;
      for (const [index, attribute] of (known ?? []).entries()) {
        if (!attribute.optional) expect(values[index], `${line} ${attribute.name}`).not.toBe('$');
      }
    }
  });

  test('an independent parser finds the sets on the right elements', async () => {
    const store = await quietly(() =>
      new IfcParser().parseColumnar(tagged.result.slice().buffer as ArrayBuffer),
    );
    const file = new StepFile(tagged.result);
    const refused = new Set(tagged.refused.map(({ id }) => id));
    let found = 0;
    for (const edit of edits) {
      for (const globalId of edit.openingIds.filter((id) => !refused.has(id))) {
        const id = stepIdOf(tagged.result, globalId);
        const set = extractPropertiesOnDemand(store, id).find(
          (each) => each.name === 'Sealbook_Penetration',
        );
        const remark = edit.fields.find((field) => field.name === 'Remark')?.value;
        expect(set?.properties.find((each) => each.name === 'Remark')?.value).toBe(
          remark?.kind === 'text' ? remark.text : undefined,
        );
        const seal = file
          .recordsOf('IFCRELFILLSELEMENT')
          .filter(({ values }) => values[4]?.kind === 'ref' && values[4].id === id)
          .map(({ values }) => (values[5]?.kind === 'ref' ? values[5].id : -1))
          .find((each) => file.record(each)?.type === 'IFCDISCRETEACCESSORY');
        expect(seal).toBeDefined();
        const quantities = extractQuantitiesOnDemand(store, seal ?? -1);
        expect(quantities[0]?.quantities.map((each) => each.name)).toEqual([
          'SealantNet',
          'FreeArea',
          'Fillers',
        ]);
        expect(extractRelationshipsOnDemand(store, seal ?? -1).fills[0]?.id).toBe(id);
        found += 1;
      }
      for (const globalId of edit.serviceIds.filter((id) => !refused.has(id))) {
        const set = extractPropertiesOnDemand(store, stepIdOf(tagged.result, globalId)).find(
          (each) => each.name === 'Sealbook_Service',
        );
        expect(set?.properties[0]?.values).toEqual([edit.tag]);
        found += 1;
      }
    }
    const asked = edits.flatMap(({ openingIds, serviceIds }) => [...openingIds, ...serviceIds]);
    expect(found).toBe(asked.filter((id) => !refused.has(id)).length);
  });

  test('web-ifc opens it with the same geometry, and reads the values', async () => {
    const plain = tagIfc(source, edits, { ...OPTIONS, provisions: false });
    const [before, after] = await quietly(async () => [
      await openWithWebIfc(source),
      await openWithWebIfc(plain.result),
    ]);
    expect(after?.meshes).toBe(before?.meshes);
    expect(after?.lines).toBe((before?.lines ?? 0) + plain.added.length);
  });
});

/** Number of a record by its GlobalId, by a search in the text. */
function stepIdOf(bytes: Uint8Array, globalId: string): number {
  const escaped = globalId.replaceAll('$', '\\$');
  const found = new RegExp(`#(\\d+)\\s*=\\s*\\w+\\s*\\(\\s*'${escaped}'`).exec(
    new TextDecoder('latin1').decode(bytes),
  );
  return Number(found?.[1] ?? -1);
}

async function openWithWebIfc(bytes: Uint8Array) {
  const api = new IfcAPI();
  await api.Init();
  const model = api.OpenModel(bytes);
  const hash = createHash('sha256');
  api.StreamAllMeshes(model, (mesh) => {
    for (let i = 0; i < mesh.geometries.size(); i++) {
      const placed = mesh.geometries.get(i);
      const geometry = api.GetGeometry(model, placed.geometryExpressID);
      hash.update(String(mesh.expressID));
      hash.update(Float64Array.from(placed.flatTransformation));
      const vertices = geometry.GetVertexData();
      hash.update(api.GetVertexArray(vertices, geometry.GetVertexDataSize()));
      hash.update(api.GetIndexArray(geometry.GetIndexData(), geometry.GetIndexDataSize()));
      geometry.delete();
    }
  });
  const lines = api.GetAllLines(model).size();
  api.CloseModel(model);
  return { meshes: hash.digest('hex'), lines };
}

interface ClassAttributes {
  readonly className: string;
  readonly length: number;
}

/**
 * Attribute lists of @ifc-lite/data, generated from buildingSMART's IDS-Audit-tool: another source
 * than web-ifc's, which the writer uses. The package comes with @ifc-lite/parser.
 */
async function independentTables() {
  const entry = path.join(repoRoot, 'node_modules', '@ifc-lite', 'data', 'dist', 'index.js');
  const data = (await import(pathToFileURL(entry).href)) as {
    getEntities(
      schema: string,
    ): Promise<readonly { readonly name: string; readonly attributes: readonly string[] }[]>;
  };
  return async (schema: string): Promise<Map<string, ClassAttributes>> =>
    new Map(
      (await data.getEntities(schema)).map((entity) => [
        entity.name.toUpperCase(),
        { className: entity.name, length: entity.attributes.length },
      ]),
    );
}

function registryClass(className: string) {
  return getEntityMetadata(className)?.allAttributes ?? null;
}

/** Parameters at the top level of a record. */
function splitParameters(text: string): string[] {
  const parts: string[] = [];
  let depth = 0;
  let isQuoted = false;
  let part = '';
  for (const character of text) {
    if (character === "'") isQuoted = !isQuoted;
    if (!isQuoted && character === '(') depth += 1;
    if (!isQuoted && character === ')') depth -= 1;
    if (!isQuoted && depth === 0 && character === ',') {
      parts.push(part);
      part = '';
    } else part += character;
  }
  return [...parts, part];
}
