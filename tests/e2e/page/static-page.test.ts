import { execFileSync } from 'node:child_process';
import { mkdtempSync, rmSync } from 'node:fs';
import os from 'node:os';
import path from 'node:path';
import { pathToFileURL } from 'node:url';
import type { Browser, Page } from 'playwright-core';
import { afterAll, beforeAll, expect } from 'vitest';
import { hasOutside, PYTHON, repoRoot, testWith } from '../../set-up/outside.ts';
import { expectAccessible, openBrowser, watchedPage } from './browser.ts';
import { droppedSample } from './open-sample.ts';
import { serveStatic } from './static-server.ts';

let browser: Browser;
let host: Awaited<ReturnType<typeof serveStatic>>;
beforeAll(async () => {
  if (!hasOutside('chromium')) return;
  browser = await openBrowser();
  host = await serveStatic();
});
afterAll(async () => {
  await browser?.close();
  host?.close();
});

const WORKED_OUT_MS = 90_000;

/** Gives files to the page as if they were dropped on it. */
async function give(page: Page, files = droppedSample()): Promise<void> {
  await page.setInputFiles(
    '#files',
    files.map(({ name, bytes }) => ({
      name,
      mimeType: 'application/octet-stream',
      buffer: Buffer.from(bytes),
    })),
  );
}

async function decided(page: Page): Promise<string[]> {
  await page.waitForSelector('.row', { timeout: WORKED_OUT_MS });
  return page.locator('.row .reviewed').allTextContents();
}

testWith(
  ['chromium', 'openpyxl'],
  'dropped files are worked on in the tab: list, decision, reload in the middle, workbook that openpyxl reads',
  async () => {
    const { page, elsewhere, errors } = await watchedPage(browser, { acceptDownloads: true });
    await page.goto(host.url);
    await expectAccessible(page);
    await give(page);
    await page.waitForSelector('#stop');
    expect(await decided(page)).toEqual([]);
    await page.click('.row >> nth=0');
    const tag = (await page.textContent('#detail-tag')) ?? '';
    await page.click('#review-hold');
    await page.waitForSelector('.row .reviewed');
    await page.reload();
    await give(page);
    expect(await decided(page)).toEqual(['on hold']);
    await page.click('#view-files');
    await page.click('#make-files');
    const wanted = page.locator('.files button', { hasText: /sealbook\.xlsx$/ });
    await wanted.waitFor({ timeout: WORKED_OUT_MS });
    const [download] = await Promise.all([page.waitForEvent('download'), wanted.click()]);
    const folder = mkdtempSync(path.join(os.tmpdir(), 'sealbook-taken-'));
    const file = path.join(folder, download.suggestedFilename());
    await download.saveAs(file);
    const script = `
import openpyxl, sys
book = openpyxl.load_workbook(sys.argv[1])
cells = [str(c.value) for row in book['Register'].iter_rows() for c in row]
print(len(book.sheetnames), sys.argv[2] in cells, 'hold' in cells, sum(len(s._images) for s in book))
`;
    const read = execFileSync(PYTHON, ['-c', script, file, tag], { encoding: 'utf8' }).split(' ');
    rmSync(folder, { recursive: true, force: true });
    expect(Number(read[0])).toBeGreaterThan(5);
    expect(read.slice(1, 3)).toEqual(['True', 'True']);
    // Drawings of the seals are in it, drawn by the browser.
    expect(Number(read[3])).toBeGreaterThan(10);
    expect([elsewhere, errors]).toEqual([[], []]);
    await page.close();
  },
  240_000,
);

testWith(['chromium'], 'work in the tab can be stopped, and begun again', async () => {
  const { page } = await watchedPage(browser);
  await page.goto(host.url);
  await give(page);
  await page.click('#stop');
  await page.waitForFunction(() =>
    document.getElementById('note')?.textContent?.startsWith('Stopped'),
  );
  await page.click('#sample-files');
  expect(await decided(page)).toEqual([]);
  await page.close();
});

testWith(['chromium'], 'a worker that crashes is told, and loses no decision', async () => {
  const { page } = await watchedPage(browser);
  // A hook to end the worker from the test, as a lack of memory would.
  await page.addInitScript(() => {
    const Plain = Worker;
    const kept: Worker[] = [];
    Object.assign(globalThis, {
      kept,
      Worker: class extends Plain {
        constructor(...given: ConstructorParameters<typeof Worker>) {
          super(...given);
          kept.push(this);
        }
      },
    });
  });
  await page.goto(host.url);
  await give(page);
  await page.waitForSelector('.row', { timeout: WORKED_OUT_MS });
  await page.click('.row >> nth=1');
  await page.click('#review-accept');
  await page.waitForSelector('.row .reviewed');
  await page.evaluate(() => {
    const { kept } = globalThis as unknown as { kept: Worker[] };
    kept[0]?.dispatchEvent(new ErrorEvent('error', { message: 'out of memory' }));
  });
  await page.click('#review-hold');
  await page.waitForFunction(() =>
    document.getElementById('note')?.textContent?.includes('Drop the files again'),
  );
  await page.reload();
  await give(page);
  expect(await decided(page)).toEqual(['accepted']);
  await page.close();
});

testWith(['chromium'], 'names that are markup, right to left or very long are text', async () => {
  const hostile = '<img src=x onerror="document.title=1">';
  const long = 'x'.repeat(20_000);
  const rows = [
    'Reference,Diameter,Route',
    `"${hostile.replaceAll('"', '""')}",12,D-06`,
    `"\u202Eevil\u202C",10,D-06`,
    `${long},9,D-06`,
    '=HYPERLINK("http://elsewhere.example"),9,D-06',
  ].join('\n');
  const files = droppedSample()
    .filter(({ name }) => name !== 'cable-schedule.xlsx' && name !== 'project.yaml')
    .concat([{ name: 'cables.csv', bytes: new TextEncoder().encode(rows) }]);
  const { page, elsewhere, errors } = await watchedPage(browser);
  await page.goto(host.url);
  await give(page, files);
  await page.waitForSelector('.row', { timeout: WORKED_OUT_MS });
  await page.fill('#search', 'onerror');
  await page.waitForTimeout(300);
  expect(await page.locator('.row').count()).toBeGreaterThan(0);
  await page.click('.row >> nth=0');
  await page.click('#tab-reasons');
  await page.waitForSelector('.cables');
  expect(await page.textContent('.cables')).toContain(hostile);
  await page.fill('#search', '');
  await page.click('#view-queries');
  await page.waitForSelector('.query');
  expect(await page.locator('#detail img, #list img').count()).toBe(0);
  expect(await page.title()).not.toBe('1');
  const overflow = await page.evaluate(
    () => document.documentElement.scrollWidth - document.documentElement.clientWidth,
  );
  expect(overflow).toBeLessThanOrEqual(0);
  expect([elsewhere, errors]).toEqual([[], []]);
  await page.close();
});

testWith(
  ['chromium'],
  'files that can not be worked on are named, and the page stays usable',
  async () => {
    const { page } = await watchedPage(browser);
    await page.goto(host.url);
    await give(page, [{ name: 'drawing.dwg', bytes: new Uint8Array([1, 2, 3]) }]);
    await page.waitForFunction(() =>
      document.getElementById('note')?.textContent?.includes('drawing.dwg'),
    );
    await page.waitForSelector('#sample-files');
    await page.close();
  },
);

testWith(['chromium'], 'opened straight from disk the page says what to do', async () => {
  const page = await browser.newPage();
  await page.goto(pathToFileURL(path.join(repoRoot, 'dist/page/index.html')).href);
  // Browsers do not load modules from disk, so the shell itself must say it.
  expect(await page.textContent('body')).toContain('sealbook page');
  await page.close();
});
