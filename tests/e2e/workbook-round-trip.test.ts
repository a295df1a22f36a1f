import { execFileSync } from 'node:child_process';
import { cpSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import os from 'node:os';
import path from 'node:path';
import { expect } from 'vitest';
import { loadProject } from '../../src/cli/load-project.ts';
import { nodePlatform } from '../../src/cli/node-platform.ts';
import { withReturned } from '../../src/cli/returned-workbooks.ts';
import { openRange } from '../../src/pipeline/open-project.ts';
import { type RunOutput, runProject } from '../../src/pipeline/run-project.ts';
import { convertWorkbook } from '../set-up/libreoffice.ts';
import { PYTHON, repoRoot, testWith } from '../set-up/outside.ts';

/** Runs the valve chamber with the register of the run before and workbooks that came back. */
async function run(before: RunOutput | null, returned: readonly string[] = []): Promise<RunOutput> {
  const folder = path.join(repoRoot, 'samples/valve-chamber/project.yaml');
  const project = await withReturned(await loadProject([folder], null, false), returned);
  const outputs = { ...project.settings.outputs, taggedModels: false, bcf: false };
  return runProject(
    {
      settings: { ...project.settings, outputs },
      assumptions: project.assumptions,
      range: openRange(project.rangeFile).range,
      files: project.files,
      register: before && { key: 'register', name: 'register.jsonl', bytes: before.register },
    },
    nodePlatform(null),
  );
}

/**
 * Edits as people make them: sheet renamed, a column put in front with notes, rows turned round,
 * columns hidden. `edits`: sheet, text of the row's first key cell, heading, value.
 */
const EDIT = `
import json, sys, openpyxl
book = openpyxl.load_workbook(sys.argv[1])
edits = json.loads(sys.argv[3])
def head(sheet):
    for row in sheet.iter_rows(min_row=1, max_row=8):
        names = {str(c.value): c.column for c in row if c.value is not None}
        if 'As issued' in names:
            return row[0].row, names
for sheet_name, key, heading, value in edits:
    sheet = book[sheet_name]
    top, names = head(sheet)
    for r in range(top + 1, sheet.max_row + 1):
        if key in str(sheet.cell(r, names['As issued']).value):
            sheet.cell(r, names[heading]).value = value
            break
    else:
        raise SystemExit('no row for ' + key)
if 'mess' in sys.argv:
    sheet = book['Register']
    top, names = head(sheet)
    rows = [[c.value for c in row] for row in sheet.iter_rows(min_row=top + 1)]
    for r, row in enumerate(reversed(rows)):
        for c, value in enumerate(row):
            sheet.cell(top + 1 + r, c + 1).value = value
    sheet.insert_cols(3)
    sheet.cell(top, 3).value = 'Our own notes'
    sheet.cell(top + 1, 3).value = 'ask the foreman'
    sheet.title = 'Holes'
    sheet.column_dimensions['E'].hidden = True
    sheet.row_dimensions[top + 1].hidden = True
book.save(sys.argv[2])
`;

type CellEdit = readonly [sheet: string, key: string, heading: string, value: string | number];

async function edited(
  bytes: Uint8Array,
  edits: readonly CellEdit[],
  how: readonly ('mess' | 'LibreOffice')[] = [],
): Promise<string> {
  const folder = mkdtempSync(path.join(os.tmpdir(), 'sealbook-returned-'));
  const file = path.join(folder, 'issued.xlsx');
  const out = path.join(folder, 'returned.xlsx');
  writeFileSync(file, bytes);
  execFileSync(PYTHON, ['-c', EDIT, file, out, JSON.stringify(edits), ...how]);
  if (how.includes('LibreOffice')) {
    writeFileSync(out, convertWorkbook(new Uint8Array(readFileSync(out)), 'xlsx'));
  }
  return out;
}

function workbookOf(output: RunOutput): Uint8Array {
  const file = output.files.find(({ name }) => name.endsWith('.xlsx'));
  if (file === undefined) throw new Error('no workbook was written');
  return file.bytes;
}

const decisionsOf = ({ issue }: RunOutput) =>
  (issue.decisions ?? []).map(
    ({ subject, field, tag, value }) => `${subject} ${field}${tag ? ` ${tag}` : ''} = ${value}`,
  );
const queriesOf = ({ issue }: RunOutput, code: string) =>
  issue.queries.filter((query) => query.code === code).map(({ text }) => text);

for (const program of ['openpyxl', 'LibreOffice'] as const) {
  testWith(
    ['openpyxl', 'libreoffice'],
    `edits of a turned, renamed, widened sheet saved by ${program} come back as decisions`,
    async () => {
      const first = await run(null);
      const [a = '', b = ''] = [...first.issue.tags.values()];
      const query = first.issue.queries[0]?.id ?? '';
      const cable = first.issue.schedule.cables[0]?.ref ?? '';
      const edits: CellEdit[] = [
        ['Register', `"${a}"`, 'Decision', 'Hold '],
        ['Register', `"${a}"`, 'Remarks', '@waiting for the "crane"'],
        ['Register', `"${b}"`, 'Separation decided mm', '6,5'],
        ['Register', `"${b}"`, 'Faces decided no.', 2],
        ['Queries', JSON.stringify(query), 'Answer', 'as drawn'],
        ['Queries', JSON.stringify(query), 'State', 'closed'],
        ['Cables', `["${cable}"`, 'Does it pass here?', `not ${b.toLowerCase()}`],
        ['Site record', `["${a}"`, 'Sealed', 'yes'],
        ['Site record', `["${a}"`, 'Depth, near face mm', 19.5],
        ['Site record', `["${a}"`, 'Defects', 'gap at the top'],
      ];
      const how =
        program === 'LibreOffice' ? (['mess', 'LibreOffice'] as const) : (['mess'] as const);
      const back = await edited(workbookOf(first), edits, how);
      const second = await run(first, [back]);
      expect(decisionsOf(second).sort()).toEqual(
        [
          `${a} review = hold`,
          `${a} remarks = @waiting for the "crane"`,
          `${b} separationMm = 6.5`,
          `${b} faces = 2`,
          `${query} answer = as drawn`,
          `${query} state = closed`,
          `${cable} passes ${b} = no`,
        ].sort(),
      );
      const record = second.issue.records?.get(a)?.asBuilt;
      expect(Object.values(record ?? {})[0]?.fields).toEqual({
        sealed: 'yes',
        depthNearMm: '19.5',
        defects: 'gap at the top',
      });
      expect(queriesOf(second, 'column-added')).toEqual([
        expect.stringContaining('"Our own notes" of Holes was added by someone: its 1 cell is not'),
      ]);
      expect(queriesOf(second, 'defect-open')).toHaveLength(1);
      for (const code of ['edit-unusable', 'edits-contradict', 'workbook-foreign'] as const) {
        expect(queriesOf(second, code), code).toEqual([]);
      }
      // The next workbook shows them, and comes back untouched without a word.
      const third = await run(second, [await edited(workbookOf(second), [])]);
      expect(decisionsOf(third)).toEqual(decisionsOf(second));
      expect(third.issue.records).toEqual(second.issue.records);
      // What is emptied is taken back.
      const emptied = await edited(workbookOf(second), [['Register', `"${a}"`, 'Decision', '']]);
      expect(decisionsOf(await run(second, [emptied]))).not.toContain(`${a} review = hold`);
      rmSync(path.dirname(back), { recursive: true, force: true });
    },
    240_000,
  );
}

testWith(
  ['openpyxl'],
  'what can not be used or contradicts is a query that quotes it',
  async () => {
    const first = await run(null);
    const [a = '', b = ''] = [...first.issue.tags.values()];
    const one = await edited(workbookOf(first), [
      ['Register', `"${a}"`, 'Decision', 'accept'],
      ['Register', `"${b}"`, 'Remarks', '="x"&"y"'],
    ]);
    const two = await edited(workbookOf(first), [['Register', `"${a}"`, 'Decision', 'exclude']]);
    const both = await run(first, [one, two]);
    expect(decisionsOf(both)).toEqual([]);
    expect(queriesOf(both, 'edits-contradict')[0]).toMatch(/"accept" .*"exclude"/);
    expect(queriesOf(both, 'edit-unusable')[0]).toContain('"="x"&"y""');
    // Somebody decided meanwhile: the late workbook overrules nobody.
    const accepted = await run(first, [one]);
    const late = await run(accepted, [path.join(copied(two), 'late.xlsx')]);
    expect(decisionsOf(late)).toContain(`${a} review = accept`);
    expect(queriesOf(late, 'edits-contradict')[0]).toMatch(/"accept" .*"exclude"/);
  },
);

function copied(file: string): string {
  const folder = mkdtempSync(path.join(os.tmpdir(), 'sealbook-late-'));
  cpSync(file, path.join(folder, 'late.xlsx'));
  return folder;
}

testWith(
  ['openpyxl'],
  'a workbook of another project, and one of nobody, are told apart',
  async () => {
    const first = await run(null);
    const [a = ''] = [...first.issue.tags.values()];
    const back = await edited(workbookOf(first), [['Register', `"${a}"`, 'Decision', 'accept']]);
    const renamed = `
import sys, openpyxl
book = openpyxl.load_workbook(sys.argv[1])
book.properties.keywords = 'sealbook-workbook 2 project:Elsewhere revision:Q issue:00000000'
book.save(sys.argv[1])
plain = openpyxl.Workbook()
plain.active['A1'] = 'Shopping'
plain.save(sys.argv[2])
`;
    const nobodys = path.join(path.dirname(back), 'plain.xlsx');
    execFileSync(PYTHON, ['-c', renamed, back, nobodys]);
    const second = await run(first, [back, nobodys]);
    expect(decisionsOf(second)).toEqual([]);
    expect(queriesOf(second, 'workbook-foreign').join()).toMatch(
      /Elsewhere.*no sheet has the head/,
    );
    const quoted = second.issue.queries.flatMap(({ code, evidence }) =>
      code === 'workbook-foreign' ? evidence.map(({ text }) => text) : [],
    );
    expect(quoted.join()).toContain(`${a} review = "accept"`);
  },
);
