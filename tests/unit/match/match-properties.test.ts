import fc from 'fast-check';
import { expect, test } from 'vitest';
import { SealbookError } from '../../../src/basics/errors.ts';
import { matchCables } from '../../../src/match/match-cables.ts';
import { Settings } from '../../../src/model/settings.ts';
import { builtInCableTable } from '../../../src/read/schedule/cable-table.ts';
import { readSchedule } from '../../../src/read/schedule/read-schedule.ts';
import { corrupt, seeded } from '../../makers/schedule/corrupt.ts';
import { csvFile } from '../../makers/schedule/csv-file.ts';
import { denseTruthSet } from '../../makers/schedule/dense-truth-set.ts';
import { type TruthSet, truthSet } from '../../makers/schedule/truth-set.ts';

const SETTINGS = Settings.parse({});
const TABLES = [builtInCableTable()];
const SET = truthSet(60);
const DENSE = denseTruthSet(60);

/** What a schedule comes to: for each of its rows the penetrations, sorted. */
async function matchRows(
  set: Pick<TruthSet, 'penetrations'> & { readonly building: TruthSet['building'] | null },
  rows: readonly (readonly string[])[],
) {
  const { result: schedule, queries: read } = await readSchedule(csvFile(rows), {}, TABLES);
  const { result, queries } = matchCables(set.penetrations, set.building, schedule, [], SETTINGS);
  const rowOf = new Map(schedule.cables.map(({ id, place }) => [id, place.row]));
  const byRow = new Map<number, string[]>();
  for (const { cableId, penetrationId } of result.matches) {
    const row = rowOf.get(cableId) ?? 0;
    byRow.set(row, [...(byRow.get(row) ?? []), penetrationId].sort());
  }
  return { byRow, schedule, result, queries: [...read, ...queries] };
}

/** Nothing is placed where columns changed places so that no reference is left and the file is refused. */
async function matchedUnlessRefused(...given: Parameters<typeof matchRows>) {
  try {
    return (await matchRows(...given)).byRow;
  } catch (error) {
    if (error instanceof SealbookError && error.code === 'input-unreadable') return [];
    throw error;
  }
}

/** Matches by reference as written, for schedules whose rows were moved. */
async function matchesByMotor(rows: readonly (readonly string[])[]) {
  const { schedule, result } = await matchRows(SET, rows);
  const toOf = new Map(schedule.cables.map(({ id, to }) => [id, to ?? '']));
  return result.matches
    .map(({ cableId, penetrationId }) => `${toOf.get(cableId)} ${penetrationId}`)
    .sort();
}

test('all matches of the truth set are right', async () => {
  const { byRow } = await matchRows(SET, SET.rows);
  for (const [row, passed] of SET.truth) expect([row, byRow.get(row)]).toEqual([row, passed]);
});

test('the order of rows changes nothing', async () => {
  const [head = [], ...body] = SET.rows;
  const straight = await matchesByMotor(SET.rows);
  await fc.assert(
    fc.asyncProperty(fc.shuffledSubarray(body, { minLength: body.length }), async (shuffled) => {
      expect(await matchesByMotor([head, ...shuffled])).toEqual(straight);
    }),
    { numRuns: 25, seed: 7 },
  );
});

test('other separators, case and leading zeros change nothing', async () => {
  const [head = [], ...body] = SET.rows;
  const straight = await matchesByMotor(SET.rows);
  const restyle = fc.constantFrom<(text: string) => string>(
    (text) => text.replace('-', ' '),
    (text) => text.replace('-', '/'),
    (text) => text.replace('-', ''),
    (text) => text.replace('-', '_').toLowerCase(),
    (text) => text.replace('-', '-0'),
    (text) => text.replace(/-0+/, '-'),
  );
  await fc.assert(
    fc.asyncProperty(restyle, async (style) => {
      const styled = body.map((row) =>
        row.map((cell, at) => (at === 0 || at === 7 ? style(cell) : cell)),
      );
      expect(await matchesByMotor([head, ...styled])).toEqual(straight);
    }),
    { numRuns: 12, seed: 7 },
  );
});

test('notes, titles and empty rows between change nothing', async () => {
  const [head = [], ...body] = SET.rows;
  const straight = await matchesByMotor(SET.rows);
  const extra = fc.constantFrom(
    ['POWER CABLES'],
    ['', '', '', ''],
    ['Note: lengths are to be measured on site before ordering'],
    ['', 'see drawing', '', ''],
    ['Total', '', '', '', '', '', '', '', '12'],
    [...head],
  );
  await fc.assert(
    fc.asyncProperty(
      fc.array(fc.tuple(fc.nat(body.length), extra), { minLength: 1, maxLength: 6 }),
      async (notes) => {
        const rows: (readonly string[])[] = [...body];
        for (const [at, note] of notes) rows.splice(at, 0, note);
        expect(await matchesByMotor([head, ...rows])).toEqual(straight);
      },
    ),
    { numRuns: 40, seed: 7 },
  );
});

test('swapping two references that look alike never places a cable wrongly', async () => {
  const alike = [
    ['C-1O1', 'C-101'],
    ['C-I10', 'C-110'],
    ['CO-11', 'C0-11'],
    ['C-1l7', 'C-117'],
  ] as const;
  for (const [first, second] of alike) {
    const named = truthSet(2);
    const [a, b] = [named.truth.get(2) ?? [], named.truth.get(3) ?? []];
    const relabel = named.penetrations.map((each) => {
      const text = a.includes(each.id) ? first : b.includes(each.id) ? second : null;
      const place = { fileKey: 'model' };
      return text === null
        ? each
        : { ...each, references: [{ text, evidence: { fact: 'reference', text, place } }] };
    });
    const [head = [], one = [], two = []] = named.rows;
    const bare = (row: readonly string[], ref: string) => [
      ref,
      ...row.slice(1, 3),
      '',
      '',
      '',
      '',
      '',
      '',
    ];
    // As the model has them, then swapped.
    for (const [top, low] of [
      [first, second],
      [second, first],
    ]) {
      const { byRow } = await matchRows({ ...named, penetrations: relabel }, [
        head,
        bare(one, top ?? ''),
        bare(two, low ?? ''),
      ]);
      for (const row of [2, 3]) {
        for (const id of byRow.get(row) ?? []) expect(named.truth.get(row)).toContain(id);
      }
    }
  }
});

test.each([
  ['names far apart', SET, 20],
  ['names one digit apart', DENSE, 21],
  ['names far apart, no carrier network', { ...SET, building: null }, 22],
] as const)(
  'a thousand errors in schedules with %s never place a cable wrongly',
  async (_, set, seed) => {
    const random = seeded(seed);
    const wrong: string[] = [];
    let right = 0;
    // Four errors a schedule, 250 schedules: a thousand errors.
    for (let run = 0; run < 250; run++) {
      let rows = set.rows;
      const kinds: string[] = [];
      for (let more = 0; more < 4; more++) {
        const spoilt = corrupt(rows, random);
        rows = spoilt.rows;
        kinds.push(spoilt.kind);
      }
      const byRow = await matchedUnlessRefused(set, rows);
      for (const [row, found] of byRow) {
        const truth = set.truth.get(row) ?? [];
        const strays = found.filter((id) => !truth.includes(id));
        if (strays.length === 0) right += 1;
        else wrong.push(`row ${row}: ${strays.join(', ')} (${kinds.join('; ')})`);
      }
    }
    expect(wrong).toEqual([]);
    // Asking about everything would be no art.
    expect(right).toBeGreaterThan(250 * set.truth.size * 0.6);
  },
);

test('all matches of the truth set of names one digit apart are right', async () => {
  const { byRow } = await matchRows(DENSE, DENSE.rows);
  for (const [row, passed] of DENSE.truth) expect([row, byRow.get(row)]).toEqual([row, passed]);
});

test('each row of a spoilt schedule still ends as a cable, a heading or a query, and each cable once', async () => {
  const random = seeded(31);
  for (let run = 0; run < 40; run++) {
    let rows = SET.rows;
    for (let more = 0; more < 20; more++) rows = corrupt(rows, random).rows;
    const { schedule, result } = await matchRows(SET, rows);
    const filled = rows.filter((row) => row.some((cell) => cell.trim() !== '')).length;
    expect(schedule.rows.filter(({ outcome }) => outcome !== 'empty')).toHaveLength(filled);
    expect(result.outcomes.map(({ cableId }) => cableId).sort()).toEqual(
      schedule.cables.map(({ id }) => id).sort(),
    );
  }
});
