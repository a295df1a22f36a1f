import { createHash } from 'node:crypto';
import { cpSync, mkdtempSync, readdirSync, readFileSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import path from 'node:path';
import { beforeEach, describe, expect, test } from 'vitest';
import { repoRoot } from '../set-up/outside.ts';
import { sealbook } from './command-line.ts';

let folder = '';
beforeEach(() => {
  folder = mkdtempSync(path.join(tmpdir(), 'sealbook-e2e-'));
});

const put = (name: string, content: string | Uint8Array): string => {
  const file = path.join(folder, name);
  writeFileSync(file, content);
  return file;
};
const models = path.join(repoRoot, 'samples/pumping-station');

describe('what goes wrong is said with file and place, and nothing is half written', () => {
  const out = () => path.join(folder, 'out');
  const nothingWritten = () => expect(readdirSync(folder)).not.toContain('out');

  test.each([
    { name: 'empty model', file: 'a.ifc', content: '', says: 'a.ifc' },
    { name: 'model that is not STEP', file: 'a.ifc', content: 'hello', says: 'a.ifc' },
    { name: 'empty drawing', file: 'a.dxf', content: '', says: 'a.dxf' },
    { name: 'drawing that is not DXF', file: 'a.dxf', content: 'hello\n', says: 'a.dxf' },
    {
      name: 'binary drawing',
      file: 'a.dxf',
      content: 'AutoCAD Binary DXF\r\n\u001a\0',
      says: 'ASCII',
    },
    { name: 'empty schedule', file: 'a.csv', content: '', says: 'a.csv' },
    { name: 'workbook that is none', file: 'a.xlsx', content: 'PK but no zip', says: 'a.xlsx' },
    { name: 'missing column', file: 'a.csv', content: 'Colour,Mood\nred,good\n', says: 'a.csv' },
  ])('$name: exit code 3', ({ file, content, says }) => {
    const { exitCode, stderr, stdout } = sealbook(['run', put(file, content), '--out', out()]);
    expect(stderr).toContain(says);
    expect(stdout).toBe('');
    expect(exitCode).toBe(3);
    nothingWritten();
  });

  test('missing file: exit code 3', () => {
    const { exitCode, stderr } = sealbook(['run', path.join(folder, 'none.ifc'), '--out', out()]);
    expect(exitCode).toBe(3);
    expect(stderr).toContain('none.ifc');
    nothingWritten();
  });

  test('unknown setting: exit code 2, with file, line and what is allowed', () => {
    const project = put('project.yaml', 'project:\n  name: X\ndesign:\n  setback: 20\n');
    const { exitCode, stderr } = sealbook(['run', project, '--out', out()]);
    expect(exitCode).toBe(2);
    expect(stderr).toContain('project.yaml, line 4: design.setback is not a setting');
    expect(stderr).toContain('setBackMm');
    nothingWritten();
  });

  test('range with a bore larger than its outside: exit code 2', () => {
    const range = put(
      'range.yaml',
      'name: R\nfillers:\n  - { name: F, outsideMm: 20, boreMm: 25, lengthMm: 100, source: x }\nsealants:\n  - { name: S, containers: [{ sizeMl: 310 }], source: x }\n',
    );
    const { exitCode, stderr } = sealbook(['size', '150', '--range', range]);
    expect(exitCode).toBe(2);
    expect(stderr).toContain('range.yaml');
    expect(stderr).toContain('bore');
  });

  test('a kind of file that is not read: exit code 2 with advice', () => {
    const { exitCode, stderr } = sealbook(['run', put('a.dwg', 'AC1032'), '--out', out()]);
    expect(exitCode).toBe(2);
    expect(stderr).toContain('DXF');
  });

  test.each([
    [['size', 'abc']],
    [['size']],
    [['size', '150', '--cables', '3x']],
    [['nonsense']],
    [['size', '150', '--edge', '-1']],
  ])('words that make no sense %j: exit code 2', (args) => {
    expect(sealbook(args).exitCode).toBe(2);
  });

  test('with --keep-going the other files are used and the lost one is a query that stops', () => {
    const { exitCode, stdout } = sealbook([
      'run',
      put('broken.ifc', 'hello'),
      path.join(repoRoot, 'samples/valve-chamber/annex-2x3.ifc'),
      '--out',
      out(),
      '--keep-going',
      '--fail-on',
      'stop',
      '--json',
    ]);
    expect(exitCode).toBe(1);
    const { summary } = JSON.parse(stdout);
    expect(summary.penetrations.total).toBeGreaterThan(0);
    const result = JSON.parse(readFileSync(path.join(out(), 'result.json'), 'utf8'));
    expect(result.queries.map((query: { code: string }) => query.code)).toContain('file-not-read');
  });
});

describe('size', () => {
  const json = (...args: string[]) => {
    const { exitCode, stdout } = sealbook(['size', ...args, '--json']);
    expect(exitCode).toBe(0);
    return JSON.parse(stdout);
  };

  test('three cables of 37 mm in a duct of 150 mm', () => {
    const seal = json('150', '--cables', '3x37', '--separation', '4', '--edge', '4');
    // geometry-pins.json, duct150-3x37-*: π·150²/4 − 3·π·37²/4; 20 mm deep.
    expect(seal.freeAreaMm2).toBeCloseTo(14445.83, 1);
    expect(seal.sealant.perFaceMl).toBeCloseTo(288.92, 1);
    // takeoff-cases.json: two cartridges of 310 ml with the usual allowances.
    expect(seal.sealant.containers).toEqual([{ sizeMl: 310, count: 2 }]);
    // Equal gaps between three cables and to the wall: 37 + 2(37 + g)/√3 + 2g = 150.
    expect(seal.arrangement.verdict).toBe('fits');
    expect(seal.arrangement.gapMm).toBeGreaterThan(22.2766);
    expect(seal.arrangement.gapMm).toBeLessThanOrEqual(
      (150 - 37 - 74 / Math.sqrt(3)) / (2 + 2 / Math.sqrt(3)),
    );
  });

  test('what can not fit is an answer, not a failure', () => {
    expect(json('50', '--cables', '3x30').arrangement).toMatchObject({
      verdict: 'cannot fit',
      gapMm: null,
    });
  });

  test('an opening from a file, drawn as SVG and PNG', () => {
    const from = put(
      'slot.yaml',
      'opening: { type: slot, lengthMm: 300, widthMm: 120 }\ncables: [{ diameterMm: 37, count: 3 }]\n',
    );
    const drawings = ['s.svg', 's.png'].flatMap((name) => ['--drawing', path.join(folder, name)]);
    const { exitCode } = sealbook(['size', '--from', from, ...drawings]);
    expect(exitCode).toBe(0);
    expect(readFileSync(path.join(folder, 's.svg'), 'utf8')).toContain('<svg');
    expect(readFileSync(path.join(folder, 's.png')).subarray(1, 4).toString()).toBe('PNG');
  });

  test('a drawing never replaces the file it was made from', () => {
    const from = put('slot.svg', 'opening: { type: circle, diameterMm: 100 }\n');
    expect(sealbook(['size', '--from', from, '--drawing', from]).exitCode).toBe(3);
    expect(readFileSync(from, 'utf8')).toContain('circle');
  });

  test('a summary for people names verdict, materials and the caution', () => {
    const { stdout } = sealbook(['size', '150', '--cables', '3x37,12']);
    expect(stdout).toContain('fits');
    expect(stdout).toContain('2 × 310 ml');
    expect(stdout).toContain('not a certificate');
    expect(stdout).not.toMatch(/\b(compliant|safe)\b/i);
  });

  test('an opening file that says what is asked of the seal has it checked, and both faces counted', () => {
    const file = path.join(folder, 'duct.yaml');
    writeFileSync(
      file,
      `opening: { type: circle, diameterMm: 150 }
cables: [{ diameterMm: 37, count: 3 }]
thicknessMm: 250
substrate: concrete
duties: [{ duty: water, headM: 5, side: far }]
design: { faces: 2 }
`,
    );
    const { stdout } = sealbook(['size', '--from', file, '--json']);
    const seal = JSON.parse(stdout);
    // 5 m of water: 49.05 kPa, 866.8 N on a disc of 150 mm; hydrostatics, worked by hand.
    const check = (name: string) =>
      seal.checks.find((each: { name: string }) => each.name === name)?.value;
    expect(check('water pressure')).toBeCloseTo(49.05, 2);
    expect(check('water thrust')).toBeCloseTo(866.8, 1);
    expect(seal.sealant.netMl).toBeCloseTo(2 * seal.sealant.perFaceMl, 1);
    expect(seal.takeOff.consumables.length).toBeGreaterThan(0);
    expect(seal.sample).toBe(true);
    expect(seal.caution).toContain('not a certificate');
  });
});

describe('run', () => {
  test('a dry run says what would be written and writes nothing', () => {
    const out = path.join(folder, 'out');
    const model = path.join(models, 'architecture.ifc');
    const { exitCode, stdout } = sealbook(['run', model, '--out', out, '--dry-run']);
    expect(exitCode).toBe(0);
    expect(stdout).toContain('sealbook.xlsx');
    expect(readdirSync(folder)).toEqual([]);
  });

  test('look tells what is in each kind of file', () => {
    const files = ['architecture.ifc', 'plan.dxf', 'cable-schedule.xlsx'];
    const { exitCode, stdout } = sealbook([
      'look',
      '--json',
      ...files.map((file) => path.join(models, file)),
    ]);
    expect(exitCode).toBe(0);
    const reports = JSON.parse(stdout);
    expect(reports.map((report: { kind: string }) => report.kind)).toEqual([
      'ifc',
      'dxf',
      'schedule',
    ]);
  });

  test('new drafts a project that run can read', () => {
    const project = path.join(folder, 'project');
    const made = sealbook([
      'new',
      project,
      path.join(models, 'plan.dxf'),
      path.join(models, 'services.ifc'),
    ]);
    expect(made.exitCode).toBe(0);
    const { exitCode, stderr } = sealbook(['run', project, '--dry-run']);
    expect(stderr).toBe('');
    expect(exitCode).toBe(0);
    expect(sealbook(['new', project, path.join(models, 'plan.dxf')]).exitCode).toBe(2);
  });
});

describe('a run on a sample project', () => {
  const project = () => {
    const copy = path.join(folder, 'project');
    cpSync(path.join(repoRoot, 'samples/valve-chamber'), copy, {
      recursive: true,
      filter: (file) => !/register|[/\\]out([/\\]|$)/.test(path.relative(repoRoot, file)),
    });
    return copy;
  };
  const hashes = (dir: string) =>
    Object.fromEntries(
      readdirSync(dir)
        .sort()
        .map((name) => [
          name,
          createHash('sha256')
            .update(readFileSync(path.join(dir, name)))
            .digest('hex'),
        ]),
    );

  test('gives the same bytes every time, keeps its tags, and says that nothing changed', () => {
    const copy = project();
    const [first, second] = [path.join(folder, 'a'), path.join(folder, 'b')];
    expect(sealbook(['run', copy, '--out', first]).exitCode).toBe(0);
    expect(sealbook(['run', copy, '--out', second]).exitCode).toBe(0);
    expect(hashes(second)).toEqual(hashes(first));
    expect(sealbook(['compare', first, second]).stdout.trim()).toBe('No changes.');
  });

  test('states the inputs as they were, and untags to their very bytes', () => {
    const copy = project();
    const out = path.join(folder, 'out');
    expect(sealbook(['run', copy, '--out', out]).exitCode).toBe(0);
    const result = JSON.parse(readFileSync(path.join(out, 'result.json'), 'utf8'));
    const inputs = hashes(copy);
    for (const { file, sha256 } of result.inputs) expect(sha256).toBe(inputs[file]);
    const plain = path.join(folder, 'plain.ifc');
    const tagged = path.join(out, 'annex-2x3-tagged.ifc');
    expect(sealbook(['untag', tagged, '--out', plain]).exitCode).toBe(0);
    expect(readFileSync(plain)).toEqual(readFileSync(path.join(copy, 'annex-2x3.ifc')));
  });

  test('a later cable is answered from the register, recorded, and told apart from an unknown tag', () => {
    const copy = project();
    sealbook(['run', copy, '--out', path.join(folder, 'out')]);
    const result = JSON.parse(readFileSync(path.join(folder, 'out', 'result.json'), 'utf8'));
    const [{ tag }] = result.penetrations;
    const ask = (...more: string[]) =>
      sealbook(['extra', tag, '--od', '9', '--register', copy, ...more]);
    expect(ask().stdout).toContain('one more cable of 9 mm');
    const { ways } = JSON.parse(ask('--json').stdout);
    expect(ways.length).toBeGreaterThan(0);
    const { exitCode } = sealbook(['extra', 'NONE-1', '--od', '9', '--register', copy]);
    expect(exitCode).toBe(2);
  });
});
