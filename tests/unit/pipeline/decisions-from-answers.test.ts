import { describe, expect, test } from 'vitest';
import type { BcfAnswer } from '../../../src/model/bcf-answers.ts';
import type { Decision } from '../../../src/model/decision.ts';
import { withAnswersOnCables } from '../../../src/pipeline/decisions-from-answers.ts';
import { makeCable } from '../../makers/issue/make-issue.ts';

const CABLE = makeCable('C-7', 4);
const SCHEDULE = { cables: [CABLE], rows: [] };
const TAGS = new Map([
  ['p1', 'L01-0001'],
  ['p2', 'L01-0002'],
]);
const PLACE = `cable-match-doubtful:${CABLE.id}`;
const DIAMETER = `cable-diameter-unknown:${CABLE.id}`;

function answer(subject: string, value: string): Decision {
  return {
    ...{ about: 'query', subject, field: 'answer', tag: null, value, against: null },
    ...{ revision: 'B', from: 'workbook sealbook.xlsx, Queries row 9' },
  };
}

function taken(decisions: readonly Decision[], bcf: readonly BcfAnswer[] = []) {
  const { result, queries } = withAnswersOnCables(decisions, bcf, SCHEDULE, TAGS, 'C');
  const onCable = result.filter(({ about }) => about === 'cable');
  return {
    said: onCable.map(({ field, tag, value }) => [field, tag, value].filter(Boolean).join(' ')),
    codes: queries.map(({ code }) => code),
    result,
  };
}

describe('answers to queries about a cable', () => {
  test('say where it runs', () => {
    expect(taken([answer(PLACE, 'passes l01-0001; not L01-0002')]).said).toEqual([
      'passes L01-0001 yes',
      'passes L01-0002 no',
    ]);
    expect(taken([answer(`reference-look-alike:${CABLE.id}`, 'L01-0002')]).said).toEqual([
      'passes L01-0002 yes',
    ]);
    expect(taken([answer(`cable-no-penetration:${CABLE.id}`, 'Nothing')]).said).toEqual([
      'passesNothing yes',
    ]);
  });

  test.each([
    ['23.5', '23.5'],
    ['23,5 mm', '23.5'],
    ['Ø 7', '7'],
    ['dia. 41 mm', '41'],
  ])('give its diameter: %s', (text, value) => {
    expect(taken([answer(DIAMETER, text)]).said).toEqual([`diameterMm ${value}`]);
  });

  test('to the query of a seal that waits for the diameter count as well', () => {
    const atSeal = `cable-diameter-unknown:p1/annulus/cable diameter/${CABLE.id}`;
    expect(taken([answer(atSeal, '9.5')]).said).toEqual(['diameterMm 9.5']);
  });

  test.each([
    [PLACE, 'ask the electrical engineer'],
    [PLACE, 'passes L09-0001'],
    [PLACE, 'passes L01-0001; nothing'],
    [PLACE, 'yes'],
    [DIAMETER, 'about 23'],
    [DIAMETER, '0'],
    [DIAMETER, '1e9'],
  ])('that say neither are asked about, and change nothing: %s %s', (subject, text) => {
    const { said, codes } = taken([answer(subject, text)]);
    expect(said).toEqual([]);
    expect(codes).toEqual(['decision-unusable']);
  });

  test('do not win over a decision on the cable itself', () => {
    const own: Decision = {
      ...answer(PLACE, 'no'),
      ...{ about: 'cable', subject: 'C-7', field: 'passes', tag: 'L01-0001' },
    };
    const { said } = taken([own, answer(PLACE, 'passes L01-0001')]);
    expect(said).toEqual(['passes L01-0001 no']);
  });

  test('of other queries, and empty ones, stay answers alone', () => {
    const { said, codes } = taken([answer('size-unknown:x', '23'), answer(PLACE, '  ')]);
    expect([said, codes]).toEqual([[], []]);
  });
});

test('comments of a BCF archive count where they say it; other talk is no answer', () => {
  const comment = (text: string) => ({ author: 'engineer', date: '2026-03-01', text });
  const topic: BcfAnswer = {
    queryId: PLACE,
    topicGuid: 'g',
    title: 't',
    state: 'answered',
    status: 'Open',
    assignedTo: null,
    comments: [comment('Who knows?'), comment('passes L01-0002')],
  };
  const { said, codes, result } = taken([], [topic]);
  expect(said).toEqual(['passes L01-0002 yes']);
  expect(codes).toEqual([]);
  expect(result[0]?.from).toBe('BCF, engineer, 2026-03-01');
});
