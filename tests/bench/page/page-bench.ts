import { readdirSync, statSync } from 'node:fs';
import path from 'node:path';
import type { ReviewAnswers, ReviewQuestion, ReviewState } from '../../../src/model/review.ts';
import type { Review } from '../../../src/pipeline/review/open-review.ts';
import type { readPageFiles } from '../../../src/web/server/page-files.ts';
import { startPage } from '../../../src/web/server/start-page.ts';
import { openBrowser } from '../../e2e/page/browser.ts';
import { openSample } from '../../e2e/page/open-sample.ts';
import { repoRoot } from '../../set-up/outside.ts';

const ROWS = 5000;

/** The list with 5,000 penetrations: time to the first row, and frames while it scrolls. */
export async function benchPage(): Promise<object> {
  const { review } = await openSample();
  const state = manyRows(await review.answer({ ask: 'state' }));
  const stand: Review = {
    answer: async <Q extends ReviewQuestion>(question: Q) =>
      (question.ask === 'state' ? state : await review.answer(question)) as ReviewAnswers[Q['ask']],
  };
  const opened = await startPage(stand, await readPageFilesOfDist());
  const browser = await openBrowser();
  const page = await browser.newPage({ viewport: { width: 1280, height: 800 } });
  const before = performance.now();
  await page.goto(opened.url);
  await page.waitForSelector('.row');
  const firstRowMs = performance.now() - before;
  const frames = await page.evaluate(async () => {
    const list = document.getElementById('list');
    const times: number[] = [];
    let last = performance.now();
    for (let step = 0; step < 200; step += 1) {
      if (list !== null) list.scrollTop += 900;
      await new Promise(requestAnimationFrame);
      const now = performance.now();
      times.push(now - last);
      last = now;
    }
    return times.sort((a, b) => a - b);
  });
  const typed = performance.now();
  await page.fill('#search', '00GF');
  await page.waitForFunction(
    () => !document.getElementById('count')?.textContent?.startsWith('5000'),
  );
  const searchMs = performance.now() - typed;
  await browser.close();
  await opened.close();
  return {
    rows: ROWS,
    firstRowMs,
    frameMedianMs: frames[100],
    frame95Ms: frames[190],
    frameWorstMs: frames[199],
    searchMs,
    ...bundleSizesKb(),
  };
}

/** The rows of the sample over and over, each under a tag of its own. */
function manyRows(state: ReviewState): ReviewState {
  const rows = Array.from({ length: ROWS }, (_, at) => {
    const row = state.rows[at % state.rows.length];
    if (row === undefined) throw new Error('The sample has no rows.');
    return { ...row, tag: `${row.tag}-${at}` };
  });
  return { ...state, rows };
}

/** Read from the build, since the sources have no page beside them. */
async function readPageFilesOfDist() {
  const built = path.join(repoRoot, 'dist/web/server/page-files.js');
  const module = (await import(built)) as { readPageFiles: typeof readPageFiles };
  return module.readPageFiles();
}

function bundleSizesKb(): Record<string, number> {
  const folder = path.join(repoRoot, 'dist/page/assets');
  return Object.fromEntries(
    readdirSync(folder).map((name) => [
      name.replace(/-[\w-]{8}\./, '.'),
      Math.round(statSync(path.join(folder, name)).size / 1024),
    ]),
  );
}
