import { expect, test } from 'vitest';
import type { IssuedFacts } from '../../../src/model/register.ts';
import { saidOf } from '../../../src/model/said-of.ts';
import { contradictionQueries, mergeDecisions } from '../../../src/register/decisions.ts';
import { decided } from '../../makers/register/made-decision.ts';

const facts: IssuedFacts = {
  kind: 'opening',
  level: 'L01',
  centreMm: [0, 0, 0],
  thicknessMm: 200,
  shape: 'circle 150',
  services: ['cable 37 dia'],
  cables: ['C-1'],
  duties: [],
  design: ['annulus: 20 mm × 1'],
  sealantMl: 300,
  fillers: {},
};

test('the latest answer to a question holds, an empty one takes it back', () => {
  const first = mergeDecisions([], [decided('P-1', 'status', 'hold')]);
  const changed = mergeDecisions(first, [decided('P-1', 'status', 'tender', { revision: 'B' })]);
  expect(changed).toEqual([decided('P-1', 'status', 'tender', { revision: 'B' })]);
  expect(mergeDecisions(changed, [decided('P-1', 'status', '')])).toEqual([]);
});

test('the same answer given again keeps the revision it came in with', () => {
  const first = mergeDecisions([], [decided('P-1', 'remarks', 'near beam')]);
  const again = mergeDecisions(first, [decided('P-1', 'remarks', 'near beam', { revision: 'B' })]);
  expect(again).toEqual(first);
});

test('the order in which decisions come in does not show in the register', () => {
  const some = [
    decided('P-2', 'status', 'hold'),
    decided('P-1', 'remarks', 'x'),
    decided('P-1', 'status', 'tender'),
  ];
  expect(mergeDecisions([], some)).toEqual(mergeDecisions([], [...some].reverse()));
});

test('a file that was taken in before does not undo what was decided since', () => {
  const fromBook = { from: 'workbook a.xlsx, Register row 6' };
  const first = mergeDecisions([], [decided('P-1', 'status', 'hold', fromBook)]);
  const onPage = mergeDecisions(first, [decided('P-1', 'status', 'tender')]);
  const rerun = mergeDecisions(onPage, [decided('P-1', 'status', 'hold', fromBook)], (from) =>
    from.startsWith('workbook a.xlsx'),
  );
  expect(rerun).toEqual(onPage);
});

test('a decision taken on other facts is asked about with both values, and stays', () => {
  const against = saidOf('opening', '', facts);
  const decision = decided('P-1', 'opening', '200', { against });
  expect(contradictionQueries([decision], new Map([['P-1', facts]]))).toEqual([]);
  const now = { ...facts, shape: 'circle 100' };
  const [query] = contradictionQueries([decision], new Map([['P-1', now]]));
  expect(query?.code).toBe('decision-contradicted');
  expect(query?.text).toContain('circle 150');
  expect(query?.text).toContain('circle 100');
});
