import { expect, test } from 'vitest';
import { StepFile } from '../../../../src/formats/ifc/step-file.ts';

const bytes = (text: string) => new TextEncoder().encode(text);

const SMALL = `ISO-10303-21;
HEADER;FILE_SCHEMA(('IFC4'));ENDSEC;
DATA;
#1=IFCWALL('1hqIFTRjfV6AWq_bMtnZwI',$,'a;b''c)',$,$,$,$,$,.SHEAR.);
/* #9=IFCWALL($); */
#3 = IfcSlab ( 'x' , (1.,-2.E3,3) , IFCLABEL('y') , * , #1 ) ;
ENDSEC;
END-ISO-10303-21;
`;

test('a file of three lines without a project is read', () => {
  const file = new StepFile(bytes(SMALL));
  expect(file.layout).toMatchObject({
    schema: 'IFC4',
    dataSections: 1,
    isComplete: true,
    highestId: 3,
    records: 2,
  });
  expect(file.types()).toEqual(['IFCWALL', 'IFCSLAB']);
  expect(file.record(1)?.values[2]).toEqual({ kind: 'text', text: "a;b'c)" });
  expect(file.record(3)?.values).toEqual([
    { kind: 'text', text: 'x' },
    {
      kind: 'list',
      items: [
        { kind: 'number', value: 1 },
        { kind: 'number', value: -2000 },
        { kind: 'number', value: 3 },
      ],
    },
    { kind: 'typed', type: 'IFCLABEL', value: { kind: 'text', text: 'y' } },
    { kind: 'derived' },
    { kind: 'ref', id: 1 },
  ]);
});

test('a selection keeps classes and GlobalIds and no more', () => {
  const file = new StepFile(bytes(SMALL), {
    classes: new Set(['IFCSLAB']),
    globalIds: new Set(['1hqIFTRjfV6AWq_bMtnZwI']),
  });
  expect(file.idsOfGlobalId('1hqIFTRjfV6AWq_bMtnZwI')).toEqual([1]);
  expect(file.idsOf('IFCSLAB')).toEqual([3]);
  const none = new StepFile(bytes(SMALL), { classes: new Set(), globalIds: new Set() });
  expect(none.types()).toEqual([]);
  expect(none.layout.highestId).toBe(3);
});

test.each([
  ['an open string', SMALL.replace("c)'", 'c)')],
  ['an open comment', SMALL.replace('*/', '')],
  ['a cut end', SMALL.slice(0, -25)],
  ['brackets without end', `DATA;\n#1=A(${'('.repeat(100_000)}`],
  ['deep brackets', `DATA;\n#1=A(${'('.repeat(100_000)}${')'.repeat(100_000)});ENDSEC;`],
  ['nothing', ''],
])('%s ends without an error', (_, text) => {
  const file = new StepFile(bytes(text));
  for (const type of file.types()) file.recordsOf(type);
  expect(file.layout.records).toBeLessThanOrEqual(2);
});
