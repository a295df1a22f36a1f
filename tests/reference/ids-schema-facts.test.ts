import path from 'node:path';
import { pathToFileURL } from 'node:url';
import { expect, test } from 'vitest';
import { StepFile, storedValues } from '../../src/formats/ifc/step-file.ts';
import {
  attributeIndex,
  type IfcSchema,
  ifcClass,
  isKindOf,
} from '../../src/formats/ifc/step-schema.ts';
import { repoRoot } from '../set-up/outside.ts';

interface Entity {
  readonly name: string;
  readonly parent?: string;
  readonly attributes: readonly string[];
}

/** @ifc-lite/data comes with @ifc-lite/parser; its tables are made from buildingSMART's IDS-Audit-tool. */
async function independentEntities(schema: IfcSchema): Promise<readonly Entity[]> {
  const entry = path.join(repoRoot, 'node_modules', '@ifc-lite', 'data', 'dist', 'index.js');
  const data = (await import(pathToFileURL(entry).href)) as {
    getEntities(schema: string): Promise<readonly Entity[]>;
  };
  return [...(await data.getEntities(schema))];
}

/** DERIVE clauses that redeclare an inherited attribute, IFC4 ADD2 TC1 and IFC4X3 (from memory). */
const DERIVED: Readonly<Record<string, readonly string[]>> = {
  IfcSIUnit: ['Dimensions'],
  IfcOrientedEdge: ['EdgeStart', 'EdgeEnd'],
  IfcMirroredProfileDef: ['Operator'],
  IfcGeometricRepresentationSubContext: [
    'CoordinateSpaceDimension',
    'Precision',
    'WorldCoordinateSystem',
    'TrueNorth',
  ],
};

/** Where that table's IFC4 follows a later edition than IFC4 ADD2 TC1 (from memory). */
const LATER_EDITION = ['is no IfcOffsetCurve', 'for CoordList,TagList'];

const SCHEMAS: readonly [IfcSchema, number][] = [
  ['IFC2X3', 650],
  ['IFC4', 770],
  ['IFC4X3', 870],
];

test.each(SCHEMAS)(
  '%s: attributes and ancestors of every class agree with another table',
  async (schema, least) => {
    const wrong: string[] = [];
    let compared = 0;
    for (const entity of await independentEntities(schema)) {
      const found = ifcClass(schema, entity.name);
      // That table also lists value types, which are no classes.
      if (found === null || entity.attributes.length === 0) continue;
      compared += 1;
      const names = found.attributes.map(({ name }) => name);
      // Classes that derive some of their attributes lack those in web-ifc's tables.
      const expected = entity.attributes.filter(
        (name) => !(DERIVED[entity.name] ?? []).includes(name),
      );
      const isSame = names.join() === expected.join();
      if (!isSame) wrong.push(`${entity.name}: ${names} for ${expected}`);
      const { parent } = entity;
      if (
        parent !== undefined &&
        !isKindOf(schema, entity.name.toUpperCase(), parent.toUpperCase())
      ) {
        wrong.push(`${entity.name} is no ${parent}`);
      }
    }
    expect(wrong.filter((each) => !LATER_EDITION.some((known) => each.includes(known)))).toEqual(
      [],
    );
    expect(compared).toBeGreaterThan(least * 0.9);
  },
);

test('derived attributes take no place among the stored ones', () => {
  const file = new StepFile(
    new TextEncoder().encode(
      "DATA;\n#1=IFCSIUNIT(*,.LENGTHUNIT.,.MILLI.,.METRE.);\n#2=IFCGEOMETRICREPRESENTATIONSUBCONTEXT('Body','Model',*,*,*,*,#3,$,.MODEL_VIEW.,$);\nENDSEC;",
    ),
  );
  const value = (id: number, attribute: string) => {
    const record = file.record(id);
    if (record === null) return null;
    return storedValues(record)[attributeIndex('IFC4', record.type, attribute)];
  };
  expect(value(1, 'UnitType')).toEqual({ kind: 'enum', name: 'LENGTHUNIT' });
  expect(value(1, 'Name')).toEqual({ kind: 'enum', name: 'METRE' });
  expect(value(2, 'ParentContext')).toEqual({ kind: 'ref', id: 3 });
  expect(value(2, 'TargetView')).toEqual({ kind: 'enum', name: 'MODEL_VIEW' });
});
