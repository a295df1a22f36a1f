import { SealbookError } from '../../basics/errors.ts';
import { type ReadLimits, USUAL_LIMITS } from '../../basics/limits.ts';
import { makeQuery, type Query, type WithQueries } from '../../basics/query.ts';
import type { SheetRow, SheetTable } from '../../formats/shared/sheet-table.ts';
import type { InputFile } from '../../model/input.ts';
import type { CableTable, CableTableRow } from './cable-table.ts';
import { type Column, headingUnit } from './column-names.ts';
import { readDesignation } from './designation.ts';
import { readHeading } from './heading-parts.ts';
import { openSheets } from './open-sheets.ts';
import { type DecimalSign, decimalSignOf, mmPer, readMeasure } from './read-number.ts';
import { rowText } from './row-cells.ts';

type Place = { readonly at: number; readonly unit: string | null };
type Places = ReadonlyMap<Column | 'standard' | 'source', Place>;

/**
 * The user's own table of diameters: a heading for construction or type, one for the outside
 * diameter (mm unless it says otherwise), and, where the type does not say them, cores and size.
 * Optional: smallest and largest diameter, mass, armour, standard, source.
 * @throws SealbookError `input-unreadable` where these headings are not found.
 */
export async function readCableTable(
  file: InputFile,
  limits: ReadLimits = USUAL_LIMITS,
): Promise<WithQueries<CableTable>> {
  const { result: opened, queries } = await openSheets(file, {}, limits);
  const rows: CableTableRow[] = [];
  const found: Query[] = [...queries];
  let tables = 0;
  for (const sheet of opened.sheets) {
    const header = findTableHeader(sheet);
    if (header === null) continue;
    tables += 1;
    const decimal = decimalSignOf(
      sheet.rows.flatMap((row) => row.cells.flatMap((cell) => cell?.text ?? [])),
    );
    for (const row of sheet.rows.slice(header.start + 1)) {
      const read = readRow(file, sheet, row, header.places, decimal);
      if (read === null) found.push(rowUnclear(file, sheet, row));
      else rows.push(read);
    }
  }
  if (tables === 0) throw noTable(file);
  return { result: { rows }, queries: found };
}

function findTableHeader(sheet: SheetTable): { start: number; places: Places } | null {
  for (const [start, row] of sheet.rows.slice(0, 40).entries()) {
    const places = new Map<Column | 'standard' | 'source', Place>();
    row.cells.forEach((cell, at) => {
      if (cell === null) return;
      const column = tableColumn(cell.text);
      if (column !== null && !places.has(column)) {
        places.set(column, { at, unit: headingUnit(cell.text) });
      }
    });
    const isNamed = places.has('type') || places.has('construction');
    if (isNamed && (places.has('diameter') || places.has('largestDiameter'))) {
      return { start, places };
    }
  }
  return null;
}

function tableColumn(heading: string): Column | 'standard' | 'source' | null {
  const plain = heading.trim().toLowerCase();
  if (/^(?:standard|norm|norme|norma|source|quelle|fuente|origin|catalogue)$/u.test(plain)) {
    return /^(?:source|quelle|fuente|origin|catalogue)$/u.test(plain) ? 'source' : 'standard';
  }
  const code = plain.replace(/_/gu, ' ').replace(/ (?:per m|mm2?)$/u, '');
  const columns = [...readHeading(heading).columns, ...readHeading(code).columns];
  return columns.find((column) => column !== 'ref') ?? null;
}

function readRow(
  file: InputFile,
  sheet: SheetTable,
  row: SheetRow,
  places: Places,
  decimal: DecimalSign,
): CableTableRow | null {
  const text = (column: Column | 'standard' | 'source') => {
    const place = places.get(column);
    return place === undefined ? null : (row.cells[place.at]?.text ?? null);
  };
  const measure = (column: Column) => {
    const place = places.get(column);
    const cell = place === undefined ? null : (row.cells[place.at] ?? null);
    const read = cell === null ? null : readMeasure(cell, decimal);
    const factor = read === null ? null : mmPer(read.unit ?? place?.unit ?? 'mm');
    return read === null || factor === null
      ? null
      : { ...read, value: read.value * factor, factor };
  };
  const written = [text('type'), text('construction')].filter((part) => part !== null).join(' ');
  const said = readDesignation(written);
  const own = measure('diameter');
  const largest = measure('largestDiameter')?.value ?? scaled(own?.largest, own?.factor);
  const smallest = measure('smallestDiameter')?.value ?? scaled(own?.smallest, own?.factor);
  const diameterMm = own?.value ?? largest;
  if (written === '' || diameterMm === null || diameterMm <= 0 || diameterMm > 300) return null;
  const cores =
    text('cores') === null ? said.cores : readDesignation(`${text('cores')} core`).cores;
  const size =
    text('size') === null ? said.sizeMm2 : readDesignation(`${text('size')} mm2`).sizeMm2;
  return {
    construction: said.construction ?? written,
    standard: text('standard') ?? said.standard,
    armour: null,
    cores,
    fewestCores: null,
    sizeMm2: size,
    diameterMm,
    smallestDiameterMm: smallest,
    largestDiameterMm: largest,
    massKgPerM: massOf(measure('mass')?.value ?? null, places.get('mass')?.unit ?? null),
    source: text('source') ?? `${file.name}, sheet ${sheet.name}, row ${row.row}`,
    kind: 'own',
    note: text('remarks'),
  };
}

function scaled(value: number | null | undefined, factor: number | undefined): number | null {
  return value == null || factor === undefined ? null : value * factor;
}

function massOf(value: number | null, unit: string | null): number | null {
  return value !== null && unit === 'kg/km' ? value / 1000 : value;
}

function rowUnclear(file: InputFile, sheet: SheetTable, row: SheetRow): Query {
  return makeQuery('schedule-row-unclear', {
    about: `${file.key}:${sheet.name}:row ${row.row}`,
    severity: 'note',
    text: `${file.name}, sheet ${sheet.name}, row ${row.row} gives no construction with a diameter. Row: ${rowText(row).slice(0, 200)}`,
    why: 'Cables of this row are not found in the table.',
    settles: 'Construction and diameter in the row, or the row removed.',
    evidence: [
      {
        fact: 'row',
        text: rowText(row).slice(0, 200),
        place: { fileKey: file.key, sheet: sheet.name, row: row.row },
      },
    ],
  });
}

function noTable(file: InputFile): SealbookError {
  return new SealbookError(
    'input-unreadable',
    'The cable table needs a heading for the construction or type and one for the outside diameter.',
    {
      where: { file: file.name },
      todo: 'Head the columns construction, cores, size and diameter (mm).',
    },
  );
}
