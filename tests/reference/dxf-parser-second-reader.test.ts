import { readdirSync, readFileSync } from 'node:fs';
import path from 'node:path';
import library from 'dxf-parser';
import { describe, expect } from 'vitest';
import type { DxfDocument } from '../../src/formats/dxf/dxf-entity.ts';
import { parseDxf } from '../../src/formats/dxf/parse-dxf.ts';
import { sharedPath, testWith } from '../set-up/outside.ts';

// The library dxf-parser 1.1.2 as another reader of the public samples: entities of the ENTITIES
// section counted by type, and both ends of every LINE, in the order of the file. The library loops
// for ever on some files, so only files are given to it that it was seen to read to the end.

const TRIED: readonly string[] = [
  'accented-layers-ac1018.dxf',
  'attribute-nested-block-ac1032.dxf',
  'dims-uncommon-ac1032.dxf',
  'door-wipeout-inches-ac1032.dxf',
  'dynamic-block-visibility-ac1032.dxf',
  'elevation-pavilion-ac1021.dxf',
  'entities-ac1021.dxf',
  'entities-r12-ac1009.dxf',
  'lines-11k-ac1027.dxf',
  'minsert-attribs-ac1027.dxf',
  'mixed-entities-mline-ac1032.dxf',
  'nested-insert-layers-ac1015.dxf',
  'plan-columns-in-block-ac1021.dxf',
  'plan-house-unitless-ac1021.dxf',
  'plan-house-xref-bound-ac1018.dxf',
  'plan-pavilion-dims-r12.dxf',
  'plan-pavilion-metres-ac1027.dxf',
  'polyline-meshes-r12.dxf',
  'schematic-wires-r12.dxf',
  'site-utilities-cyrillic-ac1024.dxf',
  'splines-ac1014.dxf',
  'viewport-frozen-layers-ac1027.dxf',
];

/** Text samples that the library refuses: it wants a last EOF. */
const REFUSED: readonly string[] = ['no-header-lines-text.dxf'];

/** Types that both read; the others are dropped by the library or told apart differently. */
const TYPES = ['LINE', 'ARC', 'CIRCLE', 'INSERT', 'SPLINE', 'TEXT'] as const;

interface OtherPoint {
  readonly x: number;
  readonly y: number;
  readonly z?: number;
}

interface OtherEntity {
  readonly type: string;
  readonly vertices?: readonly OtherPoint[];
}

type Line = readonly (readonly number[])[];

/** The package is CommonJS: its only export is the class, though its types say otherwise. */
const Parser = library as unknown as new () => {
  parseSync(text: string): { readonly entities: readonly OtherEntity[] } | null;
};

const bytesOf = (name: string): Uint8Array =>
  new Uint8Array(readFileSync(sharedPath(path.join('samples/dxf', name))));

/** Only types and numbers are compared, so that any code page serves. */
function readWithLibrary(bytes: Uint8Array): readonly OtherEntity[] {
  const entities = new Parser().parseSync(new TextDecoder('latin1').decode(bytes))?.entities;
  if (entities === undefined) throw new Error('the library read nothing');
  return entities;
}

function theirCounts(entities: readonly OtherEntity[]): Record<string, number> {
  return Object.fromEntries(
    TYPES.map((type) => [type, entities.filter((entity) => entity.type === type).length]),
  );
}

function ourCounts({ counts }: DxfDocument): Record<string, number> {
  return Object.fromEntries(
    TYPES.map((type) => [
      type,
      counts
        .filter((each) => each.where === 'entities' && each.type === type)
        .reduce((sum, { read }) => sum + read, 0),
    ]),
  );
}

const theirLines = (entities: readonly OtherEntity[]): Line[] =>
  entities
    .filter(({ type }) => type === 'LINE')
    .map(({ vertices = [] }) => vertices.map(({ x, y, z = 0 }) => [x, y, z]));

const ourLines = ({ entities }: DxfDocument): Line[] =>
  entities.flatMap((entity) =>
    entity.kind === 'line' ? [[[...entity.start], [...entity.end]]] : [],
  );

describe('dxf-parser as another reader', () => {
  for (const name of TRIED) {
    testWith(['shared'], `sample ${name}`, () => {
      const bytes = bytesOf(name);
      const theirs = readWithLibrary(bytes);
      const document = parseDxf(bytes, { maxRecords: 5e6 });
      expect(ourCounts(document)).toEqual(theirCounts(theirs));
      expect(ourLines(document)).toEqual(theirLines(theirs));
    });
  }

  testWith(['shared'], 'every text sample was tried, and there is something to compare', () => {
    const samples = readdirSync(sharedPath('samples/dxf')).filter(
      (name) => name.endsWith('.dxf') && !name.includes('binary'),
    );
    expect([...TRIED, ...REFUSED].sort()).toEqual(samples.sort());
    for (const name of REFUSED) expect(() => readWithLibrary(bytesOf(name))).toThrow('EOF');
    const lines = TRIED.flatMap((name) => theirLines(readWithLibrary(bytesOf(name))));
    // 13,240 as the library counted them on its own, in a process without our code.
    expect(lines).toHaveLength(13_240);
  });
});
