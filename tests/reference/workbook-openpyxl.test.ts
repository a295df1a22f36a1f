import { execFileSync } from 'node:child_process';
import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import os from 'node:os';
import path from 'node:path';
import { expect } from 'vitest';
import { writeWorkbook } from '../../src/write/workbook/write-workbook.ts';
import { HOSTILE, makeIssue } from '../makers/issue/make-issue.ts';
import { PYTHON, testWith } from '../set-up/outside.ts';
import { svgToPng } from '../set-up/svg-to-png.ts';

// An independent reader of the format: openpyxl, which keeps to the standard's schema.

const READ = `
import json, sys, openpyxl
book = openpyxl.load_workbook(sys.argv[1])
values = openpyxl.load_workbook(sys.argv[1], data_only=True)
def name_list(names):
    return [n.name for n in names.definedName] if hasattr(names, 'definedName') else list(names.keys())
out = {'sheets': [], 'names': name_list(book.defined_names), 'title': book.properties.title,
       'created': str(book.properties.created), 'keywords': book.properties.keywords}
for sheet in book:
    cells = [[cell.coordinate, cell.data_type, str(cell.value), cell.number_format]
             for row in sheet.iter_rows() for cell in row if cell.value is not None]
    out['sheets'].append({
        'title': sheet.title,
        'cells': cells,
        'values': {c.coordinate: c.value for row in values[sheet.title].iter_rows() for c in row if c.value is not None},
        'filter': sheet.auto_filter.ref,
        'frozen': sheet.freeze_panes,
        'rows': sheet.print_title_rows,
        'columns': sheet.print_title_cols,
        'orientation': sheet.page_setup.orientation,
        'paper': str(sheet.page_setup.paperSize),
        'fit': [sheet.sheet_properties.pageSetUpPr.fitToPage if sheet.sheet_properties.pageSetUpPr else None,
                sheet.page_setup.fitToWidth, sheet.page_setup.fitToHeight],
        'choices': [[str(v.sqref), v.type, v.formula1] for v in sheet.data_validations.dataValidation],
        'links': [[c.coordinate, c.hyperlink.location] for row in sheet.iter_rows() for c in row if c.hyperlink],
        'merges': len(sheet.merged_cells.ranges),
        'footer': [sheet.oddFooter.left.text, sheet.oddFooter.center.text, sheet.oddFooter.right.text],
        'breaks': len(sheet.row_breaks.brk),
    })
print(json.dumps(out))
`;

interface ReadSheet {
  readonly title: string;
  readonly cells: readonly (readonly [string, string, string, string])[];
  readonly values: Readonly<Record<string, string | number>>;
  readonly filter: string | null;
  readonly frozen: string | null;
  readonly rows: string | null;
  readonly columns: string | null;
  readonly orientation: string;
  readonly paper: string;
  readonly choices: readonly (readonly [string, string, string])[];
  readonly links: readonly (readonly [string, string])[];
  readonly footer: readonly (string | null)[];
  readonly breaks: number;
}

interface ReadBook {
  readonly sheets: readonly ReadSheet[];
  readonly names: readonly string[];
  readonly title: string;
  readonly created: string;
  readonly keywords: string;
}

async function readByOpenpyxl(): Promise<ReadBook> {
  const folder = mkdtempSync(path.join(os.tmpdir(), 'sealbook-openpyxl-'));
  try {
    const file = path.join(folder, 'book.xlsx');
    writeFileSync(file, await writeWorkbook(makeIssue(), { svgToPng }));
    const out = execFileSync(PYTHON, ['-W', 'error', '-c', READ, file], { encoding: 'utf8' });
    return JSON.parse(out) as ReadBook;
  } finally {
    rmSync(folder, { recursive: true, force: true });
  }
}

testWith(['openpyxl'], 'openpyxl reads every cell, type, name, choice and link', async () => {
  const book = await readByOpenpyxl();
  const sheet = (title: string) => {
    const found = book.sheets.find((each) => each.title === title);
    if (found === undefined) throw new Error(`no sheet ${title}`);
    return found;
  };
  const register = sheet('Register');

  expect(book.sheets.map(({ title }) => title)).toEqual([
    'Front',
    'Register',
    'Cables',
    'Drawings',
    'Take-off',
    'Quantities',
    'Checks',
    'Queries',
    'Site record',
    'Changes',
    'Basis',
  ]);
  expect(book.title).toBe('Seal schedule: Lakeside pumping station & outfall');
  expect(book.created).toBe('2026-02-27 00:00:00');
  expect(book.keywords).toMatch(/^sealbook-workbook 2 project:\S+ revision:B issue:[0-9a-f]{8}$/);
  expect(book.names).toEqual(
    expect.arrayContaining(['register', 'cables', 'take_off', 'checks', 'queries', 'site_record']),
  );

  // Sizes as put in by the maker: 150 mm opening, wall of 200 mm, 14,445.83 mm² × 20 mm.
  const rowOf = (heading: string, row: number) => {
    const head = Object.entries(register.values).find(([, value]) => value === heading)?.[0];
    return register.values[`${head?.replace(/\d+$/, '')}${row}`];
  };
  expect(rowOf('Tag', 6)).toBe('L01-0001');
  expect(rowOf('As found mm', 6)).toBe('150 dia');
  expect(rowOf('Thickness mm', 6)).toBe(200);
  expect(rowOf('Sealant net ml', 6)).toBeCloseTo(288.917, 3);
  expect(rowOf('Cable list', 6)).toBe('P-101, P-102, P-103');

  // Numbers are numbers, texts texts; only our own sums are formulas.
  const types = new Map<string, number>();
  for (const { cells } of book.sheets) {
    for (const [, type, value] of cells) {
      types.set(type, (types.get(type) ?? 0) + 1);
      if (type === 'f')
        expect(value).toMatch(/^=(SUM|SUBTOTAL|SUMPRODUCT|IF|PI\(\)|\d+\*\d+|[A-Z]+\d+)/);
    }
  }
  expect([...types.keys()].sort()).toEqual(['f', 'n', 's']);

  const cables = sheet('Cables').cells.filter(([at]) => /^A\d+$/.test(at));
  const hostile = cables.find(([, , value]) => value === HOSTILE[0]);
  expect(hostile?.[1]).toBe('s');
  expect(hostile?.[3]).toBe('@');
  // openpyxl leaves the escape as it stands; other readers undo it (workbook-recalculation).
  expect(cables.map(([, , value]) => value)).toContain('_x005F_x0041_ is no A');

  expect(register.filter).toMatch(/^A5:[A-Z]+10$/);
  expect(register.frozen).toBe('B6');
  expect(register.rows).toBe('$4:$5');
  expect(register.columns).toBe('$A:$A');
  expect([register.orientation, register.paper]).toEqual(['landscape', '8']);
  expect(register.choices.map(([, type, list]) => [type, list])).toEqual([
    ['list', '"accept,change,exclude,hold"'],
    ['list', '"tender,construction,hold"'],
    ['list', '"1,2"'],
  ]);
  expect(sheet('Site record').choices).toHaveLength(7);
  expect(sheet('Cables').links[0]).toEqual(['B6', "'Register'!A6"]);
  expect(register.footer[0]).toBe('LPS-042-SEAL-001 · revision B');
  expect(sheet('Drawings').breaks).toBe(3);
});

const KEEP = `
import sys, zipfile, openpyxl
book = openpyxl.load_workbook(sys.argv[1])
print(sum(len(sheet._images) for sheet in book))
book.save(sys.argv[2])
print(sum(1 for n in zipfile.ZipFile(sys.argv[2]).namelist() if n.startswith('xl/media/')))
`;

testWith(['openpyxl'], 'pictures outlive a save by openpyxl', async () => {
  const folder = mkdtempSync(path.join(os.tmpdir(), 'sealbook-openpyxl-'));
  try {
    const file = path.join(folder, 'book.xlsx');
    writeFileSync(file, await writeWorkbook(makeIssue(), { svgToPng }));
    const saved = path.join(folder, 'saved.xlsx');
    const out = execFileSync(PYTHON, ['-c', KEEP, file, saved], { encoding: 'utf8' });
    const hasPictures = execFileSync(
      PYTHON,
      ['-c', 'import importlib.util as u; print(u.find_spec("PIL") is not None)'],
      { encoding: 'utf8' },
    );
    // Without Pillow openpyxl drops every picture, whoever wrote it.
    expect(out.trim().split('\n')).toEqual(hasPictures.includes('True') ? ['4', '4'] : ['0', '0']);
  } finally {
    rmSync(folder, { recursive: true, force: true });
  }
});
