import { describe, expect, test } from 'vitest';
import type { Vec3 } from '../../../src/geometry/vec.ts';
import { matchCables } from '../../../src/match/match-cables.ts';
import type { Building, Equipment } from '../../../src/model/building.ts';
import type { Cable } from '../../../src/model/cable.ts';
import type { MatchDecision } from '../../../src/model/decision.ts';
import type { Penetration } from '../../../src/model/penetration.ts';
import { Settings } from '../../../src/model/settings.ts';
import { cable, scheduleOf } from '../../makers/schedule/cable.ts';
import {
  between,
  buildingOf,
  conduit,
  crossingOf,
  hole,
  reference,
  room,
  tray,
} from '../../makers/schedule/model.ts';
import { holeId, rowOfRooms } from '../../makers/schedule/row-of-rooms.ts';

const SETTINGS = Settings.parse({});

function match(
  penetrations: readonly Penetration[],
  cables: readonly Cable[],
  building: Building | null = null,
  decisions: readonly MatchDecision[] = [],
) {
  const { result, queries } = matchCables(
    penetrations,
    building,
    scheduleOf(cables),
    decisions,
    SETTINGS,
  );
  const at = (ref: string) =>
    result.matches
      .filter(({ cableId }) => cableId === `cables:Sheet:${ref}`)
      .map(({ penetrationId }) => penetrationId);
  const outcome = (ref: string) =>
    result.outcomes.find(({ cableId }) => cableId.startsWith(`cables:Sheet:${ref}`));
  return { result, queries, codes: queries.map(({ code }) => code), at, outcome };
}

const labelled = (id: string, ...texts: string[]) =>
  hole(id, [0, 0, 0], { references: texts.map(reference) });

describe('nothing says where it runs', () => {
  const asked = (given: Partial<Cable>) =>
    match([labelled('a', 'R-1')], [cable('P-9', given)]).queries.find(
      ({ code }) => code === 'cable-no-penetration',
    );

  test('a route left empty is none', () => {
    expect(asked({ route: [] })?.text).toContain('it has no route');
  });

  test('without a column for the route, the columns that may hold it are named', () => {
    const query = asked({ route: [], noRouteColumn: { unused: ['“Wibble”', '“Wobble”'] } });
    const text = query?.text;
    expect(text).not.toContain('it has no route');
    expect(text).toContain('no column of sheet Sheet was recognised as the route');
    expect(text).toContain('“Wibble”, “Wobble”');
    expect(query?.settles).toContain('under columns in the project file');
  });
});

describe('by reference', () => {
  test.each(['R1', 'r-01', 'R 01', 'r/001'])('a label R-1 names cable %s', (ref) => {
    const { at, result } = match([labelled('a', 'R-1'), labelled('b', 'R-2')], [cable(ref)]);
    expect(at(ref)).toEqual(['a']);
    expect(result.matches[0]?.confidence).toBeGreaterThan(0.9);
    expect(result.matches[0]?.reasons[0]).toContain('R-1');
  });

  test('1-11 and 11-1 are two', () => {
    const { at } = match([labelled('a', '1-11'), labelled('b', '11-1')], [cable('11-1')]);
    expect(at('11-1')).toEqual(['b']);
  });

  test('a label may list several cables', () => {
    const cables = [cable('P-101'), cable('P-102'), cable('P-10')];
    const { at } = match([labelled('a', 'P-101, P-102')], cables);
    expect([at('P-101'), at('P-102'), at('P-10')]).toEqual([['a'], ['a'], []]);
  });

  test('a longer reference does not hold a shorter one', () => {
    const { at, outcome } = match(
      [labelled('a', 'P-101 A'), labelled('b', 'MCC R 1-11')],
      [cable('P-101'), cable('R1'), cable('1-11')],
    );
    expect([at('P-101'), at('R1'), at('1-11')]).toEqual([[], [], []]);
    expect(outcome('P-101')?.outcome).toBe('queried');
  });

  test('of two references that share a key, only exact ones match', () => {
    const { at, outcome, codes } = match(
      [labelled('a', 'R1'), labelled('b', 'R 01')],
      [cable('R1'), cable('R-01')],
    );
    expect(at('R1')).toEqual(['a']);
    expect(at('R-01')).toEqual([]);
    expect(outcome('R-01')?.outcome).toBe('queried');
    expect(codes).toContain('reference-ambiguous');
  });

  test('look-alikes are offered and never matched', () => {
    const { at, outcome, codes } = match([labelled('a', 'RO1')], [cable('R01')]);
    expect(at('R01')).toEqual([]);
    expect(outcome('R01')?.candidates.map(({ penetrationId }) => penetrationId)).toEqual(['a']);
    expect(codes).toContain('reference-look-alike');
  });

  test('two references that look the same are both asked about', () => {
    const { result } = match(
      [labelled('a', 'RO1'), labelled('b', 'R01')],
      [cable('R01'), cable('RO1')],
    );
    expect(result.matches).toEqual([]);
    expect(result.outcomes.map(({ outcome }) => outcome)).toEqual(['queried', 'queried']);
  });

  test('a reference that two rows have is asked about in both', () => {
    const { result, codes } = match([labelled('a', 'R1')], [cable('R1'), cable('R1')]);
    expect(result.matches).toEqual([]);
    expect(codes.filter((code) => code === 'cable-duplicate')).toHaveLength(1);
    expect(codes.filter((code) => code === 'cable-match-doubtful')).toHaveLength(2);
  });

  test('three rows of one circuit, a phase each, are no repetition', () => {
    const { result } = match(
      [labelled('a', 'R1')],
      ['L1', 'L2', 'L3'].map((phase) => cable('R1', { phase })),
    );
    expect(result.matches).toHaveLength(3);
  });

  test('a bare number on an opening is no proof, on a modelled cable it is', () => {
    const modelled = tray(
      'k',
      '12',
      [
        [0, 0, 0],
        [1000, 0, 0],
      ],
      { kind: 'cable' },
    );
    const crossed = hole('a', [500, 0, 0], { crossings: [crossingOf(modelled, [500, 0, 0])] });
    expect(match([crossed], [cable('12')]).at('12')).toEqual(['a']);
    const { at, outcome } = match([labelled('a', '12')], [cable('12')]);
    expect(at('12')).toEqual([]);
    expect(outcome('12')?.candidates).toHaveLength(1);
  });

  test('a name that routes use is the carrier, not the cable that shares it', () => {
    const pipe = conduit('c', 'C1', [
      [0, 0, 0],
      [1000, 0, 0],
    ]);
    const crossed = hole('a', [500, 0, 0], { crossings: [crossingOf(pipe, [500, 0, 0])] });
    const { at } = match([crossed], [cable('C1'), cable('X9', { route: ['C1'] })]);
    expect([at('C1'), at('X9')]).toEqual([[], ['a']]);
  });

  test('a cable modelled in a tray lies in the tray', () => {
    const carrier = tray('t', 'T-01', [
      [0, 0, 0],
      [1000, 0, 0],
    ]);
    const modelled = tray(
      'k',
      'P-101',
      [
        [0, 0, 0],
        [1000, 0, 0],
      ],
      { kind: 'cable' },
    );
    const at: [number, number, number] = [500, 0, 0];
    const trayCrossing = crossingOf(carrier, at);
    const crossed = hole('a', at, {
      crossings: [trayCrossing, crossingOf(modelled, at, { carriedBy: trayCrossing.id })],
    });
    const { result } = match([crossed], [cable('P-101')]);
    expect(result.matches[0]).toMatchObject({ penetrationId: 'a', crossingId: trayCrossing.id });
  });
});

describe('by route and path', () => {
  test('a cable passes every wall its tray crosses on its way, and no further', () => {
    const { building, penetrations, cables, truth } = rowOfRooms(6, 2, 12);
    const { at } = match(penetrations, cables, building);
    for (const { ref } of cables) expect([ref, at(ref)]).toEqual([ref, truth.get(ref)]);
  });

  test('without a route, a single way between the rooms is followed', () => {
    const { building, penetrations, cables, truth } = rowOfRooms(5, 1, 6);
    const bare = cables.map((each) => ({ ...each, route: [] }));
    const { at, result } = match(penetrations, bare, building);
    for (const { ref } of cables) expect([ref, at(ref)]).toEqual([ref, truth.get(ref)]);
    expect(result.matches[0]?.reasons[0]).toContain('Room 101');
  });

  test('two ways about as long are asked about', () => {
    const { building, penetrations } = rowOfRooms(2, 1, 1);
    const second = tray('loop', 'T-09', [
      [500, 500, 2500],
      [500, 1200, 2500],
      [9500, 1200, 2500],
      [9500, 500, 2500],
    ]);
    const at: [number, number, number] = [5000, 1200, 2500];
    const other = hole('other', at, {
      crossings: [crossingOf(second, at)],
      ...between('Room 101', 'Room 102'),
    });
    const rooms = building.spaces.map(({ name }, n) =>
      room(name, [n * 5000 + 100, 0, 0], [n * 5000 + 4900, 3000, 3000]),
    );
    const ringed = buildingOf([...building.services, second], rooms);
    const { result, outcome } = match(
      [...penetrations, other],
      [cable('C-001', { from: 'Room 101', to: 'Room 102' })],
      ringed,
    );
    expect(result.matches).toEqual([]);
    expect(outcome('C-001')?.candidates).toHaveLength(2);
  });

  test('a reference that lies off the way contradicts it: both are asked about', () => {
    const { building, penetrations, cables } = rowOfRooms(3, 2, 1);
    const [first] = cables;
    const [ref, from, to] = [first?.ref ?? '', first?.fromRoom ?? '', first?.toRoom ?? ''];
    const elsewhere = hole('elsewhere', [0, 9000, 0], { references: [reference(ref)] });
    const { result, codes } = match(
      [...penetrations, elsewhere],
      [cable(ref, { fromRoom: from, toRoom: to })],
      buildingOf(building.services.slice(0, 1), building.spaces),
    );
    expect(result.matches).toEqual([]);
    expect(codes).toContain('cable-match-doubtful');
  });

  test('a route whose carriers do not lead to the other room is asked about', () => {
    const { penetrations } = rowOfRooms(4, 1, 1);
    const last = holeId(0, 3);
    const holes = penetrations.map((each) =>
      each.id === last ? each : { ...each, crossings: [] },
    );
    const { result, outcome } = match(holes, [
      cable('C-001', { fromRoom: 'Room 101', toRoom: 'Room 102', route: ['T-01'] }),
    ]);
    expect(result.matches).toEqual([]);
    expect(outcome('C-001')?.outcome).toBe('queried');
  });

  test('a route that crosses nothing ends as no penetration, with the reason', () => {
    const carrier = tray('t', 'T-05', [
      [0, 0, 0],
      [1000, 0, 0],
    ]);
    const { outcome } = match([], [cable('C-1', { route: ['T-05'] })], buildingOf([carrier]));
    expect(outcome('C-1')).toMatchObject({ outcome: 'noPenetration' });
    expect(outcome('C-1')?.reason).toContain('T-05');
  });

  test('an entry of a route that nothing is named after is asked about', () => {
    const { penetrations } = rowOfRooms(2, 1, 1);
    const { at, codes } = match(penetrations, [cable('C-1', { route: ['T-01', 'T-77'] })]);
    expect(at('C-1')).toEqual([holeId(0, 1)]);
    expect(codes).toContain('cable-route-gap');
  });
});

describe('held against other facts', () => {
  const crossedBy = (id: string, name: string, given: Partial<Penetration> = {}) => {
    const pipe = conduit(id, name, [
      [0, 0, 0],
      [1000, 0, 0],
    ]);
    return hole(id, [500, 0, 0], { crossings: [crossingOf(pipe, [500, 0, 0])], ...given });
  };

  test('a conduit that happens to have the cable’s name, off its route, is asked about', () => {
    const holes = [crossedBy('a', 'D-01'), crossedBy('b', 'R-05')];
    const { at, codes } = match(holes, [cable('D-1', { route: ['R-05'] })]);
    expect(at('D-1')).toEqual(['b']);
    expect(codes).toContain('cable-match-doubtful');
  });

  test('digits swapped into a carrier’s name are noticed by the one left without cables', () => {
    const holes = [crossedBy('a', 'C-21'), crossedBy('b', 'C-12')];
    const { at } = match(holes, [cable('X-1', { route: ['C-12'] })]);
    expect(at('X-1')).toEqual([]);
    const both = [cable('X-1', { route: ['C-12'] }), cable('X-2', { route: ['C-21'] })];
    expect(match(holes, both).at('X-1')).toEqual(['b']);
  });

  describe('a digit left out', () => {
    const holes = ['C-01', 'C-02', 'C-11'].map((name) => crossedBy(name, name));

    test('of a carrier that no cable uses is noticed where the schedule writes its zeros', () => {
      const cables = [cable('X-1', { route: ['C-1'] }), cable('X-2', { route: ['C-02'] })];
      const { at, queries } = match(holes, cables);
      expect([at('X-1'), at('X-2')]).toEqual([[], ['C-02']]);
      expect(queries.map(({ text }) => text).join()).toContain('C-1 may be a slip for C-11');
    });

    test('is none where the longer name is used, zeros are left out by habit, or it is written shorter still', () => {
      const used = ['C-1', 'C-02', 'C-11'].map((name) => cable(`X-${name}`, { route: [name] }));
      expect(match(holes, used).at('X-C-1')).toEqual(['C-01']);
      const habit = ['C-1', 'C-2'].map((name) => cable(`X-${name}`, { route: [name] }));
      expect(match(holes, habit).at('X-C-1')).toEqual(['C-01']);
      const short = ['c-1', 'C-02'].map((name) => cable(`X-${name}`, { route: [name] }));
      expect(match(holes, short).at('X-c-1')).toEqual(['C-01']);
    });

    test('of the cable’s own reference is noticed too', () => {
      const labels = ['P-01', 'P-02', 'P-11'].map((name) => labelled(name, name));
      const { at } = match(labels, [cable('P-1'), cable('P-02')]);
      expect([at('P-1'), at('P-02')]).toEqual([[], ['P-02']]);
      const all = match(labels, [cable('P-1'), cable('P-02'), cable('P-11')]);
      expect([all.at('P-1'), all.at('P-11')]).toEqual([['P-01'], ['P-11']]);
    });
  });

  test('a plain word in the route, such as spare, is no carrier for sure', () => {
    const { at, outcome } = match([crossedBy('a', 'spare')], [cable('X-1', { route: ['spare'] })]);
    expect(at('X-1')).toEqual([]);
    expect(outcome('X-1')?.candidates).toHaveLength(1);
  });

  test('a route that does not border on the room its end is named after is asked about', () => {
    const holes = [
      crossedBy('a', 'C-21', between('Switch room', 'Pump hall')),
      crossedBy('b', 'C-36', between('Switch room', 'Battery room')),
    ];
    const to = 'Pump hall sockets';
    expect(match(holes, [cable('X-1', { to, route: ['C-21'] })]).at('X-1')).toEqual(['a']);
    expect(match(holes, [cable('X-1', { to, route: ['C-36'] })]).at('X-1')).toEqual([]);
  });
});

describe('labels beside holes in drawings', () => {
  const label = (text: string, distanceMm: number) => ({
    text,
    evidence: { fact: 'reference', text, place: { fileKey: 'plan' }, distanceMm },
  });

  test('a label that stands farther off than another is its neighbour’s', () => {
    const holes = [hole('a', [0, 0, 0], { references: [label('P-1', 100), label('P-2', 700)] })];
    const { at, outcome } = match(holes, [cable('P-1'), cable('P-2')]);
    expect([at('P-1'), at('P-2')]).toEqual([['a'], []]);
    expect(outcome('P-2')?.outcome).toBe('queried');
  });

  test('a carrier’s own name counts, not the same label beside another hole', () => {
    const carrier = tray('t', 'R-07', [
      [0, 0, 0],
      [1000, 0, 0],
    ]);
    const crossed = hole('a', [500, 0, 0], { crossings: [crossingOf(carrier, [500, 0, 0])] });
    const beside = hole('b', [500, 900, 0], { references: [label('R-07', 300)] });
    const { at, outcome } = match([crossed, beside], [cable('X-1', { route: ['R-07'] })]);
    expect(at('X-1')).toEqual(['a']);
    expect(outcome('X-1')?.candidates).toEqual([]);
  });
});

describe('by rooms', () => {
  test('the only hole between two rooms is the one', () => {
    const { at } = match(
      [hole('a', [0, 0, 0], between('Store', 'Hall'))],
      [cable('C-1', { from: 'Store', to: 'Hall' })],
    );
    expect(at('C-1')).toEqual(['a']);
  });

  test('two holes between the rooms are both candidates', () => {
    const { result, outcome } = match(
      [
        hole('a', [0, 0, 0], between('Store', 'Hall')),
        hole('b', [0, 900, 0], between('Store', 'Hall')),
      ],
      [cable('C-1', { from: 'Store', to: 'Hall' })],
    );
    expect(result.matches).toEqual([]);
    expect(outcome('C-1')?.candidates).toHaveLength(2);
  });
});

describe('by route and rooms, where no network is known', () => {
  test('a tray is followed no further than the rooms of the ends', () => {
    const { penetrations, cables, truth } = rowOfRooms(6, 2, 12);
    const { at } = match(penetrations, cables);
    for (const { ref } of cables) expect([ref, at(ref)]).toEqual([ref, truth.get(ref)]);
  });

  test('also a cable that is named on its holes', () => {
    const { penetrations } = rowOfRooms(6, 1, 1);
    const named = penetrations.map((each) =>
      each.id === holeId(0, 2) ? { ...each, references: [reference('C-9')] } : each,
    );
    const one = cable('C-9', { fromRoom: 'Room 102', toRoom: 'Room 103', route: ['T-01'] });
    expect(match(named, [one]).at('C-9')).toEqual([holeId(0, 2)]);
  });

  test('a tray through several walls is asked about where one end alone is known', () => {
    const { penetrations } = rowOfRooms(4, 1, 1);
    const { at, outcome } = match(penetrations, [
      cable('C-1', { toRoom: 'Room 102', route: ['T-01'] }),
    ]);
    expect(at('C-1')).toEqual([]);
    expect(outcome('C-1')?.candidates).toHaveLength(3);
  });

  test('with nothing but a room, its holes are offered', () => {
    const { penetrations } = rowOfRooms(3, 1, 1);
    const { result, outcome } = match(penetrations, [cable('C-1', { fromRoom: 'Room 102' })]);
    expect(result.matches).toEqual([]);
    expect(outcome('C-1')?.candidates).toHaveLength(2);
  });
});

describe('decisions of people', () => {
  const decide = (given: Partial<MatchDecision>): MatchDecision => ({
    id: 'decision-1',
    cableId: 'cables:Sheet:R1',
    answer: 'passes',
    penetrationId: 'b',
    evidence: [],
    ...given,
  });
  const holes = [labelled('a', 'R1'), labelled('b')];

  test('win where nothing was found, and stay beside what was', () => {
    expect(match(holes, [cable('R1')], null, [decide({})]).at('R1')).toEqual(['a', 'b']);
  });

  test('take a cable out of a penetration', () => {
    const { at, outcome } = match(holes, [cable('R1')], null, [
      decide({ answer: 'passesNot', penetrationId: 'a' }),
    ]);
    expect(at('R1')).toEqual([]);
    expect(outcome('R1')?.outcome).toBe('noPenetration');
  });

  test('that it passes nothing win over its name on an opening', () => {
    const { at, outcome, queries } = match(holes, [cable('R1')], null, [
      decide({ answer: 'passesNothing', penetrationId: null }),
    ]);
    expect([at('R1'), outcome('R1')?.outcome]).toEqual([[], 'noPenetration']);
    expect(queries).toEqual([]);
  });

  test('on a cable that is gone, or now has another reference, become a query', () => {
    const { at, codes } = match(holes, [cable('R2')], null, [decide({})]);
    expect(at('R2')).toEqual([]);
    expect(codes).toContain('decision-unusable');
  });

  test('on a penetration that is gone become a query', () => {
    const { codes } = match(holes, [cable('R1')], null, [decide({ penetrationId: 'gone' })]);
    expect(codes).toContain('decision-unusable');
  });
});

describe('over the whole', () => {
  test('cables too big for their bore are asked about', () => {
    const pipe = conduit('c', 'C1', [
      [0, 0, 0],
      [1000, 0, 0],
    ]);
    const crossed = hole('a', [500, 0, 0], { crossings: [crossingOf(pipe, [500, 0, 0])] });
    const { codes } = match([crossed], [cable('X9', { route: ['C1'], diameterMm: 45 })]);
    expect(codes).toContain('contents-too-big');
  });

  describe('kinds of circuit in one carrier', () => {
    const tray = conduit('c', 'TR-1', [
      [0, 0, 0],
      [9000, 0, 0],
    ]);
    const crossed = [500, 3500, 6500].map((x, at) =>
      hole(`h${at}`, [x, 0, 0], { crossings: [crossingOf(tray, [x, 0, 0])] }),
    );
    const along = (kinds: readonly Cable['circuit'][], status: Cable['status'] = 'now') =>
      match(
        crossed,
        kinds.map((circuit, at) =>
          cable(`X${at}`, { route: ['TR-1'], diameterMm: 5, circuit, status }),
        ),
      ).queries.filter(({ code }) => code === 'circuits-mixed');

    // BS 7671 528.1, EN 50174-2, BS 5839-1 clause 26; from memory.
    test.each([
      [['HV', 'LV'], 1],
      [['HV', 'data', 'control'], 1],
      [['LV', 'data'], 1],
      [['LV', 'fire alarm'], 1],
      [['LV', 'LV', 'control'], 0],
      [['LV', 'fibre', 'earth'], 0],
      [['HV', 'fibre', 'earth'], 0],
      [['data', 'fire alarm', null], 0],
    ] as const)('%j: %i question, however many walls it passes', (kinds, count) => {
      const queries = along(kinds);
      expect(queries).toHaveLength(count);
      for (const kind of count === 0 ? [] : kinds) expect(queries[0]?.text).toContain(`${kind}: X`);
    });

    test('cables that are taken out do not count', () => {
      expect(along(['HV', 'LV'], 'to be removed')).toEqual([]);
    });
  });

  test('rows of one reference are one question with their places', () => {
    const rows = [4, 9].map((row) =>
      cable('R1', {
        id: `cables:Sheet:R1:${row}`,
        place: { fileKey: 'cables', sheet: 'Sheet', row },
      }),
    );
    const { queries } = match([hole('a', [0, 0, 0])], rows);
    const same = queries.filter(({ code }) => code === 'cable-duplicate');
    expect(same).toHaveLength(1);
    expect(same[0]?.text).toMatch(/row 4.*row 9/);
  });

  test('a tray without cables is asked about', () => {
    const { building, penetrations } = rowOfRooms(2, 2, 1);
    const { queries } = match(penetrations, [cable('C-1', { route: ['T-01'] })], building);
    const without = queries.filter(({ code }) => code === 'penetration-without-cables');
    expect(without.map(({ penetrationId }) => penetrationId)).toEqual([holeId(1, 1)]);
  });

  test('each cable has exactly one outcome', () => {
    const { penetrations, cables } = rowOfRooms(4, 3, 30);
    const extra = [cable('C-001'), cable(''), cable('---'), cable('C-O01')];
    const { result } = match(penetrations, [...cables, ...extra]);
    expect(new Set(result.outcomes.map(({ cableId }) => cableId)).size).toBe(34);
    expect(result.outcomes).toHaveLength(34);
  });
});

describe('ends at equipment of the model', () => {
  // A tray from a board through one wall, past a pump, and through a second wall.
  const run = tray('t', 'T-01', [
    [0, 0, 2500],
    [9000, 0, 2500],
  ]);
  const branch = tray('b', '', [
    [4000, 0, 2500],
    [4000, 800, 2500],
  ]);
  const walls = [2000, 6000].map((x, at) =>
    hole(at === 0 ? 'first' : 'second', [x, 0, 2500], {
      crossings: [crossingOf(run, [x, 0, 2500])],
    }),
  );
  const at = (name: string, positionMm: Vec3): Equipment => ({
    id: `model:${name}`,
    ref: { fileKey: 'model', id: name },
    names: [name],
    positionMm,
  });
  const building = (...equipment: Equipment[]): Building => ({
    ...buildingOf([run, branch]),
    equipment,
  });
  const board = at('MCC-1', [0, 300, 0]);
  const fed = cable('C-1', { from: 'MCC-1', to: 'P-101' });

  test('a cable passes the walls between them, and no other', () => {
    const { at: placed } = match([...walls], [fed], building(board, at('P-101', [4000, 1000, 0])));
    expect(placed('C-1')).toEqual(['first']);
    const farther = match([...walls], [fed], building(board, at('P-101', [9000, 500, 0])));
    expect(farther.at('C-1')).toEqual(['first', 'second']);
  });

  test('a name that stands at two places, or far from any carrier, is no end', () => {
    const twice = building(board, at('P-101', [4000, 1000, 0]), {
      ...at('P-101', [9000, 500, 0]),
      id: 'model:other',
    });
    expect(match([...walls], [fed], twice).at('C-1')).toEqual([]);
    const away = building(board, at('P-101', [4000, 30_000, 0]));
    expect(match([...walls], [fed], away).at('C-1')).toEqual([]);
  });

  test('a name without a number is a kind, not a name', () => {
    const pump = cable('C-1', { from: 'MCC-1', to: 'Pump' });
    const { at: placed } = match([...walls], [pump], building(board, at('Pump', [4000, 1000, 0])));
    expect(placed('C-1')).toEqual([]);
  });
});
