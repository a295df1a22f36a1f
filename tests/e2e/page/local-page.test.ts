import { readFileSync } from 'node:fs';
import path from 'node:path';
import type { Browser, Page } from 'playwright-core';
import { afterAll, beforeAll, expect } from 'vitest';
import { hasOutside, testWith } from '../../set-up/outside.ts';
import { expectAccessible, openBrowser, watchedPage } from './browser.ts';
import { SAMPLE_FOLDER } from './open-sample.ts';
import { type RunningPage, runPage } from './page-server.ts';

let browser: Browser;
let running: RunningPage;
beforeAll(async () => {
  if (!hasOutside('chromium')) return;
  browser = await openBrowser();
  running = await runPage(SAMPLE_FOLDER);
});
afterAll(async () => {
  await browser?.close();
  await running?.stop();
});

const register = () => readFileSync(path.join(running.folder, 'register.jsonl'), 'utf8');

async function open(options = {}) {
  const watched = await watchedPage(browser, options);
  await watched.page.goto(running.url);
  await watched.page.waitForSelector('.row');
  return watched;
}

async function note(page: Page, text: string): Promise<void> {
  await page.waitForFunction(
    (wanted) => document.getElementById('note')?.textContent?.includes(wanted),
    text,
  );
}

testWith(
  ['chromium'],
  'a penetration is accepted by a press, kept at once, undone and done again',
  async () => {
    const { page, elsewhere, errors } = await open();
    await page.click('.row >> nth=2');
    const tag = (await page.textContent('#detail-tag')) ?? '';
    await page.click('#review-accept');
    await note(page, 'Kept');
    const kept = () => register().includes(`"subject":"${tag}","field":"review"`);
    expect(kept()).toBe(true);
    await page.click('#undo');
    await page.waitForFunction(() => document.querySelector<HTMLButtonElement>('#undo')?.disabled);
    expect(kept()).toBe(false);
    await page.click('#redo');
    await page.waitForFunction(() => document.querySelector<HTMLButtonElement>('#redo')?.disabled);
    expect(kept()).toBe(true);
    // A reload shows what was decided.
    await page.reload();
    await page.waitForSelector('.row .reviewed');
    expect(await page.textContent('.row .reviewed')).toBe('accepted');
    expect([elsewhere, errors]).toEqual([[], []]);
    await page.close();
  },
);

testWith(['chromium'], 'a changed cable changes the checks, and deciding it keeps it', async () => {
  const { page } = await open();
  await page.fill('#search', 'FUT-2');
  await page.click('.row >> nth=0');
  await page.waitForSelector('svg.seal .body');
  const before = await page.locator('.seal-part').allTextContents();
  await page.click('details.trial summary >> nth=0');
  const label = await page.locator('label[for^="trial-diameter-"]').first().textContent();
  const ref = label?.split(':')[0] ?? '';
  await page.fill('#trial-diameter-0', '21.5');
  await page.keyboard.press('Tab');
  await page.waitForSelector('.banner');
  expect(await page.locator('.seal-part').allTextContents()).not.toEqual(before);
  await page.click('#trial-decide');
  await note(page, 'Kept');
  expect(register()).toContain(`"subject":"${ref}","field":"diameterMm","tag":null,"value":"21.5"`);
  await page.close();
});

testWith(
  ['chromium'],
  'a cable dragged shows its gap, and the trial says whether it may lie there',
  async () => {
    const { page } = await open();
    await page.fill('#search', 'B1CP-0003');
    await page.click('.row >> nth=0');
    await page.waitForSelector('svg.seal .body');
    const body = page.locator('svg.seal >> nth=1 >> .body').first();
    const caption = page.locator('.seal-part >> nth=1 >> .small').first();
    const before = await caption.textContent();
    await body.scrollIntoViewIfNeeded();
    const box = await body.boundingBox();
    if (box === null) throw new Error('The body is not shown.');
    await page.mouse.move(box.x + box.width / 2, box.y + box.height / 2);
    await page.mouse.down();
    await page.mouse.move(box.x + box.width / 2 + 120, box.y + box.height / 2, { steps: 6 });
    expect(await caption.textContent()).not.toBe(before);
    await page.mouse.up();
    await page.waitForSelector('.banner');
    await page.click('#trial-drop');
    await page.waitForSelector('.banner', { state: 'detached' });
    // By keys alone as well.
    await page.locator('svg.seal >> nth=1 >> .body').first().focus();
    await page.keyboard.press('ArrowLeft');
    await page.waitForSelector('.banner');
    await page.close();
  },
);

testWith(['chromium'], 'a query is answered and the answer kept', async () => {
  const { page } = await open();
  await page.click('#view-queries');
  await page.waitForSelector('.query');
  await page.fill('#search', 'SP-08');
  const query = page.locator('.query').first();
  await query.locator('button').first().click();
  const value = await query.locator('textarea').inputValue();
  expect(value).toMatch(/^passes /);
  await query.locator('button', { hasText: 'Keep the answer' }).click();
  await note(page, 'Kept');
  expect(register()).toContain(`"field":"answer","tag":null,"value":"${value}"`);
  await page.close();
});

testWith(['chromium'], 'two tabs do not overwrite each other', async () => {
  const [one, other] = [await open(), await open()];
  for (const { page } of [one, other]) {
    await page.fill('#search', '00GF-0004');
    await page.click('.row >> nth=0');
    await page.waitForSelector('#review-hold');
  }
  await one.page.click('#review-hold');
  await note(one.page, 'Kept');
  await other.page.click('#review-exclude');
  await note(other.page, 'another tab');
  expect(await other.page.getAttribute('#review-hold', 'aria-pressed')).toBe('true');
  expect(register()).not.toContain('"value":"exclude"');
  await other.page.click('#review-exclude');
  await note(other.page, 'Kept');
  expect(register()).toContain('"value":"exclude"');
  await one.page.close();
  await other.page.close();
});

testWith(['chromium'], 'the whole review goes by keys alone', async () => {
  const { page } = await open();
  const focused = () => page.evaluate(() => document.activeElement?.id);
  for (let count = 0; count < 30 && (await focused()) !== 'list'; count += 1) {
    await page.keyboard.press('Tab');
  }
  expect(await focused()).toBe('list');
  await page.keyboard.press('End');
  await page.waitForSelector('#detail-tag');
  const last = await page.textContent('#detail-tag');
  expect(await page.getAttribute('#list', 'aria-activedescendant')).toBe(`row-${last}`);
  await page.keyboard.press('Home');
  await page.waitForFunction(
    (tag) => document.getElementById('detail-tag')?.textContent !== tag,
    last,
  );
  const first = await page.textContent('#detail-tag');
  await page.keyboard.press('h');
  await note(page, 'Kept');
  expect(register()).toContain(`"subject":"${first}","field":"review","tag":null,"value":"hold"`);
  // The key goes on to the next one.
  await page.waitForFunction(
    (tag) => document.getElementById('detail-tag')?.textContent !== tag,
    first,
  );
  await page.focus('#tab-seal');
  await page.keyboard.press('ArrowRight');
  await page.waitForSelector('canvas.plan');
  expect(await focused()).toBe('tab-place');
  await page.close();
});

testWith(
  ['chromium'],
  'axe-core finds nothing on any view, light and dark, English and German',
  async () => {
    for (const colorScheme of ['light', 'dark'] as const) {
      const { page, errors } = await open({ colorScheme, viewport: { width: 1280, height: 800 } });
      await expectAccessible(page);
      await page.click('.row >> nth=4');
      await page.waitForSelector('svg.seal');
      await page.click('details.trial summary >> nth=0');
      await expectAccessible(page);
      for (const tab of ['place', 'solid', 'reasons', 'history']) {
        await page.click(`#tab-${tab}`);
        await page.waitForTimeout(400);
        await expectAccessible(page);
      }
      await page.selectOption('#language', 'de');
      expect(await page.textContent('#view-queries')).toMatch(/^Rückfragen/);
      expect(await page.getAttribute('html', 'lang')).toBe('de');
      for (const view of ['queries', 'takeOff', 'files', 'penetrations']) {
        await page.click(`#view-${view}`);
        await page.waitForTimeout(200);
        await expectAccessible(page);
      }
      expect(errors).toEqual([]);
      await page.close();
    }
  },
);

testWith(['chromium'], 'at 200 % on a small laptop nothing is cut off sideways', async () => {
  // A 1280 by 800 window at 200 % has 640 by 400 CSS pixels (WCAG 2.2, 1.4.4 and 1.4.10).
  const { page } = await open({ viewport: { width: 640, height: 400 } });
  await page.click('.row >> nth=0');
  await page.waitForSelector('svg.seal');
  const overflow = await page.evaluate(
    () => document.documentElement.scrollWidth - document.documentElement.clientWidth,
  );
  expect(overflow).toBeLessThanOrEqual(0);
  await page.close();
});

testWith(
  ['chromium'],
  'the server answers this page alone: token, host and origin are asked for',
  async () => {
    const { origin, hash } = new URL(running.url);
    const token = hash.slice(1);
    const ask = (headers: Record<string, string>, body = '{"ask":"state"}') =>
      fetch(`${origin}/api/ask`, { method: 'POST', headers, body });
    expect((await ask({ 'x-sealbook-token': token })).status).toBe(200);
    expect((await ask({})).status).toBe(401);
    expect((await ask({ 'x-sealbook-token': `${token}x` })).status).toBe(401);
    expect(
      (await ask({ 'x-sealbook-token': token, origin: 'http://elsewhere.example' })).status,
    ).toBe(403);
    expect((await ask({ 'x-sealbook-token': token }, '{"ask":"nothing"}')).status).toBe(400);
    expect((await ask({ 'x-sealbook-token': token }, `"${'x'.repeat(2_000_000)}"`)).status).toBe(
      400,
    );
    expect((await fetch(`${origin}/../../package.json`)).status).toBe(404);
    expect((await fetch(`${origin}/%2e%2e/%2e%2e/package.json`)).status).toBe(404);
    const page = await fetch(`${origin}/`);
    const policy = page.headers.get('content-security-policy') ?? '';
    expect(policy).toContain("default-src 'none'");
    expect(policy).not.toMatch(/unsafe|https?:|\*/);
  },
);
