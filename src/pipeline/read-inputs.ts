import { SealbookError, withFile } from '../basics/errors.ts';
import { compareText } from '../basics/order.ts';
import { makeQuery, type Query, type WithQueries } from '../basics/query.ts';
import type { Building, SourceFile } from '../model/building.ts';
import type { Schedule } from '../model/cable.ts';
import type { Drawing } from '../model/drawing.ts';
import type { InputFile } from '../model/input.ts';
import type { UnreadContent } from '../model/issue.ts';
import type { ProjectFile, Settings } from '../model/settings.ts';
import { readDxf } from '../read/dxf/read-dxf.ts';
import { joinBuildings } from '../read/ifc/join-buildings.ts';
import { readIfc } from '../read/ifc/read-ifc.ts';
import { type CableTable, builtInCableTable } from '../read/schedule/cable-table.ts';
import { readCableTable } from '../read/schedule/read-cable-table.ts';
import { readSchedule } from '../read/schedule/read-schedule.ts';
import type { Platform } from './platform.ts';

/** All that the inputs say, before anything is found in them. */
export interface Inputs {
  /** Null when no model was read. */
  readonly building: Building | null;
  readonly drawings: readonly Drawing[];
  readonly schedule: Schedule;
  /** Files that were read, by key. */
  readonly sources: readonly SourceFile[];
  readonly unread: readonly UnreadContent[];
}

interface Collected {
  readonly buildings: { readonly fileKey: string; readonly building: Building }[];
  readonly drawings: Drawing[];
  readonly schedules: Schedule[];
  readonly sources: SourceFile[];
  readonly unread: UnreadContent[];
  readonly queries: Query[];
}

/**
 * Reads every file of the project, in the order of their keys. With `keepGoing` a file that can't
 * be read becomes a query of severity `stop` and the others are used; without, its error is thrown.
 */
export async function readInputs(
  settings: Settings,
  files: readonly InputFile[],
  platform: Platform,
  keepGoing: boolean,
): Promise<WithQueries<Inputs>> {
  const collected: Collected = {
    buildings: [],
    drawings: [],
    schedules: [],
    sources: [],
    unread: [],
    queries: [],
  };
  const tables = readTables(settings, files, collected);
  for (const file of [...files].sort((a, b) => compareText(a.key, b.key))) {
    const entry = settings.files[file.key];
    if (entry === undefined) continue;
    platform.onProgress?.({ step: `reading ${file.name}`, done: 0, total: 0 });
    try {
      await readOne(file, entry, settings, tables, platform, collected);
    } catch (error) {
      if (!(error instanceof SealbookError)) throw error;
      if (!keepGoing) throw withFile(error, file.name);
      collected.queries.push(fileNotRead(file, error));
    }
  }
  const joined =
    collected.buildings.length > 0 ? joinBuildings(collected.buildings, settings) : null;
  return {
    result: {
      building: joined?.result ?? null,
      drawings: collected.drawings,
      schedule: {
        cables: collected.schedules.flatMap((schedule) => schedule.cables),
        rows: collected.schedules.flatMap((schedule) => schedule.rows),
      },
      sources: collected.sources,
      unread: collected.unread,
    },
    queries: [...collected.queries, ...(joined?.queries ?? [])],
  };
}

/** The user's own tables of diameters stand before the built-in one. */
function readTables(
  settings: Settings,
  files: readonly InputFile[],
  collected: Collected,
): readonly CableTable[] {
  const own = files
    .filter((file) => settings.files[file.key]?.kind === 'cable-table')
    .map((file) => {
      const { result, queries } = readCableTable(file);
      collected.queries.push(...queries);
      return result;
    });
  return [...own, builtInCableTable()];
}

async function readOne(
  file: InputFile,
  entry: ProjectFile,
  settings: Settings,
  tables: readonly CableTable[],
  platform: Platform,
  collected: Collected,
): Promise<void> {
  switch (entry.kind) {
    case 'ifc': {
      const { result, queries } = await readIfc(file, settings, {
        ...(platform.onProgress ? { onProgress: platform.onProgress } : {}),
        correction: { moveMm: entry.moveMm ?? [0, 0, 0], turnDeg: entry.turnDeg ?? 0 },
      });
      collected.buildings.push({ fileKey: file.key, building: result.building });
      collected.unread.push(...result.unread);
      collected.queries.push(...queries);
      collected.sources.push(await source(file, 'ifc', result.schema, platform));
      return;
    }
    case 'dxf': {
      const { result, queries } = readDxf(file, entry, settings);
      collected.drawings.push(result.drawing);
      collected.unread.push(...result.unread);
      collected.queries.push(...queries);
      collected.sources.push(await source(file, 'drawing', result.schema, platform));
      return;
    }
    case 'schedule': {
      const { result, queries } = await readSchedule(file, entry, tables);
      collected.schedules.push(result);
      collected.queries.push(...queries);
      collected.sources.push(await source(file, 'schedule', sheetFormat(file.name), platform));
      return;
    }
    case 'cable-table':
      collected.sources.push(await source(file, 'schedule', sheetFormat(file.name), platform));
  }
}

async function source(
  file: InputFile,
  kind: SourceFile['kind'],
  schema: string,
  platform: Platform,
): Promise<SourceFile> {
  const sha256 = await platform.sha256(file.bytes);
  return { key: file.key, name: file.name, kind, schema, sizeBytes: file.bytes.length, sha256 };
}

function sheetFormat(name: string): string {
  return name.toLowerCase().endsWith('.csv') ? 'CSV' : 'XLSX';
}

function fileNotRead(file: InputFile, error: SealbookError): Query {
  return makeQuery('file-not-read', {
    about: file.key,
    text: `${file.name} was not read: ${error.message}`,
    why: 'All that is in this file is missing from this issue.',
    settles: error.todo ?? 'A file that can be read.',
    evidence: [{ fact: 'file', text: error.message, place: { fileKey: file.key } }],
  });
}
