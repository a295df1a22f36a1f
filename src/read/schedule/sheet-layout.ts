import { SealbookError } from '../../basics/errors.ts';
import type { SheetTable } from '../../formats/shared/sheet-table.ts';
import { COLUMNS, type Column, plainHeading, UNUSED_COLUMNS } from './column-names.ts';
import { findHeader, type Header } from './find-header.ts';
import type { FoundColumn } from './found-column.ts';
import type { ScheduleFileSettings } from './open-sheets.ts';

/** Columns that only cable schedules have; a list of rooms or drawings has none of them. */
const TELLING: ReadonlySet<Column> = new Set<Column>([
  'type',
  'construction',
  'cores',
  'size',
  'diameter',
  'from',
  'to',
  'fromRoom',
  'toRoom',
  'route',
  'circuit',
  'circuitRef',
]);

/** The header of a sheet with the settings applied; null where the sheet is no cable schedule. */
export function sheetLayout(sheet: SheetTable, settings: ScheduleFileSettings): Header | null {
  const wanted = wantedColumns(settings);
  const found = wanted.some(([column]) => column === 'ref')
    ? headerBySettings(sheet, settings, wanted)
    : findHeader(sheet, settings.headerRow);
  if (found === null) return null;
  const header = applyColumns(found, wanted);
  const kinds = new Set(header.columns.map(({ column }) => column));
  if (!kinds.has('ref')) return null;
  const isAsked = wanted.length > 0 || (settings.sheets?.length ?? 0) > 0;
  const isTelling = [...kinds].some((kind) => TELLING.has(kind));
  return isTelling || isAsked ? header : null;
}

/**
 * Columns that the settings name, with their headings.
 * @throws SealbookError `settings-invalid` for a name that is no column of ours.
 */
export function wantedColumns(settings: ScheduleFileSettings): Wanted {
  return Object.entries(settings.columns ?? {}).map(
    ([name, heading]) => [asColumn(name), heading] as const,
  );
}

/** @throws SealbookError `settings-invalid` for a name that is no column of ours. */
function asColumn(name: string): Column {
  const column = COLUMNS.find((known) => known === name);
  if (column !== undefined) return column;
  throw new SealbookError('settings-invalid', `There is no column called ${name}.`, {
    todo: `Under columns use: ${COLUMNS.filter((known) => !UNUSED_COLUMNS.has(known)).join(', ')}.`,
  });
}

type Wanted = readonly (readonly [Column, string])[];

/** The header whose heading for the reference is the one named in the settings. */
function headerBySettings(
  sheet: SheetTable,
  settings: ScheduleFileSettings,
  wanted: Wanted,
): Header | null {
  for (const [start, row] of sheet.rows.slice(0, 200).entries()) {
    if (settings.headerRow !== undefined && row.row !== settings.headerRow) continue;
    const texts = row.cells.map((cell) => cell?.text ?? '');
    const isHeader =
      settings.headerRow !== undefined ||
      wanted.some(
        ([column, heading]) => column === 'ref' && texts.some((text) => isHeading(text, heading)),
      );
    if (!isHeader) continue;
    const known = findHeader({ ...sheet, rows: sheet.rows.slice(start, start + 60) }, row.row);
    if (known !== null) return { ...known, start };
    return {
      start,
      depth: 1,
      columns: [],
      unknown: texts.flatMap((heading, at) => (heading === '' ? [] : [{ at, heading }])),
    };
  }
  return null;
}

function isHeading(text: string, wanted: string): boolean {
  return text === wanted || (text !== '' && plainHeading(text) === plainHeading(wanted));
}

/** Columns named in the settings take the place of what was recognised by name. */
function applyColumns(header: Header, wanted: Wanted): Header {
  let columns = header.columns;
  const headings = [
    ...header.columns.map(({ at, heading }) => ({ at, heading })),
    ...header.unknown,
  ];
  for (const [column, heading] of wanted) {
    const place =
      headings.find((known) => known.heading === heading) ??
      headings.find((known) => isHeading(known.heading, heading)) ??
      headings.find(
        (known) => known.heading.split(' ').length > 1 && known.heading.endsWith(heading),
      );
    if (place === undefined) continue;
    const unit = columns.find(({ at }) => at === place.at)?.unit ?? null;
    const rest = columns.flatMap((known) => {
      if (known.at === place.at) return [];
      return known.column === column ? standDown(known) : [known];
    });
    const set: FoundColumn = { ...place, column, unit, how: 'setting' };
    columns = [...rest, set].sort((a, b) => a.at - b.at);
  }
  const known = new Set(columns.map(({ at }) => at));
  return { ...header, columns, unknown: header.unknown.filter(({ at }) => !known.has(at)) };
}

/** A column that stood in for one the settings name is what its heading says again. */
function standDown({ insteadOf, ...column }: FoundColumn): FoundColumn[] {
  return insteadOf === undefined ? [] : [{ ...column, column: insteadOf, how: 'name' }];
}
