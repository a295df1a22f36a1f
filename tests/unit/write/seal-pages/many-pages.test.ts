import { expect, test } from 'vitest';
import { takeOff } from '../../../../src/design/take-off.ts';
import { writeSealPages } from '../../../../src/write/seal-pages/write-seal-pages.ts';
import { makeIssue } from '../../../makers/issue/make-issue.ts';

const issue = makeIssue();

/** The issue with everything in it so many times, all on one level. */
function repeated(times: number) {
  const copies = Array.from({ length: times }, (_, at) => at);
  const [level = null] = issue.penetrations.map(({ where }) => where.level);
  return {
    ...issue,
    penetrations: copies.flatMap((at) =>
      issue.penetrations.map((each) => ({
        ...each,
        id: `${each.id}~${at}`,
        where: { ...each.where, level },
      })),
    ),
    seals: copies.flatMap((at) =>
      issue.seals.map((each) => ({
        ...each,
        id: `${each.id}~${at}`,
        penetrationId: `${each.penetrationId}~${at}`,
      })),
    ),
    tags: new Map(
      copies.flatMap((at) => [...issue.tags].map(([id, tag]) => [`${id}~${at}`, `${tag}-${at}`])),
    ),
  };
}

const written = (times: number) =>
  writeSealPages(repeated(times), (seal) => takeOff([seal], [], issue.range, issue.settings));

test('many seals of a level take several files, each page once, and grow in step with their number', () => {
  const small = written(100);
  const large = written(200);
  const pages = (files: typeof small) => files.filter(({ name }) => name.startsWith('seal-pages'));
  expect(pages(large).length).toBeGreaterThan(1);
  expect(new Set(large.map(({ name }) => name)).size).toBe(large.length);
  const articles = (files: typeof small) =>
    pages(files).reduce((sum, { text }) => sum + text.split('<article').length - 2, 0);
  expect(articles(large)).toBe(2 * articles(small));
  // Twice the seals are about twice the text: no page repeats what all pages show.
  const length = (files: typeof small) =>
    pages(files).reduce((sum, { text }) => sum + text.length, 0);
  expect(length(large) / length(small)).toBeLessThan(2.3);
  for (const { text } of pages(large)) {
    expect(text.split('id="key-plan"').length).toBe(2);
    expect(text).toContain('href="#key-plan"');
  }
});
