import { expect, test } from 'vitest';
import { drawSection } from '../../src/draw/draw-section.ts';
import { resultJsonSchema } from '../../src/model/result.ts';
import { buildResult, resultText } from '../../src/write/result/build-result.ts';
import { writeTables } from '../../src/write/tables/write-tables.ts';
import { makeIssue, threeCableSeal } from '../makers/issue/make-issue.ts';
import { makePenetration } from '../makers/issue/make-penetration.ts';

// Bytes of the writers. After a wanted change: vitest run tests/golden --update, and read the diff.

test('the drawing of three cables in a round opening', async () => {
  const svg = drawSection(threeCableSeal('p'), {
    tag: 'L01-0001',
    tags: ['L01-0001', 'L01-0002'],
    number: 'D-001',
    penetration: makePenetration('p'),
  });
  await expect(svg.replaceAll('><', '>\n<')).toMatchFileSnapshot('three-cables.svg');
});

test('the JSON result', async () => {
  await expect(resultText(buildResult(makeIssue()))).toMatchFileSnapshot('result.json');
});

test('the published schema of the JSON result', async () => {
  const text = `${JSON.stringify(resultJsonSchema(), null, 2)}\n`;
  await expect(text).toMatchFileSnapshot('result.schema.json');
});

test('the register as CSV', async () => {
  const [register] = writeTables(makeIssue());
  await expect(register?.text).toMatchFileSnapshot('register.csv');
});
