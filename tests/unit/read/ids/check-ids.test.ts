import { expect, test } from 'vitest';
import type { IdsFacet, IdsFile, IdsRequirement } from '../../../../src/formats/ids/ids-file.ts';
import { checkIds } from '../../../../src/read/ids/check-ids.ts';
import { idsTables } from '../../../../src/read/ids/ids-tables.ts';
import { readIds } from '../../../../src/read/ids/read-ids.ts';

const bytes = (text: string) => new TextEncoder().encode(text);
const simple = (text: string) => ({ kind: 'simple', text }) as const;

function ids(subject: string, facet: IdsFacet, versions: readonly string[] = ['IFC4']): IdsFile {
  const requirement: IdsRequirement = { facet, cardinality: 'required', instructions: null };
  return {
    title: 't',
    version: null,
    purpose: null,
    specifications: [
      {
        name: 's',
        identifier: null,
        description: null,
        instructions: null,
        ifcVersions: versions,
        cardinality: 'required',
        applicability: [{ kind: 'entity', name: simple(subject), predefinedType: null }],
        requirements: [requirement],
        problems: [],
      },
    ],
  };
}

const model = (lines: string, schema = 'IFC4') =>
  bytes(
    `ISO-10303-21;HEADER;FILE_SCHEMA(('${schema}'));ENDSEC;DATA;\n${lines}\nENDSEC;END-ISO-10303-21;`,
  );

function property(dataType: string, value: string): IdsFacet {
  return {
    kind: 'property',
    propertySet: simple('S'),
    baseName: simple('P'),
    dataType,
    value: simple(value),
  };
}

const withValue = (units: string, value: string) =>
  model(`#1=IFCPROJECT('1eA6m4fELI9QBIhP3wiLAp',$,$,$,$,$,$,$,#2);
#2=IFCUNITASSIGNMENT((#3));
${units}
#7=IFCWALL('1hqIFTRjfV6AWq_bMtnZwI',$,$,$,$,$,$,$,$);
#8=IFCPROPERTYSINGLEVALUE('P',$,${value},$);
#9=IFCPROPERTYSET('0eA6m4fELI9QBIhP3wiLAp',$,'S',$,(#8));
#10=IFCRELDEFINESBYPROPERTIES('05rScmOVzMoQXOfbYdtLYj',$,$,$,(#7),#9);`);

// IDS 1.0, units.md, "Examples": what people see and what IDS writes. 1 ft² by NIST SP 811: 0.09290304 m².
test.each([
  ['10 mm', '#3=IFCSIUNIT(*,.LENGTHUNIT.,.MILLI.,.METRE.);', 'IFCLENGTHMEASURE(10.)', '0.01'],
  [
    '1 inch',
    '#3=IFCCONVERSIONBASEDUNIT(#4,.LENGTHUNIT.,$,#5);#4=IFCDIMENSIONALEXPONENTS(1,0,0,0,0,0,0);#5=IFCMEASUREWITHUNIT(IFCLENGTHMEASURE(25.4),#6);#6=IFCSIUNIT(*,.LENGTHUNIT.,.MILLI.,.METRE.);',
    'IFCPOSITIVELENGTHMEASURE(1.)',
    '0.0254',
  ],
  ['1 kW', '#3=IFCSIUNIT(*,.POWERUNIT.,.KILO.,.WATT.);', 'IFCPOWERMEASURE(1.)', '1000'],
  [
    '1 lb',
    '#3=IFCCONVERSIONBASEDUNIT($,.MASSUNIT.,$,#5);#5=IFCMEASUREWITHUNIT(IFCMASSMEASURE(0.45359237),#6);#6=IFCSIUNIT(*,.MASSUNIT.,.KILO.,.GRAM.);',
    'IFCMASSMEASURE(1.)',
    '0.45359237',
  ],
  [
    '20 °C',
    '#3=IFCSIUNIT(*,.THERMODYNAMICTEMPERATUREUNIT.,$,.DEGREE_CELSIUS.);',
    'IFCTHERMODYNAMICTEMPERATUREMEASURE(20.)',
    '293.15',
  ],
  [
    '1 ft²',
    '#3=IFCCONVERSIONBASEDUNIT($,.AREAUNIT.,$,#5);#5=IFCMEASUREWITHUNIT(IFCAREAMEASURE(0.09290304),#6);#6=IFCSIUNIT(*,.AREAUNIT.,$,.SQUARE_METRE.);',
    'IFCAREAMEASURE(1.)',
    '0.09290304',
  ],
  ['1 mm²', '#3=IFCSIUNIT(*,.AREAUNIT.,.MILLI.,.SQUARE_METRE.);', 'IFCAREAMEASURE(1000000.)', '1'],
  [
    '36 km/h',
    '#3=IFCDERIVEDUNIT((#4,#5),.LINEARVELOCITYUNIT.,$);#4=IFCDERIVEDUNITELEMENT(#6,1);#5=IFCDERIVEDUNITELEMENT(#11,-1);#6=IFCSIUNIT(*,.LENGTHUNIT.,.KILO.,.METRE.);#11=IFCCONVERSIONBASEDUNIT($,.TIMEUNIT.,$,#12);#12=IFCMEASUREWITHUNIT(IFCTIMEMEASURE(3600.),#13);#13=IFCSIUNIT(*,.TIMEUNIT.,$,.SECOND.);',
    'IFCLINEARVELOCITYMEASURE(36.)',
    '10',
  ],
])('%s is compared in SI', (_, units, value, asked) => {
  const type = value.slice(0, value.indexOf('('));
  expect(checkIds(ids('IFCWALL', property(type, asked)), withValue(units, value)).verdict).toBe(
    'pass',
  );
  const other = String(Number(asked) * 1.01);
  expect(checkIds(ids('IFCWALL', property(type, other)), withValue(units, value)).verdict).toBe(
    'fail',
  );
});

// IDS 1.0, ifc2x3-occurrence-type-mapping-table.md: IfcCableCarrierSegment is an IfcFlowSegment with
// an IfcCableCarrierSegmentType.
test('in IFC2X3 the type tells what a flow segment is', () => {
  const lines = (type: string) => `#1=IFCFLOWSEGMENT('1hqIFTRjfV6AWq_bMtnZwI',$,'C-1',$,$,$,$,$);
#2=${type}('0eA6m4fELI9QBIhP3wiLAp',$,$,$,$,$,$,$,$,.CONDUITSEGMENT.);
#3=IFCRELDEFINESBYTYPE('05rScmOVzMoQXOfbYdtLYj',$,$,$,(#1),#2);`;
  const named: IdsFacet = { kind: 'attribute', name: simple('Name'), value: simple('C-1') };
  const asked = ids('IFCCABLECARRIERSEGMENT', named, ['IFC2X3']);
  const run = (type: string) => checkIds(asked, model(lines(type), 'IFC2X3'));
  expect(run('IFCCABLECARRIERSEGMENTTYPE')).toMatchObject({ verdict: 'pass', schema: 'IFC2X3' });
  expect(run('IFCDUCTSEGMENTTYPE').specifications[0]?.applicable).toBe(0);
});

test('failures name the element and what was found', () => {
  const report = checkIds(
    ids('IFCWALL', property('IFCLABEL', 'EI 60')),
    withValue('#3=IFCSIUNIT(*,.LENGTHUNIT.,$,.METRE.);', "IFCLABEL('EI 30')"),
  );
  expect(report.specifications[0]?.requirements[0]?.failures).toEqual([
    {
      stepId: 7,
      globalId: '1hqIFTRjfV6AWq_bMtnZwI',
      ifcClass: 'IFCWALL',
      name: null,
      reason: 'S.P has another value',
    },
  ]);
  const [requirements, failures] = idsTables(report);
  expect(requirements?.rows).toEqual([
    ['s', 'must have property S.P (IFCLABEL) = EI 60', 'fail', 1, 0, 1, ''],
  ]);
  expect(failures?.rows[0]?.[3]).toBe('1hqIFTRjfV6AWq_bMtnZwI');
});

test('relations that run in a ring end', () => {
  const ring = model(`#1=IFCWALL('1hqIFTRjfV6AWq_bMtnZwI',$,$,$,$,$,$,$,$);
#2=IFCRELAGGREGATES('0eA6m4fELI9QBIhP3wiLAp',$,$,$,#1,(#1));
#3=IFCMATERIALLIST((#4));
#4=IFCMATERIALLIST((#3));
#5=IFCRELASSOCIATESMATERIAL('05rScmOVzMoQXOfbYdtLYj',$,$,$,(#1),#3);
#6=IFCCLASSIFICATIONREFERENCE($,'a',$,#6,$,$);
#7=IFCRELASSOCIATESCLASSIFICATION('3Agm079vPIYBL4JExVrhD5',$,$,$,(#1),#6);`);
  const whole: IdsFacet = {
    kind: 'partOf',
    relation: null,
    entity: { kind: 'entity', name: simple('IFCBUILDING'), predefinedType: null },
  };
  expect(checkIds(ids('IFCWALL', whole), ring).verdict).toBe('fail');
  expect(checkIds(ids('IFCWALL', { kind: 'material', value: simple('x') }), ring).verdict).toBe(
    'fail',
  );
  const classified: IdsFacet = { kind: 'classification', system: simple('x'), value: null };
  expect(checkIds(ids('IFCWALL', classified), ring).verdict).toBe('fail');
});

test('what is no IDS is said so, and a wrong requirement becomes a query', () => {
  const read = (text: string) => readIds({ key: 'req', name: 'r.ids', bytes: bytes(text) });
  expect(() => read('<html/>')).toThrow(/no IDS/);
  expect(() => read('{}')).toThrow(/r\\.ids|can't be read/);
  const { queries } = read(
    '<ids><info><title>t</title></info><specifications><specification name="n" ifcVersion="IFC4"><applicability><entity><name><simpleValue>IfcWall</simpleValue></name></entity></applicability></specification></specifications></ids>',
  );
  expect(queries.map(({ code, text }) => [code, text.includes('IfcWall')])).toEqual([
    ['requirement-invalid', true],
  ]);
});
