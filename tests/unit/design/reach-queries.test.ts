import { expect, test } from 'vitest';
import { reachQueries } from '../../../src/design/reach-queries.ts';
import { makeIssue } from '../../makers/issue/make-issue.ts';

test('a seal of two faces with one out of reach is asked about once, others are not', () => {
  const { penetrations, seals } = makeIssue();
  const both = seals.find(({ faces, state }) => faces === 2 && state === 'designed');
  const buried = penetrations.map((each) => ({
    ...each,
    where: {
      ...each.where,
      outOfReach: { side: 'far' as const, why: 'it lies against the ground' },
    },
  }));
  const queries = reachQueries(buried, seals);
  expect(queries.map(({ penetrationId }) => penetrationId)).toEqual([both?.penetrationId]);
  expect(queries[0]?.text).toContain('the far one');
  expect(reachQueries(penetrations, seals)).toEqual([]);
});
