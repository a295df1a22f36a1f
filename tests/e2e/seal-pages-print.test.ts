import { execFileSync } from 'node:child_process';
import { mkdtempSync, readdirSync, rmSync, writeFileSync } from 'node:fs';
import os from 'node:os';
import path from 'node:path';
import { pathToFileURL } from 'node:url';
import { expect } from 'vitest';
import { takeOff } from '../../src/design/take-off.ts';
import { writeSealPages } from '../../src/write/seal-pages/write-seal-pages.ts';
import { makeIssue } from '../makers/issue/make-issue.ts';
import { testWith } from '../set-up/outside.ts';

const issue = makeIssue();
const files = writeSealPages(issue, (seal) => takeOff([seal], [], issue.range, issue.settings));

/** Prints a file by Chromium, and gives the folder's PDF to `use`. */
function printed<T>(name: string, use: (pdf: string, folder: string) => T): T {
  const folder = mkdtempSync(path.join(os.tmpdir(), 'sealbook-pages-'));
  try {
    const html = path.join(folder, 'page.html');
    const pdf = path.join(folder, 'page.pdf');
    writeFileSync(html, files.find((file) => file.name === name)?.text ?? '');
    execFileSync(
      '/usr/bin/chromium',
      [
        '--headless',
        '--no-sandbox',
        '--disable-gpu',
        '--no-first-run',
        '--disable-background-networking',
        '--disable-component-update',
        '--disable-sync',
        `--user-data-dir=${path.join(folder, 'profile')}`,
        '--no-pdf-header-footer',
        `--print-to-pdf=${pdf}`,
        pathToFileURL(html).href,
      ],
      { stdio: 'ignore', timeout: 60_000 },
    );
    return use(pdf, folder);
  } finally {
    rmSync(folder, { recursive: true, force: true });
  }
}

testWith(['chromium', 'xmllint'], 'each sheet of paper bears the tag, project and caution', () => {
  const pages = printed('seal-pages-Level-01.html', (pdf) =>
    execFileSync('pdftotext', ['-layout', pdf, '-'], { encoding: 'utf8' }).split('\f').slice(0, -1),
  );
  const [contents, ...sheets] = pages;
  expect(contents).toContain('Seal pages, Level 01');
  const seals = issue.seals.filter(
    ({ state, penetrationId }) => state !== 'none' && penetrationId !== 'pen-4',
  );
  // Front and back for each.
  expect(sheets.length).toBeGreaterThanOrEqual(seals.length);
  expect(sheets.length).toBeLessThanOrEqual(2 * seals.length);
  for (const sheet of sheets) {
    expect(sheet).toMatch(/^\s*L01-\d{4}/);
    expect(sheet).toContain('revision B');
    expect(sheet).toContain('Design aid, not a certificate.');
  }
});

testWith(['chromium', 'xmllint', 'zbarimg'], 'the codes on labels and pages give the tag', () => {
  const decoded = (name: string, fromPage: number) =>
    printed(name, (pdf, folder) => {
      const first = ['-f', String(fromPage)];
      execFileSync('pdftoppm', ['-r', '200', ...first, '-png', pdf, path.join(folder, 'sheet')]);
      const pictures = readdirSync(folder)
        .filter((each) => each.endsWith('.png'))
        .map((each) => path.join(folder, each));
      const text = execFileSync('zbarimg', ['--quiet', '--raw', ...pictures], {
        encoding: 'utf8',
        stdio: ['ignore', 'pipe', 'ignore'],
      });
      return text.trim().split('\n').sort();
    });
  const toBuild = issue.seals.filter(({ state }) => state === 'designed');
  const labels = toBuild.flatMap(({ penetrationId, faces }) =>
    Array.from({ length: faces }, () => issue.tags.get(penetrationId) ?? ''),
  );
  expect(decoded('seal-labels.html', 1)).toEqual(labels.sort());
  expect(new Set(decoded('seal-pages-Level-01.html', 2))).toEqual(
    new Set(['L01-0001', 'L01-0002', 'L01-0003']),
  );
});
