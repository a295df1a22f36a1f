import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { StepFile } from '../../../../src/formats/ifc/step-file.ts';
import type { IfcTagEdit } from '../../../../src/model/tag-edit.ts';
import { tagIfc, untagIfc } from '../../../../src/write/ifc-tags/tag-ifc.ts';
import type { IfcTagOptions } from '../../../../src/write/ifc-tags/tag-lines.ts';
import { MAKER_SCHEMAS } from '../../../makers/ifc/ifc-maker.ts';

const WALL = '1hqIFTRjfV6AWq_bMtnZwI';
const OPENING = '0eA6m4fELI9QBIhP3wiLAp';
const PIPE = '05rScmOVzMoQXOfbYdtLYj';

const OPTIONS: IfcTagOptions = {
  fileKey: 'arch',
  seals: true,
  provisions: true,
  frame: { originMm: [0, 0, 0], turnRad: 0, isLead: true },
};

const EDIT: IfcTagEdit = {
  tag: 'L01-0001',
  openingIds: [OPENING],
  serviceIds: [PIPE],
  hostIds: [WALL],
  fields: [{ name: 'Tag', value: { kind: 'identifier', text: 'L01-0001' } }],
  quantities: [{ name: 'SealantNet', value: { kind: 'volumeMl', value: 288.9 } }],
  seal: 'sealant',
  missing: null,
};

function model(schema: string, end = 'ENDSEC;\nEND-ISO-10303-21;\n'): string {
  return `ISO-10303-21;
HEADER;
FILE_SCHEMA(('${schema}'));
ENDSEC;
DATA;
#1=IFCPROJECT('1eA6m4fELI9QBIhP3wiLAp',$,'P',$,$,$,$,(#4),#2);
#2=IFCUNITASSIGNMENT((#3));
#3=IFCSIUNIT(*,.LENGTHUNIT.,.MILLI.,.METRE.);
#4=IFCGEOMETRICREPRESENTATIONCONTEXT($,'Model',3,1.E-5,$,$);
#5=IFCWALL('${WALL}',$,'W',$,$,$,$,$${schema === 'IFC2X3' ? '' : ',$'});
#6=IFCOPENINGELEMENT('${OPENING}',$,'O',$,$,$,$,$${schema === 'IFC2X3' ? '' : ',$'});
#7=IFCRELVOIDSELEMENT('3Agm079vPIYBL4JExVrhD5',$,$,$,#5,#6);
#8=${schema === 'IFC2X3' ? 'IFCFLOWSEGMENT' : 'IFCPIPESEGMENT'}('${PIPE}',$,'D',$,$,$,$,$${schema === 'IFC2X3' ? '' : ',$'});
#9=IFCBUILDINGSTOREY('0BbkGoC6vPvRW13UT7D8zH',$,'L01',$,$,$,$,$,.ELEMENT.,0.);
#10=IFCRELCONTAINEDINSPATIALSTRUCTURE('2nJrDaLQfJ1QPhdJR0o97J',$,$,$,(#5),#9);
${end}`;
}

const bytes = (text: string) => new TextEncoder().encode(text);
const string = (value: Uint8Array) => new TextDecoder().decode(value);

test.each(MAKER_SCHEMAS)(
  '%s: the seal fills the opening and stands on the level of the wall',
  (schema) => {
    const { result, refused } = tagIfc(bytes(model(schema)), [EDIT], OPTIONS);
    expect(refused).toEqual([]);
    const file = new StepFile(result);
    const [seal] = file.recordsOf('IFCDISCRETEACCESSORY');
    const [fills] = file.recordsOf('IFCRELFILLSELEMENT');
    expect(fills?.values.slice(4)).toEqual([
      { kind: 'ref', id: 6 },
      { kind: 'ref', id: seal?.id },
    ]);
    const contained = file.recordsOf('IFCRELCONTAINEDINSPATIALSTRUCTURE').at(-1);
    expect(contained?.values.slice(4)).toEqual([
      { kind: 'list', items: [{ kind: 'ref', id: seal?.id }] },
      { kind: 'ref', id: 9 },
    ]);
    // enums.csv: no PredefinedType in IFC2X3, no FILLER in IFC4.
    const kind = { IFC2X3: undefined, IFC4: 'USERDEFINED', IFC4X3: 'FILLER' }[schema];
    expect(seal?.values[8]).toEqual(kind === undefined ? undefined : { kind: 'enum', name: kind });
    const passing = schema === 'IFC2X3' ? 'IFCRELCONNECTSELEMENTS' : 'IFCRELINTERFERESELEMENTS';
    expect(file.idsOf(passing).length).toBe(1);
    // IFC2X3 demands an owner history; the file has none.
    expect(file.idsOf('IFCOWNERHISTORY').length).toBe(schema === 'IFC2X3' ? 1 : 0);
  },
);

test.each(MAKER_SCHEMAS)('%s: a missing opening is asked for as a provision', (schema) => {
  const missing: IfcTagEdit = {
    ...EDIT,
    openingIds: [],
    missing: {
      shape: { type: 'rectangle', widthMm: 300, heightMm: 200 },
      frame: { originMm: [1000, 2000, 3000], axis: [0, 1, 0], right: [1, 0, 0], up: [0, 0, 1] },
      depthMm: 200,
      systems: ['LV'],
    },
  };
  const { added } = tagIfc(bytes(model(schema)), [missing], OPTIONS);
  const all = added.join('\n');
  const expected = {
    IFC2X3: /IFCBUILDINGELEMENTPROXY\([^\n]*'ProvisionForVoid'/,
    IFC4: /IFCBUILDINGELEMENTPROXY\([^\n]*\.PROVISIONFORVOID\./,
    IFC4X3: /IFCVIRTUALELEMENT\([^\n]*\.PROVISIONFORVOID\./,
  }[schema];
  expect(all).toMatch(expected);
  // psets-penetration.csv: the standard set and the name of its form.
  const set = {
    IFC2X3: null,
    IFC4: /'Shape',\$,IFCLABEL\('Rectangle'\)/,
    IFC4X3: /'VoidShape',\$,IFCLABEL\('Rectangle'\)/,
  }[schema];
  if (set === null) expect(all).not.toMatch(/'Pset_/);
  else expect(all).toMatch(set);
  // Half the depth before the centre, seen along the axis.
  expect(all).toContain('IFCCARTESIANPOINT((1000.,2100.,3000.))');
});

test('a place in the project becomes a place in the turned and moved file', () => {
  const missing: IfcTagEdit = {
    ...EDIT,
    openingIds: [],
    missing: {
      shape: { type: 'circle', diameterMm: 100 },
      frame: { originMm: [10_000, 5000, 0], axis: [0, 0, -1], right: [1, 0, 0], up: [0, 1, 0] },
      depthMm: 0.002,
      systems: [],
    },
  };
  const frame = { originMm: [10_000, 0, 0], turnRad: Math.PI / 2, isLead: true } as const;
  const { added } = tagIfc(bytes(model('IFC4')), [missing], { ...OPTIONS, frame });
  // A quarter turn: the file's x runs along the project's y.
  expect(added.find((line) => line.includes('IFCCARTESIANPOINT'))).toMatch(/\(\(5000\.,/);
});

test('texts can not break out of their string or end our block', () => {
  const evil = "'); /* sealbook tags end */ #1=X('";
  const edit = { ...EDIT, tag: evil, seal: evil };
  const source = bytes(model('IFC4'));
  const { result } = tagIfc(source, [edit], OPTIONS);
  expect(new StepFile(result).recordsOf('IFCDISCRETEACCESSORY')[0]?.values[2]).toEqual({
    kind: 'text',
    text: evil,
  });
  expect(string(untagIfc(result))).toBe(string(source));
});

test('any text, any line end, with or without a line before the end', () => {
  fc.assert(
    fc.property(
      fc.string({ unit: 'grapheme' }),
      fc.boolean(),
      fc.boolean(),
      (text, crlf, joined) => {
        const plain = joined
          ? model('IFC4').replace('\nENDSEC;\nEND', 'ENDSEC;END')
          : model('IFC4');
        const source = bytes(crlf ? plain.replaceAll('\n', '\r\n') : plain);
        const edit = { ...EDIT, tag: `T${text}`, seal: text };
        const tagged = tagIfc(source, [edit], OPTIONS).result;
        expect(Buffer.compare(tagIfc(tagged, [edit], OPTIONS).result, tagged)).toBe(0);
        expect(Buffer.compare(untagIfc(tagged), source)).toBe(0);
      },
    ),
    { numRuns: 50 },
  );
});

test.each([
  ['no IFC', 'hello'],
  ['a cut file', model('IFC4', '')],
  ['an unknown schema', model('IFC9')],
  ['nothing', ''],
])('%s is refused and left alone', (_, text) => {
  const source = bytes(text);
  const { result, refused, added } = tagIfc(source, [EDIT], OPTIONS);
  expect(result).toEqual(source);
  expect(added).toEqual([]);
  expect(refused[0]).toMatchObject({ tag: null });
});

test('an element that is missing or there twice is refused with its reason', () => {
  const twice = model('IFC4').replace(
    'ENDSEC;\nEND',
    `#11=IFCWALL('${WALL}',$,$,$,$,$,$,$,$);\nENDSEC;\nEND`,
  );
  const { refused } = tagIfc(bytes(twice), [{ ...EDIT, openingIds: ['none'] }], OPTIONS);
  expect(refused.map(({ id, reason }) => [id, reason])).toEqual([
    ['none', 'its GlobalId is not in the file'],
    [WALL, 'its GlobalId is in the file 2 times'],
  ]);
});

/** As another program saves a model: comments gone, all lines numbered anew. */
function savedAgain(tagged: Uint8Array, by = 500): string {
  return string(tagged)
    .replace(/\/\*[^*]*\*\/\n/g, '')
    .replace(/#(\d+)/g, (_, id) => `#${Number(id) + by}`);
}

describe('a model that another program saved with our tags in it', () => {
  const source = bytes(model('IFC4'));
  const tagged = tagIfc(source, [EDIT], OPTIONS).result;
  const originalSaved = savedAgain(source);
  const countOf = (file: Uint8Array, type: string) => new StepFile(file).idsOf(type).length;

  test.each(MAKER_SCHEMAS)('%s: loses them again, and all else stays as it was', (schema) => {
    const plain = bytes(model(schema));
    const saved = savedAgain(tagIfc(plain, [EDIT], OPTIONS).result);
    expect(string(untagIfc(bytes(saved)))).toBe(savedAgain(plain));
  });

  test('is tagged anew: the former lines go, as if it had never been tagged', () => {
    const { result, refused } = tagIfc(bytes(savedAgain(tagged)), [EDIT], OPTIONS);
    expect(refused).toEqual([]);
    expect(string(result)).toBe(string(tagIfc(bytes(originalSaved), [EDIT], OPTIONS).result));
    expect(countOf(result, 'IFCDISCRETEACCESSORY')).toBe(1);
  });

  test('is brought up to date after a revision', () => {
    const changed = { ...EDIT, tag: 'L01-0007', seal: 'other sealant' };
    const { result } = tagIfc(bytes(savedAgain(tagged)), [changed], OPTIONS);
    expect(string(result)).not.toContain("L01-0001',$");
    expect(countOf(result, 'IFCPROPERTYSET')).toBe(2);
  });

  test('with GlobalIds made up anew loses our sets by their names, and says what stays', () => {
    let at = 0;
    const foreign = savedAgain(tagged).replace(/(#5[1-9]\d=IFC\w+\(')[^']{22}/g, (_, begin) => {
      at += 1;
      return `${begin}3${String(at).padStart(21, '0')}`;
    });
    const left = string(untagIfc(bytes(foreign)));
    expect(left).not.toContain('Sealbook_');
    // The seal stands in a containment that can't be told from one of theirs: it stays, and is named.
    const { refused } = tagIfc(bytes(foreign), [], OPTIONS);
    expect(refused.map(({ reason }) => reason)).toEqual([
      expect.stringMatching(/^it stays, since line #\d+ of another program refers to it$/),
    ]);
  });

  test('keeps a line of ours that a line of its own refers to, and says so', () => {
    const saved = savedAgain(tagged);
    const seal = /#(\d+)=IFCDISCRETEACCESSORY/.exec(saved)?.[1] ?? '';
    const theirs = `#900=IFCRELASSIGNSTOGROUP('2aaaaaaaaaaaaaaaaaaaaa',$,$,$,(#${seal}),$,#901);`;
    const used = saved.replace('ENDSEC;\nEND', `${theirs}\nENDSEC;\nEND`);
    const untagged = string(untagIfc(bytes(used)));
    expect(untagged).toContain(theirs);
    expect(untagged).toContain(`#${seal}=IFCDISCRETEACCESSORY`);
    expect(untagged).not.toContain('Sealbook_Penetration');
    // Tagged anew, the seal keeps its number, so that their line still finds it.
    const { result } = tagIfc(bytes(used), [EDIT], OPTIONS);
    expect(string(result)).toContain(`#${seal}=IFCDISCRETEACCESSORY`);
    expect(countOf(result, 'IFCDISCRETEACCESSORY')).toBe(1);
    const without = tagIfc(bytes(used), [], OPTIONS);
    expect(without.refused[0]?.reason).toContain('#900 of another program refers to it');
  });
});

test('the ids of two files of one project differ, those of two runs do not', () => {
  const source = bytes(model('IFC4'));
  const first = tagIfc(source, [EDIT], OPTIONS).added;
  expect(tagIfc(source, [EDIT], OPTIONS).added).toEqual(first);
  expect(tagIfc(source, [EDIT], { ...OPTIONS, fileKey: 'mep' }).added).not.toEqual(first);
});

test('a provision is refused where a map conversion may have moved the model', () => {
  const text = model('IFC4').replace(
    '#9=IFCBUILDINGSTOREY',
    '#12=IFCMAPCONVERSION(#4,$,1000.,2000.,0.,1.,0.,1.);\n#9=IFCBUILDINGSTOREY',
  );
  const missing: IfcTagEdit = {
    ...EDIT,
    openingIds: [],
    missing: {
      shape: { type: 'circle', diameterMm: 100 },
      frame: { originMm: [0, 0, 0], axis: [0, 1, 0], right: [1, 0, 0], up: [0, 0, 1] },
      depthMm: 200,
      systems: [],
    },
  };
  const frame = { originMm: [0, 0, 0], turnRad: 0, isLead: false } as const;
  const { refused, added } = tagIfc(bytes(text), [missing], { ...OPTIONS, frame });
  expect(refused[0]?.reason).toMatch(/place of the file is not known/);
  expect(added.join('\n')).not.toContain('PROVISIONFORVOID');
  const lead = tagIfc(bytes(text), [missing], OPTIONS);
  expect(lead.refused).toEqual([]);
});

test('a new export with other record numbers gets the same GlobalIds', () => {
  const renumbered = model('IFC4').replace(/#(\d+)/g, (_, id) => `#${Number(id) + 500}`);
  const ids = (text: string) =>
    tagIfc(bytes(text), [EDIT], OPTIONS).added.flatMap(
      (line) => /^#\d+=\w+\('([0-9A-Za-z_$]{22})'/.exec(line)?.[1] ?? [],
    );
  expect(ids(renumbered)).toEqual(ids(model('IFC4')));
  expect(ids(renumbered).length).toBeGreaterThan(6);
});

test('a damaged model is tagged or refused, never a crash, and untagging undoes it', () => {
  const source = bytes(model('IFC4'));
  const change = fc.tuple(
    fc.nat(source.length - 1),
    fc.constantFrom(...bytes("'();/*=#\n$.\u00000")),
  );
  fc.assert(
    fc.property(fc.array(change, { minLength: 1, maxLength: 8 }), (changes) => {
      const damaged = source.slice();
      for (const [at, byte] of changes) damaged[at] = byte;
      const { result } = tagIfc(damaged, [EDIT], OPTIONS);
      expect(Buffer.compare(untagIfc(result), damaged)).toBe(0);
    }),
    { numRuns: 300 },
  );
});

// NIST SP 811, appendix B.8: 1 inch = 25.4 mm, 1 in² = 645.16 mm², 1 in³ = 16.387064 ml.
test('values are written in the units of the model', () => {
  const inches = model('IFC4').replace(
    '#3=IFCSIUNIT(*,.LENGTHUNIT.,.MILLI.,.METRE.);',
    '#3=IFCCONVERSIONBASEDUNIT($,.LENGTHUNIT.,$,#13);\n#13=IFCMEASUREWITHUNIT(IFCLENGTHMEASURE(25.4),#14);\n#14=IFCSIUNIT(*,.LENGTHUNIT.,.MILLI.,.METRE.);',
  );
  const edit: IfcTagEdit = {
    ...EDIT,
    fields: [
      { name: 'SetBack', value: { kind: 'lengthMm', value: 25.4 } },
      { name: 'Room', value: { kind: 'areaMm2', value: 645.16 } },
    ],
    quantities: [
      { name: 'SealantNet', value: { kind: 'volumeMl', value: 16.387064 } },
      { name: 'FreeArea', value: { kind: 'areaMm2', value: 2 * 645.16 } },
    ],
  };
  const all = tagIfc(bytes(inches), [edit], OPTIONS).added.join('\n');
  expect(all).toContain("'SetBack',$,IFCLENGTHMEASURE(1.)");
  expect(all).toContain("'Room',$,IFCAREAMEASURE(1.)");
  expect(all).toContain("IFCQUANTITYVOLUME('SealantNet',$,$,1.,$)");
  expect(all).toContain("IFCQUANTITYAREA('FreeArea',$,$,2.,$)");
  // A model that assigns square metres is given square metres.
  const metric = inches
    .replace('IFCUNITASSIGNMENT((#3))', 'IFCUNITASSIGNMENT((#3,#15))')
    .replace('#13=', '#15=IFCSIUNIT(*,.AREAUNIT.,$,.SQUARE_METRE.);\n#13=');
  expect(tagIfc(bytes(metric), [edit], OPTIONS).added.join('\n')).toContain(
    "'Room',$,IFCAREAMEASURE(0.00064516)",
  );
});
