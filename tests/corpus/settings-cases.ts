import { readFileSync } from 'node:fs';
import path from 'node:path';
import { repoRoot } from '../set-up/outside.ts';

type WholeCase = readonly [name: string, text: string, outcome: string];

/** `project.yaml` as a whole. */
export const PROJECT_CASES: readonly WholeCase[] = [
  ['an empty file', '', '"Untitled project", 0 files'],
  ['a comment only', '# nothing yet\n', '"Untitled project", 0 files'],
  ['a byte order mark', '\ufeffproject: { name: A }\n', '"A", 0 files'],
  [
    'a word',
    'hello',
    'REFUSED settings-invalid, line 1: project.yaml, line 1: the file: Invalid input: expected object, received string.',
  ],
  [
    'a number',
    '42',
    'REFUSED settings-invalid, line 1: project.yaml, line 1: the file: Invalid input: expected object, received number.',
  ],
  [
    'a list',
    '- a\n- b\n',
    'REFUSED settings-invalid, line 1: project.yaml, line 1: the file: Invalid input: expected object, received array.',
  ],
  ['null', 'null\n', '"Untitled project", 0 files'],
  ['JSON', '{"project":{"name":"J"}}', '"J", 0 files'],
  [
    'two documents',
    'project: { name: A }\n---\nproject: { name: B }\n',
    'REFUSED settings-invalid, line 2: project.yaml, line 2: is not valid YAML: Source contains multiple documents; please use YA',
  ],
  [
    'a tab as indent',
    'project:\n\tname: A\n',
    'REFUSED settings-invalid, line 2: project.yaml, line 2: is not valid YAML: Tabs are not allowed as indentation at line 2, co',
  ],
  [
    'a bracket that does not close',
    'project: { name: A\n',
    'REFUSED settings-invalid, line 2: project.yaml, line 2: is not valid YAML: Flow map in block collection must be sufficiently',
  ],
  [
    'a quote that does not close',
    'project: { name: "A }\n',
    'REFUSED settings-invalid, line 2: project.yaml, line 2: is not valid YAML: Missing closing "quote at line 2, column 1.',
  ],
  [
    'a key twice',
    'project: { name: A }\nproject: { name: B }\n',
    'REFUSED settings-invalid, line 2: project.yaml, line 2: is not valid YAML: Map keys must be unique at line 2, column 1.',
  ],
  ['zero bytes', 'project: { name: "\0" }\n', '"\u0000", 0 files'],
  [
    'an alias to nothing',
    'project: *x\n',
    "REFUSED settings-invalid: project.yaml can't be used: Unresolved alias (the anchor must be set before the alias): x.",
  ],
  [
    'aliases that multiply',
    `a: &a [${'x,'.repeat(9)}x]\nb: &b [${'*a,'.repeat(9)}*a]\nc: &c [${'*b,'.repeat(9)}*b]\nd: [${'*c,'.repeat(9)}*c]\n`,
    "REFUSED settings-invalid: project.yaml can't be used: Excessive alias count indicates a resource exhaustion attack.",
  ],
  [
    'an alias within itself',
    'project: &p { name: *p }\n',
    'REFUSED settings-invalid, line 1: project.yaml, line 1: project.name: Invalid input: expected string, received object.',
  ],
  [
    'brackets a thousand deep',
    '['.repeat(1000) + ']'.repeat(1000),
    'REFUSED settings-invalid, line 1: project.yaml, line 1: is not valid YAML: Maximum call stack size exceeded at line 1, colum',
  ],
  [
    'mappings ten thousand deep',
    `${'{a: '.repeat(10_000)}1${'}'.repeat(10_000)}`,
    'REFUSED settings-invalid, line 1: project.yaml, line 1: is not valid YAML: Maximum call stack size exceeded at line 1, colum',
  ],
  [
    'a tag that makes objects',
    'project: !!js/function "function(){}"\n',
    'REFUSED settings-invalid, line 1: project.yaml, line 1: project: Invalid input: expected object, received string.',
  ],
  [
    'a binary tag',
    'project: { name: !!binary aGVsbG8= }\n',
    'REFUSED settings-invalid, line 1: project.yaml, line 1: project.name: Invalid input: expected string, received Buffer.',
  ],
  [
    'a merge key',
    'project: { <<: { name: A } }\n',
    'REFUSED settings-invalid, line 1: project.yaml, line 1: project.<< is not a setting.',
  ],
  [
    'a key of the language',
    '__proto__: { polluted: true }\n',
    "REFUSED settings-invalid: project.yaml: __proto__ can't be used as a name.",
  ],
  [
    'a key of the language within',
    'project: { constructor: { x: 1 } }\n',
    'REFUSED settings-invalid, line 1: project.yaml, line 1: project.constructor is not a setting.',
  ],
  [
    'a setting nobody knows',
    'colour: red\n',
    'REFUSED settings-invalid, line 1: project.yaml, line 1: colour is not a setting.',
  ],
  [
    'a name that is a number',
    'project: { name: 5 }\n',
    'REFUSED settings-invalid, line 1: project.yaml, line 1: project.name: Invalid input: expected string, received number.',
  ],
  [
    'a file without a kind',
    'files: { a: { path: a.ifc } }\n',
    "REFUSED settings-invalid, line 1: project.yaml, line 1: files.a.kind: Invalid discriminator value. Expected 'ifc' | 'dxf' | ",
  ],
  [
    'a file of a kind nobody knows',
    'files: { a: { path: a.xyz, kind: xyz } }\n',
    "REFUSED settings-invalid, line 1: project.yaml, line 1: files.a.kind: Invalid discriminator value. Expected 'ifc' | 'dxf' | ",
  ],
  [
    'a file without a path',
    'files: { a: { path: "", kind: ifc } }\n',
    'REFUSED settings-invalid, line 1: project.yaml, line 1: files.a.path: Too small: expected string to have >=1 characters.',
  ],
  [
    'a file key with a slash',
    'files: { a/b: { path: a.ifc, kind: ifc } }\n',
    'REFUSED settings-invalid, line 1: project.yaml, line 1: files.a/b: Invalid key in record.',
  ],
  [
    'a file key of the language',
    'files: { __proto__: { path: a.ifc, kind: ifc } }\n',
    "REFUSED settings-invalid: project.yaml: __proto__ can't be used as a name.",
  ],
  [
    'files as a list',
    'files: [a.ifc]\n',
    'REFUSED settings-invalid, line 1: project.yaml, line 1: files: Invalid input: expected record, received array.',
  ],
  [
    'a move of two numbers',
    'files: { a: { path: a.ifc, kind: ifc, moveMm: [1, 2] } }\n',
    'REFUSED settings-invalid, line 1: project.yaml, line 1: files.a.moveMm: Too small: expected array to have >=3 items.',
  ],
  [
    'a move without end',
    'files: { a: { path: a.ifc, kind: ifc, moveMm: [.inf, 0, 0] } }\n',
    'REFUSED settings-invalid, line 1: project.yaml, line 1: files.a.moveMm.0: Invalid input: expected number, received Infinity.',
  ],
  [
    'a turn without end',
    'files: { a: { path: a.ifc, kind: ifc, turnDeg: .inf } }\n',
    'REFUSED settings-invalid, line 1: project.yaml, line 1: files.a.turnDeg: Invalid input: expected number, received Infinity.',
  ],
  [
    'a turn that is no number',
    'files: { a: { path: a.ifc, kind: ifc, turnDeg: .nan } }\n',
    'REFUSED settings-invalid, line 1: project.yaml, line 1: files.a.turnDeg: Invalid input: expected number, received NaN.',
  ],
  [
    'a view of endless height',
    'files: { a: { path: a.dxf, kind: dxf, elevationMm: .inf } }\n',
    'REFUSED settings-invalid, line 1: project.yaml, line 1: files.a.elevationMm: Invalid input: expected number, received Infini',
  ],
  [
    'a scale of nought',
    'files: { a: { path: a.dxf, kind: dxf, paperScale: 0 } }\n',
    'REFUSED settings-invalid, line 1: project.yaml, line 1: files.a.paperScale: Too small: expected number to be >0.',
  ],
  [
    'a delimiter of two letters',
    'files: { a: { path: a.csv, kind: schedule, delimiter: ab } }\n',
    'REFUSED settings-invalid, line 1: project.yaml, line 1: files.a.delimiter: Too big: expected string to have exactly 1 charac',
  ],
  [
    'a ratio in percent',
    'design: { wasteRatio: 10 }\n',
    'REFUSED settings-invalid, line 1: project.yaml, line 1: design.wasteRatio: Too big: expected number to be <=1.',
  ],
  [
    'a negative set-back',
    'design: { setBackMm: -1 }\n',
    'REFUSED settings-invalid, line 1: project.yaml, line 1: design.setBackMm: Too small: expected number to be >0.',
  ],
  [
    'an endless set-back',
    'design: { setBackMm: .inf }\n',
    'REFUSED settings-invalid, line 1: project.yaml, line 1: design.setBackMm: Invalid input: expected number, received Infinity.',
  ],
  [
    'a set-back that is no number',
    'design: { setBackMm: .nan }\n',
    'REFUSED settings-invalid, line 1: project.yaml, line 1: design.setBackMm: Invalid input: expected number, received NaN.',
  ],
  [
    'a limit of nought',
    'limits: { fileMb: 0 }\n',
    'REFUSED settings-invalid, line 1: project.yaml, line 1: limits.fileMb: Too small: expected number to be >0.',
  ],
  [
    'an endless limit',
    'limits: { fileMb: .inf }\n',
    'REFUSED settings-invalid, line 1: project.yaml, line 1: limits.fileMb: Invalid input: expected number, received Infinity.',
  ],
  [
    'a limit of half a record',
    'limits: { entities: 0.5 }\n',
    'REFUSED settings-invalid, line 1: project.yaml, line 1: limits.entities: Invalid input: expected int, received number.',
  ],
  [
    'a package of work named as a path',
    'outputs: { packages: { "../x": [A] } }\n',
    'REFUSED settings-invalid, line 1: project.yaml, line 1: outputs.packages.../x: Invalid key in record.',
  ],
];

const SAMPLE = readFileSync(
  path.join(repoRoot, 'samples', 'valve-chamber', 'range.yaml'),
  'utf8',
).split('\n');

/** Lines 21 and 39 of the sample range changed about, line 47 there 20,000 times. */
function repeatedRow(): string {
  const all = [...SAMPLE];
  [all[20], all[38]] = [all[38] ?? '', all[20] ?? ''];
  const row = all[46] ?? '';
  return [...all.slice(0, 47), ...Array<string>(20_000).fill(row), ...all.slice(47)].join('\n');
}

const HEAD = 'name: R\nsample: true\n';
const SEALANT =
  'sealants:\n  - name: S\n    containers: [{ sizeMl: 310, kind: cartridge }]\n    source: s\n';
const FILLER =
  'fillers:\n  - { name: F, outsideMm: 25, boreMm: 17, lengthMm: 200, perPack: 25, source: s }\n';

/** A range as a whole. */
export const RANGE_CASES: readonly WholeCase[] = [
  [
    'a wrong indent before 20,000 rows (overran the stack of the library)',
    repeatedRow(),
    "REFUSED settings-invalid: range.yaml can't be read as YAML.",
  ],
  [
    'an empty file',
    '',
    'REFUSED settings-invalid, line 1: range.yaml, line 1: name: Invalid input: expected string, received undefined; line 1: fill',
  ],
  [
    'a list',
    '- a\n',
    'REFUSED settings-invalid, line 1: range.yaml, line 1: the file: Invalid input: expected object, received array.',
  ],
  [
    'a head only',
    HEAD,
    'REFUSED settings-invalid, line 1: range.yaml, line 1: fillers: Invalid input: expected array, received undefined; line 1: se',
  ],
  ['one filler', HEAD + SEALANT + FILLER, '"R", 1 fillers, 1 sealants, 0 records'],
  [
    'a filler without a bore',
    HEAD + SEALANT + FILLER.replace('boreMm: 17, ', ''),
    'REFUSED settings-invalid, line 8: range.yaml, line 8: fillers.0.boreMm: Invalid input: expected number, received undefined.',
  ],
  [
    'a bore wider than the tube',
    HEAD + SEALANT + FILLER.replace('17', '30'),
    'REFUSED settings-invalid, line 8: range.yaml, line 8: fillers.0.boreMm: the bore must be smaller than the outside.',
  ],
  [
    'a tube of no width',
    HEAD + SEALANT + FILLER.replace('outsideMm: 25', 'outsideMm: 0'),
    'REFUSED settings-invalid, line 8: range.yaml, line 8: fillers.0.outsideMm: at least 2 mm is expected: check the unit; line 8',
  ],
  [
    'a tube of negative length',
    HEAD + SEALANT + FILLER.replace('200', '-200'),
    'REFUSED settings-invalid, line 8: range.yaml, line 8: fillers.0.lengthMm: at least 10 mm is expected: check the unit.',
  ],
  [
    'a tube of endless length',
    HEAD + SEALANT + FILLER.replace('200', '.inf'),
    'REFUSED settings-invalid, line 8: range.yaml, line 8: fillers.0.lengthMm: Invalid input: expected number, received Infinity.',
  ],
  [
    'a tube whose width is no number',
    HEAD + SEALANT + FILLER.replace('outsideMm: 25', 'outsideMm: .nan'),
    'REFUSED settings-invalid, line 8: range.yaml, line 8: fillers.0.outsideMm: Invalid input: expected number, received NaN.',
  ],
  [
    'a width that is a word',
    HEAD + SEALANT + FILLER.replace('outsideMm: 25', 'outsideMm: wide'),
    'REFUSED settings-invalid, line 8: range.yaml, line 8: fillers.0.outsideMm: Invalid input: expected number, received string.',
  ],
  [
    'a pack of nought',
    HEAD + SEALANT + FILLER.replace('perPack: 25', 'perPack: 0'),
    'REFUSED settings-invalid, line 8: range.yaml, line 8: fillers.0.perPack: Too small: expected number to be >0.',
  ],
  [
    'a pack of half a tube',
    HEAD + SEALANT + FILLER.replace('perPack: 25', 'perPack: 0.5'),
    'REFUSED settings-invalid, line 8: range.yaml, line 8: fillers.0.perPack: Invalid input: expected int, received number.',
  ],
  [
    'a figure without a source',
    HEAD + SEALANT + FILLER.replace(', source: s', ''),
    'REFUSED settings-invalid, line 8: range.yaml, line 8: fillers.0.source: Invalid input: expected string, received undefined.',
  ],
  [
    'two fillers of one name',
    HEAD + SEALANT + FILLER + FILLER.split('\n')[1],
    'REFUSED settings-invalid, line 9: range.yaml, line 9: fillers.1.name: F is there twice.',
  ],
  [
    'a sealant without containers',
    `${HEAD}${FILLER}sealants: [{ name: S, containers: [], source: s }]\n`,
    'REFUSED settings-invalid, line 5: range.yaml, line 5: sealants.0.containers: Too small: expected array to have >=1 items.',
  ],
  [
    'a container of nought',
    `${HEAD}${FILLER}sealants: [{ name: S, containers: [{ sizeMl: 0, kind: foil }], source: s }]\n`,
    'REFUSED settings-invalid, line 5: range.yaml, line 5: sealants.0.containers.0.sizeMl: at least 5 ml is expected: check the u',
  ],
  [
    'a sealant that is a word',
    `${HEAD}${FILLER}sealants: S\n`,
    'REFUSED settings-invalid, line 5: range.yaml, line 5: sealants: Invalid input: expected array, received string.',
  ],
  [
    'a ratio beyond one',
    `${HEAD}${SEALANT}${FILLER}packingAllowanceRatio: 5\n`,
    'REFUSED settings-invalid, line 9: range.yaml, line 9: packingAllowanceRatio: Too big: expected number to be <=0.3.',
  ],
  [
    'a field nobody knows',
    `${HEAD}${SEALANT}${FILLER}colour: red\n`,
    'REFUSED settings-invalid, line 9: range.yaml, line 9: colour is not a setting.',
  ],
  [
    'a key of the language',
    `${HEAD}${SEALANT}${FILLER}__proto__: { a: 1 }\n`,
    "REFUSED settings-invalid: range.yaml: __proto__ can't be used as a name.",
  ],
  [
    'a record without a duty',
    `${HEAD}${SEALANT}${FILLER}records: [{ name: W, source: s }]\n`,
    'REFUSED settings-invalid, line 9: range.yaml, line 9: records.0.duty: Invalid option: expected one of "water"|"gas"|"smoke"|',
  ],
  [
    'aliases that multiply',
    `${HEAD}${SEALANT}${FILLER}a: &a [${'x,'.repeat(99)}x]\nb: &b [${'*a,'.repeat(99)}*a]\nc: [${'*b,'.repeat(99)}*b]\n`,
    "REFUSED settings-invalid: range.yaml can't be used: Excessive alias count indicates a resource exhaustion attack.",
  ],
  [
    'bytes of no text',
    `${HEAD}${SEALANT}${FILLER}\u0000\u0001`,
    'REFUSED settings-invalid, line 9: range.yaml, line 9: is not valid YAML: Implicit map keys need to be followed by map values',
  ],
];
