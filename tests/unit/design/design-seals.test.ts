import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { type DesignInput, designSeals } from '../../../src/design/design-seals.ts';
import type { Cable, CableMatch } from '../../../src/model/cable.ts';
import type { Penetration } from '../../../src/model/penetration.ts';
import { Settings } from '../../../src/model/settings.ts';
import { sampleRange } from '../../../src/read/range/sample-range.ts';
import {
  makeCable,
  makeCrossing,
  makeHost,
  makeMatch,
  makeMatches,
  makePenetration,
  makeSchedule,
} from '../../makers/seal/make-penetration.ts';
import { makeRange } from '../../makers/seal/make-range.ts';
import { plainArrangement } from '../../makers/seal/plain-arrangement.ts';

function design(
  penetrations: readonly Penetration[],
  cables: readonly Cable[] = [],
  matches: readonly CableMatch[] = [],
  settings: object = {},
  arrange: typeof plainArrangement = plainArrangement,
) {
  const input: DesignInput = {
    penetrations,
    schedule: makeSchedule(cables),
    matches: makeMatches(matches),
    range: makeRange([310]),
    settings: Settings.parse(settings),
  };
  return designSeals(input, { arrange });
}

describe('leak paths', () => {
  test('an empty opening is closed by a blank seal', () => {
    const { result } = design([makePenetration()]);
    expect(result.map(({ path, state }) => [path, state])).toEqual([['annulus', 'designed']]);
    expect(result[0]?.bodies).toEqual([]);
    // π/4 · 150² · 20 / 1000 ml
    expect(result[0]?.sealant?.perFaceMl).toBeCloseTo(353.4292, 3);
  });

  test('a conduit through an opening leaks round it and through it', () => {
    const conduit = makeCrossing({ id: 'mep:c1', boreMm: 94 });
    const hole = makePenetration({ crossings: [conduit] });
    const cable = makeCable('A1', { diameterMm: 30 });
    const { result } = design([hole], [cable], [makeMatch(cable, hole, 'mep:c1')]);
    const [annulus, bore] = result;
    expect(result).toHaveLength(2);
    expect(annulus?.id).toBe('arch:wall/arch:opening/annulus');
    // π/4 · (150² − 110²)
    expect(annulus?.freeAreaMm2).toBeCloseTo(8168.1409, 3);
    expect(bore?.id).toBe('arch:wall/arch:opening/bore/mep:c1');
    expect(bore?.of).toBe('mep:c1');
    expect(bore?.opening).toEqual({ type: 'circle', diameterMm: 94 });
    // π/4 · (94² − 30²)
    expect(bore?.freeAreaMm2).toBeCloseTo(6232.9198, 3);
  });

  test('a conduit that fills its hole leaves nothing to seal round it', () => {
    const hole = makePenetration({
      shape: { type: 'circle', diameterMm: 110 },
      crossings: [makeCrossing({ boreMm: 94 })],
    });
    const { result } = design([hole]);
    expect(result[0]?.state).toBe('none');
    expect(result[0]?.reason).toContain('fills its hole');
    expect(result[1]?.state).toBe('designed');
  });

  test('cables on a tray cross one by one, the tray stops; an unknown load passes with its tray', () => {
    const tray = makeCrossing({
      id: 'mep:t1',
      kind: 'carrier',
      carrierForm: 'tray',
      section: { type: 'rectangle', widthMm: 200, heightMm: 60 },
    });
    const hole = makePenetration({
      shape: { type: 'rectangle', widthMm: 300, heightMm: 200 },
      crossings: [tray],
    });
    const cable = makeCable('A1', { diameterMm: 20, bodies: 3, bundle: 'trefoil' });
    const loaded = design([hole], [cable], [makeMatch(cable, hole, 'mep:t1')]).result;
    expect(loaded).toHaveLength(1);
    expect(loaded[0]?.bodies.map(({ ref }) => ref)).toEqual(['A1/1', 'A1/2', 'A1/3']);
    const unloaded = design([hole]).result;
    expect(unloaded[0]?.bodies.map(({ outline }) => outline.type)).toEqual(['rectangle']);
    expect(unloaded[0]?.freeAreaMm2).toBeCloseTo(300 * 200 - 200 * 60, 9);
  });

  test('trunking leaks round it and through it', () => {
    const trunking = makeCrossing({
      kind: 'carrier',
      carrierForm: 'trunking',
      section: { type: 'rectangle', widthMm: 100, heightMm: 50 },
    });
    const hole = makePenetration({
      shape: { type: 'rectangle', widthMm: 200, heightMm: 150 },
      crossings: [trunking],
    });
    const { result } = design([hole]);
    expect(result.map(({ path }) => path)).toEqual(['annulus', 'bore']);
  });

  test('a pipe without cables has no bore to seal', () => {
    const pipe = makeCrossing({ kind: 'pipe', boreMm: 100 });
    expect(design([makePenetration({ crossings: [pipe] })]).result).toHaveLength(1);
  });

  test('a scheduled cable matched to its own modelled line counts once', () => {
    const line = makeCrossing({
      id: 'mep:line',
      kind: 'cable',
      section: { type: 'circle', diameterMm: 37 },
    });
    const hole = makePenetration({ crossings: [line] });
    const cable = makeCable('A1');
    const { result } = design([hole], [cable], [makeMatch(cable, hole, 'mep:line')]);
    expect(result[0]?.bodies).toHaveLength(1);
    expect(result[0]?.bodies[0]?.ref).toBe('A1');
  });

  test('a cable to be removed does not count', () => {
    const hole = makePenetration();
    const cable = makeCable('A1', { status: 'to be removed' });
    expect(design([hole], [cable], [makeMatch(cable, hole)]).result[0]?.bodies).toEqual([]);
  });

  test('two bodies of one name get names of their own', () => {
    const one = makeCrossing({ id: 'mep:1', kind: 'pipe' });
    const two = makeCrossing({ id: 'mep:2', kind: 'pipe' });
    const hole = makePenetration({
      shape: { type: 'rectangle', widthMm: 400, heightMm: 300 },
      crossings: [one, two],
    });
    const refs = design([hole]).result[0]?.bodies.map(({ ref }) => ref);
    expect(new Set(refs).size).toBe(2);
  });
});

describe('tolerances', () => {
  const hole = makePenetration();
  const sealOf = (changes: Partial<Cable>) => {
    const cable = makeCable('A1', changes);
    return design([hole], [cable], [makeMatch(cable, hole)]).result[0];
  };
  test('arranged with the largest diameter, counted with the smallest', () => {
    const seal = sealOf({ diameterMm: 37, smallestDiameterMm: 36, largestDiameterMm: 39 });
    expect(seal?.bodies[0]?.outline).toEqual({ type: 'circle', diameterMm: 39 });
    // π/4 · (150² − 36²); fill with the largest: 39² / 150².
    expect(seal?.freeAreaMm2).toBeCloseTo(16653.583, 2);
    expect(seal?.fillRatio).toBeCloseTo(0.0676, 9);
  });
  test('a range without a nominal diameter is a diameter', () => {
    const seal = sealOf({ diameterMm: null, smallestDiameterMm: 36, largestDiameterMm: 39 });
    expect(seal?.state).toBe('designed');
  });
  test('a modelled line gives the diameter that the schedule lacks', () => {
    const line = makeCrossing({
      id: 'l',
      kind: 'cable',
      section: { type: 'circle', diameterMm: 21 },
    });
    const withLine = makePenetration({ crossings: [line] });
    const cable = makeCable('A1', { diameterMm: null });
    const [seal] = design([withLine], [cable], [makeMatch(cable, withLine, 'l')]).result;
    expect(seal?.bodies[0]?.outline).toEqual({ type: 'circle', diameterMm: 21 });
  });
});

describe('cables that are there already', () => {
  const line = makeCrossing({
    id: 'l',
    kind: 'cable',
    section: { type: 'circle', diameterMm: 37 },
    offsetMm: [20.4, -10.2],
  });
  const hole = makePenetration({ crossings: [line] });
  const fixedIn = (changes: Partial<Cable>, verdict: 'fits' | 'not found') => {
    const asked: (readonly unknown[])[] = [];
    const cable = makeCable('A1', changes);
    design([hole], [cable], [makeMatch(cable, hole, 'l')], {}, (problem) => {
      asked.push(problem.bodies.map(({ fixedAt }) => fixedAt));
      return { ...plainArrangement(problem), verdict };
    });
    return asked;
  };
  test('stay exactly where they are, whether that fits or not', () => {
    const place = { xMm: 20.4, yMm: -10.2 };
    expect(fixedIn({ status: 'existing' }, 'fits')).toEqual([[place]]);
    expect(fixedIn({ status: 'existing' }, 'not found')[0]).toEqual([place]);
  });
  test('new ones are tried where the model shows them, then anywhere', () => {
    expect(fixedIn({}, 'fits')).toEqual([[{ xMm: 20, yMm: -10 }]]);
    expect(fixedIn({}, 'not found').slice(0, 2)).toEqual([[{ xMm: 20, yMm: -10 }], [undefined]]);
  });
});

describe('what is not known', () => {
  test('a cable without diameter stops the seal with a query', () => {
    const hole = makePenetration();
    const cable = makeCable('A1', { diameterMm: null });
    const { result, queries } = design([hole], [cable], [makeMatch(cable, hole)]);
    expect(result[0]?.state).toBe('query');
    expect(result[0]?.reason).toContain('A1');
    expect(result[0]?.sealant).toBeNull();
    expect(queries.map(({ code }) => code)).toContain('cable-diameter-unknown');
  });

  test('a service without size stops the seal with a query', () => {
    const hole = makePenetration({ crossings: [makeCrossing({ kind: 'pipe', section: null })] });
    const { result, queries } = design([hole]);
    expect(result[0]?.state).toBe('query');
    expect(queries.map(({ code }) => code)).toContain('size-unknown');
  });

  test('a nominal size is shown on the figure at hand, with a query', () => {
    const hole = makePenetration({ crossings: [makeCrossing({ sizeBasis: 'nominal' })] });
    const { result, queries } = design([hole]);
    expect(result.map(({ state }) => state)).toEqual(['query', 'query']);
    expect(result[0]?.sealant).not.toBeNull();
    // The candidates' bores of a 110 are named: EN 61386-24, EN 1401-1 and EN 12201-2 sizes.
    const text = queries.map((query) => query.text).join('\n');
    expect(text).toContain('103.6');
    expect(text).toContain('94');
    expect(text).toContain('82');
  });

  test('a cable that may pass either of two conduits is asked about and in neither', () => {
    const hole = makePenetration({
      shape: { type: 'rectangle', widthMm: 400, heightMm: 300 },
      crossings: [
        makeCrossing({ id: 'mep:1', boreMm: 94 }),
        makeCrossing({ id: 'mep:2', boreMm: 94 }),
      ],
    });
    const cable = makeCable('A1');
    const { result, queries } = design([hole], [cable], [makeMatch(cable, hole)]);
    expect(result.map(({ state }) => state)).toEqual(['query', 'query', 'query']);
    expect(queries.filter(({ code }) => code === 'cable-match-doubtful').length).toBeGreaterThan(0);
  });

  test('an opening without shape or service ends as a query, not as a crash', () => {
    const { result, queries } = design([makePenetration({ kind: 'unopened', shape: null })]);
    expect(result[0]?.state).toBe('query');
    expect(queries.length).toBeGreaterThan(0);
  });

  test('an outline of no area ends as a query', () => {
    const input: DesignInput = {
      penetrations: [makePenetration({ shape: { type: 'rectangle', widthMm: 0, heightMm: 5 } })],
      schedule: makeSchedule([]),
      matches: makeMatches([]),
      range: makeRange([310]),
      settings: Settings.parse({}),
    };
    const { result, queries } = designSeals(input);
    expect(result[0]?.state).toBe('query');
    expect(queries.length).toBeGreaterThan(0);
  });

  test('more than there is room for leaves no layer to count', () => {
    const hole = makePenetration({ shape: { type: 'circle', diameterMm: 50 } });
    const cables = ['A1', 'A2', 'A3'].map((ref) => makeCable(ref));
    const [seal] = design(
      [hole],
      cables,
      cables.map((cable) => makeMatch(cable, hole)),
    ).result;
    expect(seal?.freeAreaMm2).toBeNull();
    expect(seal?.sealant).toBeNull();
    // 3 · 37² / 50².
    expect(seal?.fillRatio).toBeCloseTo(1.6428, 9);
  });

  test('what cannot fit is a query with the proof', () => {
    const hole = makePenetration({ shape: { type: 'circle', diameterMm: 60 } });
    const cables = ['A1', 'A2'].map((ref) => makeCable(ref));
    const input: DesignInput = {
      penetrations: [hole],
      schedule: makeSchedule(cables),
      matches: makeMatches(cables.map((cable) => makeMatch(cable, hole))),
      range: makeRange([310]),
      settings: Settings.parse({}),
    };
    const { result, queries } = designSeals(input);
    expect(result[0]?.state).toBe('query');
    expect(result[0]?.arrangement?.verdict).toBe('cannot fit');
    expect(queries.map(({ code }) => code)).toContain('arrangement-cannot-fit');
    // Two of 37 mm with 4 mm between and to the wall need 37 · 2 + 12 = 86 mm: next in tens is 90.
    const larger = result[0]?.remedies?.find(({ kind }) => kind === 'larger opening');
    expect(larger?.text).toContain('90 dia');
    expect(result[0]?.remedies?.map(({ kind }) => kind)).toContain('split over two');
  });
});

test('a host of unknown thickness leaves fillers uncut and its depth unassessed', () => {
  const hole = makePenetration({ thicknessMm: 0, hosts: [makeHost({ thicknessMm: 0 })] });
  const [seal] = design([hole]).result;
  expect(seal?.fillerQuantities.map(({ lengthMm }) => lengthMm)).toEqual([100, 100]);
  expect(seal?.checks.find(({ name }) => name === 'depth of host')?.verdict).toBe('not assessed');
});

describe('needed openings', () => {
  test('a single round service asks for a round hole with clearance all round', () => {
    const hole = makePenetration({
      kind: 'unopened',
      shape: null,
      openings: [],
      crossings: [makeCrossing({ kind: 'pipe' })],
    });
    const { result } = design([hole], [], [], { design: { neededClearanceMm: 25 } });
    expect(result[0]?.openingBasis).toBe('needed');
    expect(result[0]?.opening).toEqual({ type: 'circle', diameterMm: 160 });
  });

  test('several services ask for the rectangle round them', () => {
    const hole = makePenetration({
      kind: 'unopened',
      shape: null,
      openings: [],
      crossings: [
        makeCrossing({ id: 'a', kind: 'pipe', offsetMm: [-100, 0] }),
        makeCrossing({ id: 'b', kind: 'pipe', offsetMm: [100, 20] }),
      ],
    });
    // 200 between centres + 110 + 2 · 25; 20 + 110 + 2 · 25.
    expect(design([hole]).result[0]?.opening).toEqual({
      type: 'rectangle',
      widthMm: 360,
      heightMm: 180,
    });
  });

  test('a skew crossing asks for more: 1/cos θ and t · tan θ', () => {
    const skewRad = Math.PI / 4;
    const hole = makePenetration({
      kind: 'unopened',
      shape: null,
      openings: [],
      crossings: [makeCrossing({ kind: 'pipe', skewRad })],
    });
    // 110 / cos 45° + 200 · tan 45° + 50 = 155.563 + 250, up to the next millimetre.
    expect(design([hole]).result[0]?.opening).toEqual({ type: 'circle', diameterMm: 406 });
  });
});

describe('duties and faces', () => {
  test('a rated host asks for fire on both faces', () => {
    const hole = makePenetration({ hosts: [makeHost({ fireRating: 'EI 60' })] });
    const [seal] = design([hole]).result;
    expect(seal?.duties).toMatchObject([{ kind: 'fire', rating: 'EI 60' }]);
    expect(seal?.faces).toBe(2);
    expect(seal?.sealant?.netMl).toBeCloseTo(2 * 353.4292, 3);
    expect(seal?.checks.find(({ name }) => name.startsWith('evidence'))?.verdict).toBe(
      'not assessed',
    );
  });

  test('missing evidence is one query a duty, however many seals ask', () => {
    const holes = ['a', 'b', 'c'].map((id) =>
      makePenetration({ id, hosts: [makeHost({ fireRating: 'EI 60' })] }),
    );
    const asked = design(holes).queries.filter(({ code }) => code === 'duty-evidence-missing');
    expect(asked).toHaveLength(1);
    expect(asked[0]?.text).toContain('3 seals in 3 penetrations');
  });

  test('the water level gives the head at the lowest point of an external wall', () => {
    const hole = makePenetration({ hosts: [makeHost({ isExternal: true })] });
    const [seal] = design([hole], [], [], { ground: { waterLevelMm: 3000 } }).result;
    const water = seal?.duties.find(({ kind }) => kind === 'water');
    // Centre at 1000, lowest point at 925.
    expect(water?.headM).toBeCloseTo(2.075, 9);
    const thrust = seal?.checks.find(({ name }) => name === 'water thrust');
    // γ · 2 m · π/4 · 0.15² = 346.714 N: the head at the centroid counts.
    expect(thrust?.note).toContain('346.7 N');
  });

  test('an inner wall stays dry', () => {
    const hole = makePenetration({ hosts: [makeHost({ isExternal: false })] });
    expect(design([hole], [], [], { ground: { waterLevelMm: 3000 } }).result[0]?.duties).toEqual(
      [],
    );
  });

  test('rules of the project file choose by level, host and state', () => {
    const hole = makePenetration({ hosts: [makeHost({ name: 'Pit wall 3' })] });
    const duties = [
      { when: { host: 'pit*' }, duty: 'gas' },
      { when: { level: 'L02' }, duty: 'dust' },
      { when: { rated: false }, duty: 'pests' },
    ];
    expect(design([hole], [], [], { duties }).result[0]?.duties.map(({ kind }) => kind)).toEqual([
      'gas',
      'pests',
    ]);
  });
});

describe('type keys', () => {
  const twoAlike = ['a', 'b'].map((id) => makePenetration({ id }));
  const cablesFor = (names: readonly string[]) =>
    names.map((ref) => makeCable(ref, { diameterMm: 30 }));

  test('seals built the same share a key whatever their cables are called', () => {
    const cables = cablesFor(['A1', 'Z9']);
    const matches = cables.map((cable, at) => {
      const hole = twoAlike[at];
      if (hole === undefined) throw new Error('no hole');
      return makeMatch(cable, hole);
    });
    let searches = 0;
    const { result } = design(twoAlike, cables, matches, {}, (problem) => {
      searches += 1;
      return plainArrangement(problem);
    });
    expect(result[0]?.typeKey).toBe(result[1]?.typeKey);
    expect(searches).toBe(1);
    expect(result.map(({ arrangement }) => arrangement?.items[0]?.ref)).toEqual(['A1', 'Z9']);
  });

  test('a deeper layer, another size or another opening is another type', () => {
    const key = (settings: object, hole = makePenetration()) =>
      design([hole], [], [], settings).result[0]?.typeKey;
    const keys = [
      key({}),
      key({ design: { setBackMm: 30 } }),
      key({ design: { faces: 2 } }),
      key({}, makePenetration({ shape: { type: 'circle', diameterMm: 151 } })),
    ];
    expect(new Set(keys).size).toBe(keys.length);
  });
});

describe('properties', () => {
  const diameter = fc.double({ min: 5, max: 30, noNaN: true });
  const sealWith = (diametersMm: readonly number[], settings: object = {}) => {
    const hole = makePenetration({ shape: { type: 'rectangle', widthMm: 400, heightMm: 300 } });
    const cables = diametersMm.map((diameterMm, at) => makeCable(`C${at}`, { diameterMm }));
    const matches = cables.map((cable) => makeMatch(cable, hole));
    const [seal] = design([hole], cables, matches, settings).result;
    if (seal === undefined) throw new Error('no seal');
    return seal;
  };

  test('net volume scales with depth', () => {
    fc.assert(
      fc.property(
        fc.array(diameter, { maxLength: 8 }),
        fc.double({ min: 1, max: 60, noNaN: true }),
        (sizes, depth) => {
          const at20 = sealWith(sizes, { design: { setBackMm: 20 } }).sealant?.netMl ?? 0;
          const deep = sealWith(sizes, { design: { setBackMm: depth } }).sealant?.netMl ?? 0;
          expect(deep).toBeCloseTo((at20 * depth) / 20, 6);
        },
      ),
      { numRuns: 50 },
    );
  });

  test('one more cable never lowers the fill and never adds sealant', () => {
    fc.assert(
      fc.property(fc.array(diameter, { maxLength: 8 }), diameter, (sizes, more) => {
        const before = sealWith(sizes);
        const after = sealWith([...sizes, more]);
        expect(after.fillRatio ?? 0).toBeGreaterThanOrEqual(before.fillRatio ?? 0);
        expect(after.sealant?.netMl ?? 0).toBeLessThanOrEqual(before.sealant?.netMl ?? 0);
      }),
      { numRuns: 50 },
    );
  });

  test('every penetration ends as at least one seal, and each seal that is not designed says why', () => {
    const crossing = fc.record({
      kind: fc.constantFrom('cable', 'conduit', 'duct', 'carrier', 'pipe'),
      sizeBasis: fc.constantFrom('outside', 'bore', 'nominal', 'unknown'),
      boreMm: fc.option(fc.constant(94)),
      section: fc.option(
        fc.constantFrom(
          { type: 'circle', diameterMm: 110 } as const,
          { type: 'rectangle', widthMm: 100, heightMm: 50 } as const,
        ),
      ),
      offsetMm: fc.option(fc.constant([3, 4] as const)),
      carriedBy: fc.option(fc.constantFrom('c0', 'c1', 'elsewhere')),
    });
    fc.assert(
      fc.property(
        fc.array(crossing, { maxLength: 5 }),
        fc.option(fc.constant({ type: 'circle', diameterMm: 400 } as const)),
        (parts, shape) => {
          const crossings = parts.map((part, at) =>
            makeCrossing({ id: `c${at}`, ...part } as const),
          );
          const hole = makePenetration({ crossings, shape });
          const cable = makeCable('A1');
          const { result, queries } = design([hole], [cable], [makeMatch(cable, hole, 'c0')]);
          expect(result.length).toBeGreaterThan(0);
          for (const seal of result) {
            expect(seal.state === 'designed').toBe(seal.reason === null);
          }
          if (result.some(({ state }) => state === 'query')) {
            expect(queries.length).toBeGreaterThan(0);
          }
          const ids = queries.map(({ id }) => id);
          expect(new Set(ids).size).toBe(ids.length);
        },
      ),
      { numRuns: 200 },
    );
  });
});

describe('an opening that nothing passes', () => {
  const sealed = (widthMm: number, heightMm: number, settings: object = {}) => {
    const hole = makePenetration({
      shape: { type: 'rectangle', widthMm, heightMm },
      crossings: [],
    });
    return designSeals({
      penetrations: [hole],
      schedule: makeSchedule([]),
      matches: makeMatches([]),
      range: sampleRange(),
      settings: Settings.parse(settings),
    });
  };

  test('is closed by a blank seal while it is small', () => {
    expect(sealed(300, 200).result[0]).toMatchObject({ state: 'designed', freeAreaMm2: 60_000 });
  });

  test('is asked about when it is large enough for a window, and takes no sealant', () => {
    const { result, queries } = sealed(1200, 1500);
    expect(result[0]).toMatchObject({ state: 'query', sealant: null, fillerQuantities: [] });
    expect(queries.map(({ code }) => code)).toContain('opening-large-and-empty');
    expect(sealed(1200, 1500, { design: { largestBlankMm: 2000 } }).result[0]?.state).toBe(
      'designed',
    );
  });
});
