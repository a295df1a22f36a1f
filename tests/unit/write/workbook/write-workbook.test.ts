import ExcelJS from 'exceljs';
import { strFromU8, unzipSync } from 'fflate';
import { beforeAll, expect, test } from 'vitest';
import type { Issue } from '../../../../src/model/issue.ts';
import type { RegisterRecord } from '../../../../src/model/register.ts';
import { areasOf } from '../../../../src/write/shared/issue-of-area.ts';
import { workbookParts } from '../../../../src/write/workbook/workbook-parts.ts';
import { writeWorkbook } from '../../../../src/write/workbook/write-workbook.ts';
import { HOSTILE, makeIssue, makeSettings } from '../../../makers/issue/make-issue.ts';
import { decided } from '../../../makers/register/made-decision.ts';
import { packageFaults } from '../../../set-up/package-faults.ts';
import { svgToPng } from '../../../set-up/svg-to-png.ts';

const write = (issue: Issue) => writeWorkbook(issue, { svgToPng });

let bytes: Uint8Array;
let book: ExcelJS.Workbook;

async function readBack(from: Uint8Array): Promise<ExcelJS.Workbook> {
  const workbook = new ExcelJS.Workbook();
  await workbook.xlsx.load(from.buffer as ArrayBuffer);
  return workbook;
}

beforeAll(async () => {
  bytes = await write(makeIssue());
  book = await readBack(bytes);
});

function sheet(name: string): ExcelJS.Worksheet {
  const found = book.getWorksheet(name);
  if (found === undefined) throw new Error(`no sheet ${name}`);
  return found;
}

/** Column number of a heading in row 5. */
function columnOf(name: string, heading: string): number {
  let column = 0;
  sheet(name)
    .getRow(5)
    .eachCell((cell, at) => {
      if (cell.value === heading) column = at;
    });
  if (column === 0) throw new Error(`no heading ${heading} on ${name}`);
  return column;
}

const allTexts = (worksheet: ExcelJS.Worksheet): string[] => {
  const texts: string[] = [];
  worksheet.eachRow((row) => {
    row.eachCell((cell) => {
      // The library can't read the text of an empty joined cell.
      if (cell.value !== null) texts.push(cell.text);
    });
  });
  return texts;
};

test('all sheets are there, in order', () => {
  expect(book.worksheets.map(({ name }) => name)).toEqual([
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
});

test('the same issue gives the same bytes', async () => {
  expect(Buffer.from(await write(makeIssue())).equals(Buffer.from(bytes))).toBe(true);
});

test('the package is sound', () => {
  expect(packageFaults(bytes)).toEqual([]);
});

test('cautions stand on the Front and wherever verdicts are read', () => {
  const front = allTexts(sheet('Front')).join('\n');
  for (const subject of ['Fire', 'Gas', 'Flood', 'Live cables', 'Confined space', 'Coring']) {
    expect(front).toContain(subject);
  }
  for (const name of ['Register', 'Checks', 'Drawings']) {
    expect(allTexts(sheet(name)).join('\n')).toContain('Design aid, not a certificate.');
  }
  expect(allTexts(sheet('Front')).join('\n')).toContain('SAMPLE with invented figures');
});

test('no sheet claims more than the evidence', () => {
  const texts = book.worksheets.flatMap(allTexts).join('\n');
  expect(texts).not.toMatch(/\b(compl(y|ies|iant)|is safe)\b/i);
  expect(texts).toContain('within the evidence supplied');
});

test('each link leads to the row that it speaks of', () => {
  const xml = (number: number) =>
    strFromU8(unzipSync(bytes)[`xl/worksheets/sheet${number}.xml`] ?? new Uint8Array());
  let links = 0;
  for (const [at, { name }] of book.worksheets.entries()) {
    for (const [, from = '', target = '', row = ''] of xml(at + 1).matchAll(
      /<hyperlink ref="([A-Z]+\d+)" location="&apos;([^&]+)&apos;!A(\d+)"/g,
    )) {
      if (name === 'Front') continue;
      const text = sheet(name).getCell(from).text;
      const there = sheet(target).getCell(`A${row}`).text;
      expect(there.startsWith(text), `${name}!${from} "${text}" leads to "${there}"`).toBe(true);
      links += 1;
    }
  }
  expect(links).toBeGreaterThan(20);
});

test('every penetration, cable, check and query has its row', () => {
  const issue = makeIssue();
  const filled = (name: string) =>
    Array.from(
      { length: sheet(name).rowCount - 5 },
      (_, at) => sheet(name).getCell(6 + at, 1).text,
    );
  expect(filled('Register')).toEqual([...issue.tags.values()]);
  expect(filled('Cables')).toHaveLength(issue.schedule.cables.length);
  expect(filled('Checks')).toHaveLength(issue.seals.flatMap(({ checks }) => checks).length);
  expect(filled('Queries')).toEqual(['Q-001', 'Q-002', 'Q-003']);
});

test('hostile texts are texts in every sheet', () => {
  for (const worksheet of book.worksheets) {
    worksheet.eachRow((row) => {
      row.eachCell((cell) => {
        if (cell.type !== ExcelJS.ValueType.Formula) return;
        expect(cell.formula, `${worksheet.name}!${cell.address}`).toMatch(
          /^(SUM|SUBTOTAL|SUMPRODUCT|IF|PI\(\)|\d+\*\d+|[A-Z]+\d+[-+*])/,
        );
        expect(cell.formula).not.toContain('HYPERLINK');
      });
    });
  }
  expect(allTexts(sheet('Cables'))).toContain(HOSTILE[0]);
});

test('verdicts are said in words', () => {
  const verdict = columnOf('Register', 'Verdict, within the evidence');
  expect(sheet('Register').getCell(6, verdict).value).toBe('not met');
  expect(sheet('Register').getCell(6, verdict - 1).value).toBe('water thrust on bond');
  expect(sheet('Register').getCell(6, verdict + 1).value).toBe(1.325);
});

test('where people type there are choices', () => {
  const decision = columnOf('Register', 'Decision');
  const validation = sheet('Register').getCell(6, decision).dataValidation;
  expect(validation.formulae).toEqual(['"accept,change,exclude,hold"']);
});

test('headings stay in sight, are repeated in print, and the table has a filter and a name', () => {
  const register = sheet('Register');
  expect(register.views[0]).toMatchObject({ state: 'frozen', xSplit: 1, ySplit: 5 });
  expect(register.pageSetup.printTitlesRow).toBe('4:5');
  expect(register.autoFilter).toBeTruthy();
  const names = strFromU8(unzipSync(bytes)['xl/workbook.xml'] ?? new Uint8Array());
  for (const name of ['register', 'cables', 'take_off', 'checks', 'queries', 'site_record']) {
    expect(names).toContain(`<definedName name="${name}">`);
  }
});

test('document properties come from the settings', async () => {
  expect(book.title).toBe('Seal schedule: Lakeside pumping station & outfall');
  expect(book.created.toISOString()).toBe('2026-02-27T00:00:00.000Z');
  const undated = await readBack(await write(makeIssue({ settings: makeSettings({ issue: {} }) })));
  expect(undated.created.toISOString()).toBe('2000-01-01T00:00:00.000Z');
  const front = undated.getWorksheet('Front');
  expect(front && allTexts(front)).toContain('not given');
});

test('the first issue says so', () => {
  expect(allTexts(sheet('Changes')).join('\n')).toContain('First issue');
});

test('an empty issue is a workbook too, and says what is not there', async () => {
  const empty = await readBack(
    await write(
      makeIssue({
        penetrations: [],
        tags: new Map(),
        seals: [],
        queries: [],
        schedule: { cables: [], rows: [] },
        matches: { matches: [], outcomes: [] },
        takeOff: { sealants: [], fillers: [], consumables: [] },
        ledger: { services: [], openings: [] },
        basis: [],
        unread: [],
        sources: [],
      }),
    ),
  );
  const register = empty.getWorksheet('Register');
  expect(register && allTexts(register).join('\n')).toContain('No penetration was found');
});

test('the account shows what does not add up', async () => {
  const issue = makeIssue();
  const lost = { ...issue.matches, outcomes: issue.matches.outcomes.slice(1) };
  const front = (await readBack(await write({ ...issue, matches: lost }))).getWorksheet('Front');
  expect(front && allTexts(front)).toContain('DOES NOT ADD UP');
  expect(allTexts(sheet('Front'))).not.toContain('DOES NOT ADD UP');
});

test('identical seals share a drawing that lists their tags', () => {
  const drawings = allTexts(sheet('Drawings'));
  expect(drawings).toContain('D-001  ·  2 penetrations');
  expect(sheet('Drawings').getImages()).toHaveLength(4);
});

test('changes have their rows, with links and a sum of what they add', async () => {
  const change = {
    tag: 'L01-0001',
    kind: 'resized',
    before: 'opening, 150 dia, 200 thick',
    after: 'opening, 200 dia, 200 thick',
    because: 'the same opening id',
    sealantDifferenceMl: 275,
    fillerDifference: { '25/17': 4, '18/10': -2 },
  } as const;
  const removed = {
    ...change,
    tag: 'L01-0099',
    kind: 'removed',
    sealantDifferenceMl: -75,
  } as const;
  const changed = await readBack(await write(makeIssue({ changes: [change, removed] })));
  const changes = changed.getWorksheet('Changes');
  const texts = changes === undefined ? [] : allTexts(changes);
  expect(texts).toContain('25/17: 4 more; 18/10: 2 less');
  expect(changes?.getCell('F3').value).toEqual({ formula: 'SUBTOTAL(109,F6:F7)', result: 200 });
  expect(changes?.getCell('A6').font.underline).toBe(true);
  expect(changes?.getCell('A7').font.underline).toBeFalsy();
  const register = changed.getWorksheet('Register');
  expect(register && allTexts(register)).toContain('resized');
});

test('what people decided stands in their columns again', async () => {
  const [id, tag] = [...makeIssue().tags][0] ?? ['', ''];
  const facts = {
    kind: 'opening',
    level: null,
    centreMm: [0, 0, 0],
    thicknessMm: 200,
    shape: null,
    services: [],
    cables: [],
    duties: [],
    design: [],
    sealantMl: 0,
    fillers: {},
  } satisfies RegisterRecord['issued']['facts'];
  const record: RegisterRecord = {
    tag,
    state: 'live',
    id,
    hostIds: [],
    openingIds: [],
    serviceIds: [],
    firstIn: 'A',
    retiredIn: null,
    issued: { revision: 'B', facts },
    before: { revision: 'A', facts },
    seals: [],
    asBuilt: {},
    history: [{ revision: 'A', text: 'first found' }],
  };
  const again = await readBack(
    await write(
      makeIssue({
        records: new Map([[tag, record]]),
        changes: [],
        decisions: [decided(tag, 'review', 'hold'), decided(tag, 'remarks', '=not a formula')],
      }),
    ),
  );
  const register = again.getWorksheet('Register');
  expect(register?.getCell(6, columnOf('Register', 'Decision')).value).toBe('hold');
  expect(register?.getCell(6, columnOf('Register', 'Remarks')).value).toBe('=not a formula');
  expect(register?.getCell(6, columnOf('Register', 'Why changed')).value).toBe('first found');
  const changes = again.getWorksheet('Changes');
  expect(changes && allTexts(changes).join('\n')).toContain('Nothing has changed since revision A');
});

test('take-off: lengths alike are one line, hours have theirs, and the costs add up', async () => {
  const base = makeIssue();
  const filler = { area: 'Pit', filler: '25/17', whole: 3, split: 1, packs: 1 };
  const takeOff = {
    ...base.takeOff,
    fillers: [
      { ...filler, lengthMm: 109.999_999_9 },
      { ...filler, lengthMm: 110 },
    ],
    labour: [{ area: 'Pit', name: 'sealing', hours: 4.25 }],
    notCounted: 2,
  };
  const priced = await readBack(await write({ ...base, takeOff }));
  const sheetTexts = priced.getWorksheet('Take-off');
  const texts = sheetTexts === undefined ? [] : allTexts(sheetTexts);
  expect(texts).toContain('6 whole, 2 split over a cable; 110 mm long');
  expect(texts).toContain('sealing');
  expect(texts.join('\n')).toContain('NOT COUNTED: 2 seals wait for an answer');
  // 2 × (4 × 16.25 + 1 × 9.5) + 9 nozzles of 0.80, by hand; fillers and hours have no price.
  const total = [...texts].reverse().find((text) => /^\d+(\.\d+)?$/.test(text));
  expect(Number(total)).toBeCloseTo(156.2, 9);
});

test('a workbook of one area holds what lies there, and no more', async () => {
  const pit = await readBack(
    await writeWorkbook(makeIssue(), { svgToPng, part: { name: 'Pit', areas: new Set(['Pit']) } }),
  );
  const register = pit.getWorksheet('Register');
  expect(register?.getCell('A6').text).toBe('L01-0004');
  expect(register?.rowCount).toBe(6);
  const front = pit.getWorksheet('Front');
  expect(front && allTexts(front).join('\n')).toContain('only: Pit');
  expect(front && allTexts(front)).not.toContain('DOES NOT ADD UP');
  const takeOff = pit.getWorksheet('Take-off');
  expect(takeOff && allTexts(takeOff)).not.toContain('Level 01');
  const cables = pit.getWorksheet('Cables');
  expect(cables?.rowCount).toBe(6);
});

test('packages and levels get workbooks under names of their own', () => {
  const issue = makeIssue();
  const outputs = {
    ...issue.settings.outputs,
    workbookPerLevel: true,
    packages: { pit: ['P*'], 'All of it': ['*'] },
  };
  const parts = workbookParts({ ...issue, settings: { ...issue.settings, outputs } });
  expect(parts.map(({ file, areas }) => [file, [...areas]])).toEqual([
    ['sealbook-pit.xlsx', ['Pit']],
    ['sealbook-All-of-it.xlsx', ['Level 01', 'Pit']],
    ['sealbook-Level-01.xlsx', ['Level 01']],
    ['sealbook-Pit-2.xlsx', ['Pit']],
  ]);
});

test('the areas of an issue are its levels', () => {
  expect(areasOf(makeIssue())).toEqual(['Level 01', 'Pit']);
});

test('the take-off sums the seals live where it agrees with them, else keeps its number', async () => {
  const issue = makeIssue();
  const measured = issue.seals.filter(
    ({ state, sealant, penetrationId }) =>
      state === 'designed' && sealant !== null && penetrationId !== 'pen-4',
  );
  const netMl = measured.reduce((total, { sealant }) => total + (sealant?.netMl ?? 0), 0);
  const grossMl = measured.reduce(
    (total, { sealant }) => total + (sealant?.withAllowancesMl ?? 0),
    0,
  );
  const [first, second] = issue.takeOff.sealants;
  if (first === undefined || second === undefined) throw new Error('no take-off');
  const agreeing = { ...first, netMl, allowancesMl: grossMl - netMl };
  const takeOff = { ...issue.takeOff, sealants: [agreeing, second] };
  const live = (await readBack(await write({ ...issue, takeOff }))).getWorksheet('Take-off');
  expect(live?.getCell('E6').formula).toMatch(/^SUMPRODUCT\(\('Quantities'!/);
  expect(live?.getCell('E6').result).toBeCloseTo(netMl, 9);
  // The maker's figure for the pit is not what its seals sum to.
  expect(live?.getCell('A9').value).toBe('Pit');
  expect(live?.getCell('E9').value).toBe(288.9);
});
