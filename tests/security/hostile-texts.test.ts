import { execFileSync, spawnSync } from 'node:child_process';
import {
  mkdirSync,
  mkdtempSync,
  readdirSync,
  readFileSync,
  rmSync,
  symlinkSync,
  writeFileSync,
} from 'node:fs';
import os from 'node:os';
import path from 'node:path';
import { unzipSync } from 'fflate';
import { SaxesParser } from 'saxes';
import { afterAll, beforeAll, expect, test } from 'vitest';
import { PYTHON, repoRoot, testWith } from '../set-up/outside.ts';

const line = (layer: string, x1: number, y1: number, x2: number, y2: number) =>
  `0\nLINE\n8\n${layer}\n10\n${x1}\n20\n${y1}\n11\n${x2}\n21\n${y2}\n`;
const text = (words: string, x: number, y: number) =>
  `0\nTEXT\n8\nE-TEXT\n10\n${x}\n20\n${y}\n40\n100\n1\n${words}\n`;

/** What strangers may write where a name is expected. */
const MARKUP = '<script>alert(1)</script><img src=x onerror=alert(2)>';
const FORMULA = '=HYPERLINK("http://elsewhere.example","x")';
const CLIMB = '../../../escaped';
const POLLUTE = '__proto__';

let folder: string;
let project: string;
let out: string;
let run: ReturnType<typeof spawnSync>;
beforeAll(() => {
  folder = mkdtempSync(path.join(os.tmpdir(), 'sealbook-hostile-'));
  project = path.join(folder, 'project');
  out = path.join(project, 'out');
  mkdirSync(project);
  const walls = line('A-WALL', 0, 0, 9000, 0) + line('A-WALL', 0, 200, 9000, 200);
  const services = [MARKUP, FORMULA, CLIMB, POLLUTE].map((name, at) => {
    const x = 1000 + at * 2000;
    return line('E-CONDUIT', x, -1500, x, 1700) + text(`${name} 50 mm`, x + 60, -800);
  });
  writeFileSync(
    path.join(project, 'plan.dxf'),
    `0\nSECTION\n2\nHEADER\n9\n$ACADVER\n1\nAC1009\n0\nENDSEC\n0\nSECTION\n2\nENTITIES\n${walls}${services.join('')}0\nENDSEC\n0\nEOF\n`,
  );
  writeFileSync(
    path.join(project, 'cables.csv'),
    [
      `Reference;Diameter mm;Route;${POLLUTE};constructor`,
      `${FORMULA};12;${CLIMB};{"polluted":true};x`,
      `${MARKUP};12;${MARKUP};1;y`,
      `@SUM(A1);12;${POLLUTE};2;z`,
      '+1+1;10;nowhere;3;w',
    ].join('\n'),
  );
  writeFileSync(
    path.join(project, 'project.yaml'),
    [
      `project: {name: ${JSON.stringify(MARKUP)}}`,
      'files:',
      '  plan:',
      '    path: plan.dxf',
      '    kind: dxf',
      '    units: mm',
      `    views: [{view: plan, level: ${JSON.stringify(CLIMB)}, elevationMm: 0}]`,
      '  cables: {path: cables.csv, kind: schedule}',
      'design: {effort: quick}',
      'outputs: {tables: true, workbookPerLevel: true}',
    ].join('\n'),
  );
  run = spawnSync(process.execPath, [path.join(repoRoot, 'dist/cli/main.js'), 'run', project], {
    encoding: 'utf8',
  });
});
afterAll(() => rmSync(folder, { recursive: true, force: true }));

const files = (ending: string) => readdirSync(out).filter((name) => name.endsWith(ending));
const read = (name: string) => readFileSync(path.join(out, name), 'utf8');

test('the run ends well, and every output lies in its folder under a plain name', () => {
  expect([run.status, run.stderr]).toEqual([0, '']);
  expect(readdirSync(folder)).toEqual(['project']);
  expect(readdirSync(project).sort()).toEqual([
    ...['cables.csv', 'out', 'plan.dxf', 'project.yaml', 'register.jsonl'],
  ]);
  for (const name of readdirSync(out)) expect(name).toMatch(/^[\p{L}\p{N}][\p{L}\p{N}._-]*$/u);
  expect(files('.xlsx').length).toBe(2);
});

test('pages hold no markup that was not ours', () => {
  const pages = files('.html').map(read);
  expect(pages.join('')).toContain('&lt;script&gt;');
  for (const page of pages) {
    expect(page).not.toMatch(/<script|<img[^>]*onerror|javascript:/i);
    // Nothing is fetched from anywhere.
    expect(page).not.toMatch(/(?:src|href)="?(?:https?:)?\/\//i);
  }
});

test('every part of the BCF archive and the workbooks is XML without surprises, under its own name', () => {
  for (const name of [...files('.bcf'), ...files('.xlsx')]) {
    const parts = unzipSync(new Uint8Array(readFileSync(path.join(out, name))));
    for (const [part, bytes] of Object.entries(parts)) {
      expect(part).not.toMatch(/\.\.|^[/\\]/);
      if (!/\.(xml|rels|bcf|bcfv|version)$/.test(part)) continue;
      const names = new Set<string>();
      const parser = new SaxesParser();
      parser.on('error', (error) => {
        throw error;
      });
      parser.on('opentag', (tag) => names.add(tag.name));
      parser.on('doctype', () => {
        throw new Error('a document type');
      });
      parser.write(new TextDecoder().decode(bytes)).close();
      expect([...names].filter((each) => /^(script|img)$/i.test(each))).toEqual([]);
    }
  }
});

testWith(['openpyxl'], 'no text of the inputs is a formula in any workbook', () => {
  const script = `
import openpyxl, sys
found = set()
for file in sys.argv[1:]:
    for sheet in openpyxl.load_workbook(file):
        for row in sheet.iter_rows():
            for cell in row:
                value = cell.value
                if isinstance(value, str) and ('elsewhere.example' in value or value.startswith(('@SUM', '+1+1'))):
                    found.add(cell.data_type)
        if sheet._hyperlinks and any('elsewhere' in (link.target or '') for link in sheet._hyperlinks):
            found.add('link')
print(sorted(found))
`;
  const paths = files('.xlsx').map((name) => path.join(out, name));
  const types = execFileSync(PYTHON, ['-c', script, ...paths], { encoding: 'utf8' });
  expect(types.trim()).toBe("['s']");
});

test('CSV cells that a spreadsheet would work out begin with an apostrophe or a letter', () => {
  for (const name of files('.csv')) {
    for (const cell of read(name).split(/[\r\n,]+/)) {
      expect(cell.replace(/^"/, '')).not.toMatch(/^(?:[=@]|\+(?![\d.\s]))/);
    }
  }
});

test('names of prototypes are names', () => {
  const result = JSON.parse(read('result.json')) as object;
  expect(JSON.stringify(result)).toContain(POLLUTE);
  expect(({} as { polluted?: unknown }).polluted).toBeUndefined();
  expect(Object.getPrototypeOf(result)).toBe(Object.prototype);
});

test('a link in the place of an output or of a part is replaced, and what it leads to stays', () => {
  const victim = path.join(folder, 'victim.txt');
  writeFileSync(victim, 'mine');
  const other = path.join(project, 'linked');
  mkdirSync(other);
  symlinkSync(victim, path.join(other, 'result.json'));
  const main = path.join(repoRoot, 'dist/cli/main.js');
  const again = spawnSync(process.execPath, [main, 'run', project, '--out', other], {
    encoding: 'utf8',
  });
  expect(again.status).toBe(0);
  expect(readFileSync(victim, 'utf8')).toBe('mine');
  rmSync(victim);
  rmSync(other, { recursive: true });
});
