import { beforeAll, describe, expect, test } from 'vitest';
import { smallestGapMm } from '../../../../src/geometry/body-gaps.ts';
import type { NewDecision, ReviewState } from '../../../../src/model/review.ts';
import { openSample, type SampleReview } from '../../../e2e/page/open-sample.ts';

let sample: SampleReview;
let state: ReviewState;
beforeAll(async () => {
  sample = await openSample();
  state = await sample.review.answer({ ask: 'state' });
});

const ofPenetration = (subject: string, field: string, value: string): NewDecision => ({
  ...{ about: 'penetration', subject, field, tag: null, value },
});

test('the list has a row for each penetration, with verdicts and queries as the result has them', async () => {
  expect(state.rows.length).toBeGreaterThan(50);
  expect(new Set(state.rows.map(({ tag }) => tag)).size).toBe(state.rows.length);
  for (const row of state.rows.slice(0, 12)) {
    const details = await sample.review.answer({ ask: 'details', tag: row.tag });
    const verdicts = details?.facts.seals.flatMap(({ checks }) => checks.map((c) => c.verdict));
    expect(row.verdict === 'not met').toBe(verdicts?.includes('not met'));
    expect(row.cables).toEqual(details?.facts.cables.map(({ ref }) => ref));
    const asked = state.queries.filter(({ tag }) => tag === row.tag).length;
    expect(row.queries.stop + row.queries.ask + row.queries.note).toBe(asked);
    expect(details?.evidence.length).toBeGreaterThan(0);
    expect(details?.evidence.every(({ place }) => /\.(ifc|dxf|xlsx)/.test(place))).toBe(true);
  }
});

describe('decisions', () => {
  test('are kept in the register before they count, and only what changed comes back', async () => {
    const { review } = sample;
    const { version } = await review.answer({ ask: 'state' });
    const [{ tag = '' } = {}] = state.rows;
    const change = await review.answer({
      ask: 'decide',
      version,
      decisions: [ofPenetration(tag, 'review', 'hold'), ofPenetration(tag, 'faces', '2')],
    });
    expect(change).toMatchObject({ isRefused: false, version: version + 1 });
    expect(
      change.decisions.map(({ subject, field, value, from }) => [subject, field, value, from]),
    ).toEqual([
      [tag, 'faces', '2', 'review page'],
      [tag, 'review', 'hold', 'review page'],
    ]);
    expect(sample.register()).toContain('"from":"review page"');
    const details = await review.answer({ ask: 'details', tag });
    expect(details?.seals.every(({ faces }) => faces === 2)).toBe(true);
    // An empty value takes it back, and all is as it was.
    const back = await review.answer({
      ask: 'decide',
      version: version + 1,
      decisions: [ofPenetration(tag, 'review', ''), ofPenetration(tag, 'faces', '')],
    });
    expect(back.decisions).toEqual([]);
    const now = await review.answer({ ask: 'state' });
    expect(now.rows).toEqual(state.rows);
    expect(now.queries).toEqual(state.queries);
  });

  test('made on an older state are refused, and the state of now is given', async () => {
    const { review } = sample;
    const { version } = await review.answer({ ask: 'state' });
    const [first = { tag: '' }, second = { tag: '' }] = state.rows;
    // Two tabs decide at once on the same version: the second one is told.
    const [one, other] = await Promise.all([
      review.answer({
        ask: 'decide',
        version,
        decisions: [ofPenetration(first.tag, 'review', 'accept')],
      }),
      review.answer({
        ask: 'decide',
        version,
        decisions: [ofPenetration(second.tag, 'review', 'hold')],
      }),
    ]);
    expect(one.isRefused).toBe(false);
    expect(other).toMatchObject({ isRefused: true, version: version + 1 });
    expect(other.rows.length).toBe(state.rows.length);
    expect(other.decisions.map(({ subject }) => subject)).toEqual([first.tag]);
  });

  test('that can not be kept do not count', async () => {
    const refuse = { now: false };
    const { review } = await openSample(refuse);
    refuse.now = true;
    const { tag } = state.rows[3] ?? { tag: '' };
    const asked = review.answer({
      ask: 'decide',
      version: 1,
      decisions: [ofPenetration(tag, 'review', 'accept')],
    });
    await expect(asked).rejects.toThrow('the disk is full');
    refuse.now = false;
    const now = await review.answer({ ask: 'state' });
    expect([now.version, now.decisions]).toEqual([1, []]);
    const again = await review.answer({
      ask: 'decide',
      version: 1,
      decisions: [ofPenetration(tag, 'review', 'accept')],
    });
    expect(again.version).toBe(2);
  });
});

describe('a trial', () => {
  /** A penetration whose annulus holds several cables. */
  const crowded = async () => {
    for (const { tag } of state.rows) {
      const details = await sample.review.answer({ ask: 'details', tag });
      const seal = details?.seals.find(
        ({ arrangement }) => arrangement?.verdict === 'fits' && arrangement.items.length >= 3,
      );
      if (seal !== undefined) return { tag, seal };
    }
    throw new Error('The sample has no such seal.');
  };

  test('designs the seals anew and keeps nothing', async () => {
    const { tag, seal } = await crowded();
    const [ref = ''] = seal.bodies.map((body) => body.ref);
    const before = sample.register();
    const less = await sample.review.answer({ ask: 'trial', tag, trial: { without: [ref] } });
    const same = less.find(({ id }) => id === seal.id);
    expect(same?.bodies.map((body) => body.ref)).toEqual(
      seal.bodies.map((body) => body.ref).filter((each) => each !== ref),
    );
    expect(same?.freeAreaMm2 ?? 0).toBeGreaterThan(seal.freeAreaMm2 ?? 0);
    const more = await sample.review.answer({
      ask: 'trial',
      tag,
      trial: { more: [{ ref: 'TRY-1', diameterMm: 11 }], separationMm: 1, edgeMm: 1 },
    });
    expect(more.some(({ bodies }) => bodies.some((body) => body.ref === 'TRY-1'))).toBe(true);
    const [used = ''] = seal.fillers.map(({ name }) => name);
    const other = await sample.review.answer({
      ask: 'trial',
      tag,
      trial: { withoutFillers: [used] },
    });
    expect(other.flatMap(({ fillers }) => fillers.map(({ name }) => name))).not.toContain(used);
    expect(sample.register()).toBe(before);
    const details = await sample.review.answer({ ask: 'details', tag });
    expect(details?.seals.find(({ id }) => id === seal.id)).toEqual(seal);
  });

  test('leaves bodies where a hand put them, and says what gap that is', async () => {
    const { tag, seal } = await crowded();
    const items = seal.arrangement?.items ?? [];
    const places = items.map(({ ref, xMm, yMm }, at) => ({
      ref,
      xMm: xMm + (at === 0 ? 0.25 : 0),
      yMm,
    }));
    const trial = { places: { seal: seal.id, items: places }, separationMm: 0, edgeMm: 0 };
    const tried = await sample.review.answer({ ask: 'trial', tag, trial });
    const laid = tried.find(({ id }) => id === seal.id)?.arrangement;
    expect(laid?.verdict).toBe('fits');
    for (const { ref, xMm, yMm } of places) {
      const item = laid?.items.find((each) => each.ref === ref);
      expect([item?.xMm, item?.yMm]).toEqual([expect.closeTo(xMm, 6), expect.closeTo(yMm, 6)]);
    }
    // A second method: the gap measured between the outlines themselves.
    const opening = seal.opening;
    if (opening === null || laid === undefined || laid === null) throw new Error('not laid');
    expect(smallestGapMm(laid.items, opening)).toBeGreaterThanOrEqual(0);
    const [first, second] = places;
    if (first === undefined || second === undefined) throw new Error('too few');
    const onTop = [{ ...first, xMm: second.xMm, yMm: second.yMm }, ...places.slice(1)];
    const worse = await sample.review.answer({
      ask: 'trial',
      tag,
      trial: { places: { seal: seal.id, items: onTop } },
    });
    expect(worse.find(({ id }) => id === seal.id)?.arrangement?.verdict).not.toBe('fits');
  });
});

test('each penetration of the models is marked where it stands in the cut of its level', async () => {
  const names = state.plans.filter((name) => name.startsWith('level '));
  expect(names.length).toBe(3);
  let marked = 0;
  for (const name of names) {
    const plan = await sample.review.answer({ ask: 'plan', name });
    expect(plan?.lines.some(({ kind }) => kind !== 'service')).toBe(true);
    for (const { tag, atMm } of plan?.marks ?? []) {
      const details = await sample.review.answer({ ask: 'details', tag });
      expect(details?.facts.centreMm.slice(0, 2)).toEqual(
        atMm.map((value) => expect.closeTo(value, 2)),
      );
      expect(details?.plans).toContain(name);
      marked += 1;
    }
  }
  expect(marked).toBeGreaterThan(40);
  expect(await sample.review.answer({ ask: 'plan', name: 'no such plan' })).toBeNull();
});

test('the solids of a penetration lie round its centre, the host as thick as it is said to be', async () => {
  for (const { tag } of state.rows.slice(0, 8)) {
    const scene = await sample.review.answer({ ask: 'scene', tag });
    const details = await sample.review.answer({ ask: 'details', tag });
    const host = scene?.solids.find(({ kind }) => kind === 'host');
    const depths = host?.positionsMm.filter((_, at) => at % 3 === 2) ?? [];
    const thickness = Math.max(...depths) - Math.min(...depths);
    expect(thickness).toBeCloseTo(details?.facts.hosts[0]?.thicknessMm ?? 0, 0);
    expect(scene?.solids.some(({ kind }) => kind === 'opening')).toBe(true);
    expect(scene?.solids.filter(({ kind }) => kind === 'service').length).toBeGreaterThanOrEqual(
      details?.facts.services.length ?? 1,
    );
  }
});

test('one more cable is answered from the register as it stands', async () => {
  const { tag } = state.rows[0] ?? { tag: '' };
  const small = await sample.review.answer({ ask: 'spare', tag, ref: 'NEW-1', diameterMm: 5 });
  const large = await sample.review.answer({ ask: 'spare', tag, ref: 'NEW-1', diameterMm: 900 });
  expect(small.ways.some(({ answer }) => answer.way !== 'no' && answer.way !== 'refused')).toBe(
    true,
  );
  expect(large.ways.every(({ answer }) => answer.way === 'no')).toBe(true);
  await expect(
    sample.review.answer({ ask: 'spare', tag: 'NOT-THERE', ref: 'x', diameterMm: 5 }),
  ).rejects.toThrow('no NOT-THERE');
});

test('the files are those of a run, the register among them', async () => {
  const files = await sample.review.answer({ ask: 'files' });
  const names = files.map(({ name }) => name);
  expect(names).toEqual(expect.arrayContaining(['sealbook.xlsx', 'queries.bcf', 'register.jsonl']));
});
