import { groupBy } from '../../basics/order.ts';
import { makeQuery, type Query } from '../../basics/query.ts';
import type { Cable, ScheduleRow } from '../../model/cable.ts';
import type { InputFile } from '../../model/input.ts';
import type { DiameterAnswer } from './look-up-diameter.ts';
import type { RowReading, SheetReading } from './read-sheet.ts';
import type { CableReading } from './row-to-cable.ts';
import { unusedColumnsQuery, unusedName } from './unused-columns.ts';

export interface FinishedCables {
  readonly cables: readonly Cable[];
  readonly rows: readonly ScheduleRow[];
  readonly queries: readonly Query[];
}

/** Gives cables their ids and turns what was noticed into queries. Rows keep their order. */
export function finishCables(file: InputFile, sheets: readonly SheetReading[]): FinishedCables {
  const readings = sheets.flatMap(({ rows }) => rows);
  const places = groupBy(
    readings.filter((row) => row.outcome === 'cable'),
    (row) => plainId(row),
  );
  const withoutRoute = sheetsWithoutRoute(sheets);
  const cables: Cable[] = [];
  const queries: Query[] = [];
  const rows = readings.map((row): ScheduleRow => {
    const base = { place: row.place, outcome: row.outcome, text: row.text };
    if (row.outcome === 'heading') return { ...base, cableId: null, queryId: null };
    if (row.outcome === 'query') {
      queries.push(row.query);
      return { ...base, cableId: null, queryId: row.query.id };
    }
    const plain = plainId(row);
    const isRepeated = (places.get(plain)?.length ?? 0) > 1;
    const id = isRepeated ? `${plain}:${row.place.row}` : plain;
    const noRouteColumn = withoutRoute.get(row.place.sheet);
    const cable: Cable = {
      ...row.reading.cable,
      id,
      ...(noRouteColumn === undefined ? {} : { noRouteColumn }),
    };
    cables.push(cable);
    queries.push(...cableQueries(file, cable, row.reading));
    return { ...base, cableId: id, queryId: null };
  });
  queries.push(
    ...unknownStatuses(file, readings),
    ...sheets.flatMap((sheet) => hidden(file, sheet)),
    ...sheets.flatMap(
      ({ sheet, header, unused }) => unusedColumnsQuery(file, sheet, header, unused) ?? [],
    ),
  );
  return { cables, rows, queries };
}

/** What cables of sheets without a column for the route are told, by sheet. */
function sheetsWithoutRoute(
  sheets: readonly SheetReading[],
): ReadonlyMap<string, NonNullable<Cable['noRouteColumn']>> {
  return new Map(
    sheets
      .filter(({ hasRoute }) => !hasRoute)
      .map(({ sheet, unused }) => [sheet, { unused: unused.map(unusedName) }]),
  );
}

function plainId(row: RowReading): string {
  const ref = row.outcome === 'cable' ? row.reading.cable.ref : '';
  return `${row.place.fileKey}:${row.place.sheet}:${ref}`;
}

function cableQueries(file: InputFile, cable: Cable, reading: CableReading): Query[] {
  const queries: Query[] = [];
  const where = `${file.name}, sheet ${cable.place.sheet}, row ${cable.place.row}, cable ${cable.ref}`;
  const notes = [
    ...reading.misfits.map((misfit) => `${misfit} could not be read.`),
    ...reading.oddities.map((oddity) => `${oddity}.`),
    ...reading.doubts,
  ];
  if (notes.length > 0) {
    queries.push(
      makeQuery('schedule-row-unclear', {
        about: cable.id,
        text: `${where}: ${notes.join(' ')}`,
        why: 'The size and number of cables decide the seal.',
        settles: 'The cell corrected or completed in the schedule.',
        evidence: cable.evidence,
      }),
    );
  }
  if (cable.diameterMm === null) queries.push(diameterUnknown(cable, where, reading.lookedUp));
  return queries;
}

function diameterUnknown(cable: Cable, where: string, answer: DiameterAnswer | null): Query {
  const reason = answer?.found === 'row' || answer === null ? '' : ` ${answer.reason}`;
  const range =
    answer?.found === 'range'
      ? ` Cables of such cores and size measure about ${answer.smallestMm.toFixed(0)} to ${answer.largestMm.toFixed(0)} mm.`
      : ' There is nothing to estimate it from.';
  const type = cable.type === null ? 'no type' : `type ${cable.type}`;
  return makeQuery('cable-diameter-unknown', {
    about: cable.id,
    text: `${where} (${type}) has no outside diameter.${reason}${range}`,
    why: 'Fillers, free area and sealant all follow from the diameter; none is assumed.',
    settles:
      'The outside diameter as the answer, in mm; or in the schedule, or a row for this construction in a cable table.',
    evidence: cable.evidence,
  });
}

function unknownStatuses(file: InputFile, readings: readonly RowReading[]): Query[] {
  const unknown = readings.flatMap((row) =>
    row.outcome === 'cable' && row.reading.unknownStatus !== null
      ? [{ text: row.reading.unknownStatus, place: row.place }]
      : [],
  );
  return [...groupBy(unknown, ({ text }) => text.toLowerCase())].map(([text, rows]) =>
    makeQuery('schedule-row-unclear', {
      about: `${file.key}:status:${text}`,
      severity: 'note',
      text: `${file.name}: status “${rows[0]?.text ?? text}” of ${rows.length} cables is not understood; they count as to be laid now.`,
      why: 'Existing cables stay where they are, future ones need only room.',
      settles: 'Existing, now, future or to be removed in the schedule.',
      evidence: rows.slice(0, 3).map(({ place }) => ({ fact: 'status', text, place })),
    }),
  );
}

function hidden(file: InputFile, sheet: SheetReading): Query[] {
  if (sheet.hiddenRows.length === 0) return [];
  const rows = sheet.hiddenRows;
  const list = rows.slice(0, 20).join(', ') + (rows.length > 20 ? ' …' : '');
  return [
    makeQuery('schedule-row-unclear', {
      about: `${file.key}:${sheet.sheet}:hidden`,
      severity: 'note',
      text: `${file.name}, sheet ${sheet.sheet}: ${rows.length} hidden rows hold cables and were read (rows ${list}).`,
      why: 'Rows are hidden by filters, or because they no longer count.',
      settles: 'Rows that no longer count deleted, or given the status to be removed.',
      evidence: [{ fact: 'rows', text: list, place: { fileKey: file.key, sheet: sheet.sheet } }],
    }),
  ];
}
