import { describe, expect, test } from 'vitest';
import { designSeals } from '../../../src/design/design-seals.ts';
import type { Penetration } from '../../../src/model/penetration.ts';
import { Settings } from '../../../src/model/settings.ts';
import {
  makeCrossing,
  makeHost,
  makeMatches,
  makePenetration,
  makeSchedule,
} from '../../makers/seal/make-penetration.ts';
import { makeRange } from '../../makers/seal/make-range.ts';
import { plainArrangement } from '../../makers/seal/plain-arrangement.ts';

function questions(penetrations: readonly Penetration[]) {
  const { queries } = designSeals(
    {
      penetrations,
      schedule: makeSchedule([]),
      matches: makeMatches([]),
      range: makeRange([310]),
      settings: Settings.parse({}),
    },
    { arrange: plainArrangement },
  );
  return queries.filter(({ to }) => to === 'structural engineer' || to === 'ventilation engineer');
}

const at = (id: string, x: number, diameterMm = 150) =>
  makePenetration({
    id,
    shape: { type: 'circle', diameterMm },
    frame: { originMm: [x, 0, 1000], axis: [0, 1, 0], right: [1, 0, 0], up: [0, 0, 1] },
  });

describe('questions to the structural engineer', () => {
  test('two openings closer than the larger is wide', () => {
    // 150 mm openings 299 mm apart leave 149 mm; 300 mm apart leave 150 mm.
    expect(questions([at('a', 0), at('b', 299)])[0]?.text).toContain('a and b: 149 mm');
    expect(questions([at('a', 0), at('b', 300)])).toEqual([]);
  });
  test('the larger one decides, and a pair is told once', () => {
    const near = questions([at('a', 0, 100), at('b', 400, 300)]);
    expect(near).toHaveLength(1);
    expect(near[0]?.text).toContain('200 mm');
  });
  test('many openings drawn over each other are told once, without counting every pair', () => {
    const [asked, ...more] = questions(Array.from({ length: 600 }, (_, n) => at(`p${n}`, 0)));
    expect(more).toEqual([]);
    expect(asked?.text).toContain('at least 490 more pairs');
  });
  test('the same place in another host is another matter', () => {
    const other = { ...at('b', 200), hosts: [makeHost({ id: 'arch:other' })] };
    expect(questions([at('a', 0), other])).toEqual([]);
  });
  test('holes that must still be made are asked about once a host', () => {
    const unopened = ['a', 'b'].map((id, number) => ({
      ...at(id, number * 1000),
      kind: 'unopened' as const,
      shape: null,
      crossings: [makeCrossing({ id: `mep:${id}`, kind: 'pipe' })],
    }));
    const [asked, ...more] = questions(unopened);
    expect(more).toEqual([]);
    expect(asked?.text).toContain('2 times');
    expect(asked?.text).toContain('160 mm');
  });
});

describe('questions about dampers', () => {
  const duct = makeCrossing({ kind: 'duct' });
  test('a ventilation duct through a rated host', () => {
    const hole = makePenetration({
      shape: { type: 'circle', diameterMm: 250 },
      crossings: [duct],
      hosts: [makeHost({ fireRating: 'EI 60' })],
    });
    expect(questions([hole]).map(({ code }) => code)).toEqual(['damper-question']);
  });
  test('none where nothing must resist fire', () => {
    const hole = makePenetration({
      shape: { type: 'circle', diameterMm: 250 },
      crossings: [duct],
    });
    expect(questions([hole])).toEqual([]);
  });
});

describe('edges of the host', () => {
  const beside = (left: number | null) =>
    makePenetration({
      hosts: [makeHost({ toEdgeMm: { left, right: null, below: 5000, above: null } })],
    });
  test('an opening nearer to an edge than it is wide is asked about', () => {
    // 224 mm from the centre of a 150 mm opening leave 149 mm; 225 mm leave its own width.
    expect(questions([beside(224)])[0]?.text).toContain('149 mm left');
    expect(questions([beside(225)])).toEqual([]);
    expect(questions([beside(null)])).toEqual([]);
  });
  test('the seal says so without a verdict', () => {
    const { result } = designSeals(
      {
        penetrations: [beside(100)],
        schedule: makeSchedule([]),
        matches: makeMatches([]),
        range: makeRange([310]),
        settings: Settings.parse({}),
      },
      { arrange: plainArrangement },
    );
    const check = result[0]?.checks.find(({ name }) => name.startsWith('nearness to an edge'));
    expect(check).toMatchObject({ verdict: 'not assessed', subject: 'structure' });
    expect(check?.note).toContain('25 mm to the edge on the left');
  });
});

describe('nearness in the seal itself', () => {
  const noteOf = (penetrations: readonly Penetration[]) =>
    designSeals(
      {
        penetrations,
        schedule: makeSchedule([]),
        matches: makeMatches([]),
        range: makeRange([310]),
        settings: Settings.parse({}),
      },
      { arrange: plainArrangement },
    ).result[0]?.checks.find(({ name }) => name === 'nearness to another opening')?.note;
  test('the clear distance to the next opening', () => {
    expect(noteOf([at('a', 0), at('b', 299)])).toContain('149 mm to the next opening');
    expect(noteOf([at('a', 0), at('b', 300)])).toBeUndefined();
  });
});
