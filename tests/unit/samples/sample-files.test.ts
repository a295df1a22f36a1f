import { execFileSync } from 'node:child_process';
import { createHash } from 'node:crypto';
import { existsSync, readFileSync } from 'node:fs';
import path from 'node:path';
import { expect, test } from 'vitest';
import { parse } from 'yaml';
import { sampleFiles } from '../../../samples/make/all-files.ts';
import { cablePlaces } from '../../../samples/make/schedule-xlsx.ts';
import { Range } from '../../../src/model/range.ts';
import { Settings } from '../../../src/model/settings.ts';
import { PYTHON, repoRoot, sharedPath, testWith } from '../../set-up/outside.ts';

const inSamples = (file: string): string => path.join(repoRoot, 'samples', file);
const textOf = (file: string): string => readFileSync(inSamples(file), 'utf8');

test('the samples in the tree are what samples/make.ts makes, byte for byte', async () => {
  const files = await sampleFiles();
  expect(files.length).toBe(14);
  for (const { path: file, bytes } of files) {
    expect(Buffer.compare(Buffer.from(bytes), readFileSync(inSamples(file))), file).toBe(0);
  }
});

test('making the samples twice gives the same bytes', async () => {
  const [first, second] = [await sampleFiles(), await sampleFiles()];
  for (const [index, { path: file, bytes }] of first.entries()) {
    expect(Buffer.compare(Buffer.from(bytes), Buffer.from(second[index]?.bytes ?? [])), file).toBe(
      0,
    );
  }
});

const PROJECTS = [
  'pumping-station/project.yaml',
  'pumping-station/drawings-only.yaml',
  'valve-chamber/project.yaml',
  'public-building/project.yaml',
];

test.each(PROJECTS)('%s keeps to the settings, and its files are there', (project) => {
  const settings = Settings.parse(parse(textOf(project)));
  const folder = path.dirname(project);
  const named = [...Object.values(settings.files).map((file) => file.path), settings.range ?? ''];
  expect(named.filter((name) => !existsSync(inSamples(`${folder}/${name}`)))).toEqual([]);
  expect(settings.issue.date).toMatch(/^\d{4}-\d{2}-\d{2}$/);
  const range = Range.parse(parse(textOf(`${folder}/${settings.range}`)));
  expect(range.sample).toBe(true);
});

test('every value of the sample range says that it is invented', () => {
  const range = Range.parse(parse(textOf('pumping-station/range.yaml')));
  const sources = [
    ...range.fillers,
    ...range.sealants,
    ...range.sealants.flatMap((sealant) => sealant.bond),
    ...range.records,
    ...range.consumables,
  ].map(({ source }) => source);
  expect(sources.length).toBeGreaterThan(10);
  expect(new Set(sources)).toEqual(new Set(['invented for the sample']));
});

test.each([
  [
    'pcert4x3-building-architecture.ifc',
    '29d4752a2ac42e03a4ae2dbf853f6498d41d07eb529cbe47580fe71e37066dfb',
  ],
  [
    'pcert4x3-building-hvac.ifc',
    '6de095fa7b6f532dd6174f0481586fb21117855e0dc5d030a8c9f6b474063429',
  ],
])('the published model %s has the bytes that its notice says', (file, sha256) => {
  const bytes = readFileSync(inSamples(`public-building/${file}`));
  expect(createHash('sha256').update(bytes).digest('hex')).toBe(sha256);
  expect(textOf('public-building/NOTICE.md')).toContain(sha256);
});

testWith(['ezdxf'], 'the drawings open in ezdxf, and its audit finds nothing', () => {
  const script = [
    'import ezdxf, sys',
    'for name in sys.argv[1:]:',
    '    drawing = ezdxf.readfile(name)',
    '    report = drawing.audit()',
    '    assert len(report.errors) == 0 and len(report.fixes) == 0, (name, report.errors, report.fixes)',
    '    assert drawing.header["$INSUNITS"] == 4',
    '    inserts = [e for e in drawing.modelspace().query("INSERT") if e.attribs]',
    '    print(drawing.dxfversion, len(drawing.modelspace()), len(inserts))',
  ].join('\n');
  const output = execFileSync(
    PYTHON,
    [
      '-c',
      script,
      inSamples('pumping-station/plan.dxf'),
      inSamples('pumping-station/pit-section.dxf'),
    ],
    { encoding: 'utf8' },
  ).trim();
  const [plan, section] = output.split('\n').map((line) => line.split(' '));
  expect(plan?.[0]).toBe('AC1021');
  expect(Number(plan?.[1])).toBeGreaterThan(200);
  expect(Number(plan?.[2])).toBeGreaterThan(25);
  expect(section?.[0]).toBe('AC1015');
});

testWith(['openpyxl'], 'each cable stands in the row that the truth says, read by openpyxl', () => {
  const script = [
    'import openpyxl, json, sys',
    'book = openpyxl.load_workbook(sys.argv[1])',
    'print(json.dumps({sheet.title: [[cell.value for cell in row] for row in sheet.iter_rows()] for sheet in book}))',
  ].join('\n');
  const output = execFileSync(
    PYTHON,
    ['-c', script, inSamples('pumping-station/cable-schedule.xlsx')],
    {
      encoding: 'utf8',
    },
  );
  const sheets = JSON.parse(output) as Record<string, unknown[][]>;
  expect(Object.keys(sheets)).toEqual(['Power', 'Control and data', 'Revisions']);
  for (const { sheet, row, cable } of cablePlaces()) {
    const cells = sheets[sheet]?.[row - 1] ?? [];
    expect(cells.slice(0, 2), `${sheet} row ${row}`).toContain(cable.ref);
  }
});

testWith(
  ['shared', 'openpyxl'],
  'the diameters in the schedule are those of the published table',
  () => {
    // Shared reference `cable-od.csv`: BS 5467, published catalogue table, kind "read".
    const table = new Map(
      readFileSync(sharedPath('reference', 'cable-od.csv'), 'utf8')
        .split('\n')
        .filter((line) => line.startsWith('Cu/XLPE/PVC/SWA/PVC,BS 5467,'))
        .map((line) => line.split(','))
        .map(([, , , cores, size, diameter]) => [`${cores}c ${size}`, Number(diameter)]),
    );
    let compared = 0;
    for (const { cable } of cablePlaces()) {
      const cores = /\d+c [\d.]+/.exec(`${cable.cores} ${cable.type}`)?.[0];
      if (!cable.type.startsWith('Cu/XLPE/PVC/SWA/PVC') || cores === undefined) continue;
      expect(cable.diameterMm, cable.ref).toBe(table.get(cores));
      compared += 1;
    }
    expect(compared).toBeGreaterThan(60);
  },
);
