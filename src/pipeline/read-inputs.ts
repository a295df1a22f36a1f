import { SealbookError, withFile } from '../basics/errors.ts';
import type { ReadLimits } from '../basics/limits.ts';
import type { OnProgress } from '../basics/progress.ts';
import { makeQuery, type Query, type WithQueries } from '../basics/query.ts';
import { timeLimit } from '../basics/time-limit.ts';
import type { BcfAnswer } from '../model/bcf-answers.ts';
import type { Building, SourceFile } from '../model/building.ts';
import type { Schedule } from '../model/cable.ts';
import type { Drawing } from '../model/drawing.ts';
import type { InputFile } from '../model/input.ts';
import type { UnreadContent } from '../model/issue.ts';
import type { ProjectFile, Settings } from '../model/settings.ts';
import { readBcf } from '../read/bcf/read-bcf.ts';
import { readDxf } from '../read/dxf/read-dxf.ts';
import { readIds } from '../read/ids/read-ids.ts';
import { type BuildingPart, joinBuildings } from '../read/ifc/join-buildings.ts';
import { readIfc } from '../read/ifc/read-ifc.ts';
import { builtInCableTable, type CableTable } from '../read/schedule/cable-table.ts';
import { readCableTable } from '../read/schedule/read-cable-table.ts';
import { readSchedule } from '../read/schedule/read-schedule.ts';
import { untagDxf } from '../write/dxf-tags/tag-dxf.ts';
import { untagIfc } from '../write/ifc-tags/tag-ifc.ts';
import type { Platform } from './platform.ts';

/** A file that could not be had, and why. */
export interface MissingFile {
  readonly key: string;
  readonly name: string;
  readonly error: SealbookError;
}

/** What is to be read. */
export interface FilesToRead {
  readonly settings: Settings;
  readonly files: readonly InputFile[];
  readonly missing?: readonly MissingFile[];
  readonly keepGoing?: boolean;
}

/** All that the inputs say, before anything is found in them. */
export interface Inputs {
  /** Null when no model was read. */
  readonly building: Building | null;
  readonly drawings: readonly Drawing[];
  readonly schedule: Schedule;
  /** Files that were read, by key. */
  readonly sources: readonly SourceFile[];
  readonly unread: readonly UnreadContent[];
  /** What people answered to our queries elsewhere. */
  readonly answers: readonly BcfAnswer[];
}

interface Collected {
  readonly buildings: BuildingPart[];
  readonly drawings: Drawing[];
  readonly schedules: Schedule[];
  /** The user's own tables of diameters, which stand before the built-in one. */
  readonly tables: CableTable[];
  readonly sources: SourceFile[];
  readonly unread: UnreadContent[];
  readonly answers: BcfAnswer[];
  readonly queries: Query[];
}

/**
 * Reads every file of the project, in its order: the first model gives the world frame. With `keepGoing` a file that can't
 * be read becomes a query of severity `stop` and the others are used; without, its error is thrown.
 */
export async function readInputs(
  { settings, files, missing = [], keepGoing = false }: FilesToRead,
  platform: Platform,
): Promise<WithQueries<Inputs>> {
  const collected: Collected = {
    buildings: [],
    drawings: [],
    schedules: [],
    tables: [],
    sources: [],
    unread: [],
    answers: [],
    queries: missing.map(fileNotRead),
  };
  for (const file of inReadingOrder(files, settings)) {
    const entry = settings.files[file.key];
    if (entry === undefined) continue;
    platform.onProgress?.({ step: `reading ${file.name}`, done: 0, total: 0 });
    const unread = await readWatched(file, { settings, keepGoing }, platform, (limits) =>
      readOne(file, entry, settings, limits, platform, collected),
    );
    collected.queries.push(...unread);
  }
  const joined = collected.buildings.length > 0 ? joinBuildings(collected.buildings) : null;
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
      answers: collected.answers,
    },
    queries: [...collected.queries, ...(joined?.queries ?? [])],
  };
}

/**
 * Reads one file, watched over and within the limits that are handed to `read`. What can't be read is
 * thrown or, with `keepGoing`, given back as a query.
 */
export async function readWatched(
  { key, name }: InputFile,
  { settings: { limits }, keepGoing }: { readonly settings: Settings; readonly keepGoing: boolean },
  platform: Platform,
  read: (limits: Required<ReadLimits>) => void | Promise<void>,
): Promise<readonly Query[]> {
  const end = platform.watchReading?.(name, limits.fileSeconds);
  try {
    await read({ ...limits, checkTime: timeLimit(platform.nowMs, limits.fileSeconds) });
    return [];
  } catch (error) {
    if (!(error instanceof SealbookError)) throw error;
    if (!keepGoing) throw withFile(error, name);
    return [fileNotRead({ key, name, error })];
  } finally {
    end?.();
  }
}

/** As the project lists them; tables of diameters first, since schedules look cables up in them. */
function inReadingOrder(files: readonly InputFile[], settings: Settings): InputFile[] {
  const keys = Object.keys(settings.files);
  const rank = ({ key }: InputFile) =>
    keys.indexOf(key) + (settings.files[key]?.kind === 'cable-table' ? 0 : keys.length);
  return [...files].sort((a, b) => rank(a) - rank(b));
}

async function readOne(
  file: InputFile,
  entry: ProjectFile,
  settings: Settings,
  limits: Required<ReadLimits>,
  platform: Platform,
  collected: Collected,
): Promise<void> {
  const onProgress: OnProgress = (event) => {
    limits.checkTime();
    platform.onProgress?.(event);
  };
  switch (entry.kind) {
    case 'ifc': {
      const { result, queries } = await readIfc(withoutOurTags(file, untagIfc), settings, {
        ...(platform.wasm ? { wasm: platform.wasm } : {}),
        onProgress,
        correction: { moveMm: entry.moveMm ?? [0, 0, 0], turnDeg: entry.turnDeg ?? 0 },
      });
      collected.buildings.push({ building: result.building, frame: result.frame });
      collected.unread.push(...result.unread);
      collected.queries.push(...queries);
      collected.sources.push(await source(file, 'ifc', result.schema, platform));
      return;
    }
    case 'dxf': {
      const { result, queries } = readDxf(withoutOurTags(file, untagDxf), entry, settings, {
        onProgress,
      });
      collected.drawings.push(result.drawing);
      collected.unread.push(...result.unread);
      collected.queries.push(...queries);
      collected.sources.push(await source(file, 'drawing', result.schema, platform));
      return;
    }
    case 'schedule': {
      const { result, queries } = await readSchedule(
        file,
        entry,
        [...collected.tables, builtInCableTable()],
        limits,
      );
      collected.schedules.push(result);
      collected.queries.push(...queries);
      collected.sources.push(await source(file, 'schedule', sheetFormat(file.name), platform));
      return;
    }
    case 'bcf': {
      const { result, queries } = readBcf(file, limits);
      collected.answers.push(...result.answers);
      collected.queries.push(...queries);
      if (result.version !== '3.0') collected.queries.push(notCarriedOn(file, result.version));
      collected.sources.push(await source(file, 'issues', `BCF ${result.version}`, platform));
      return;
    }
    case 'ids':
      // Refused here where it can't be read; each model is checked against it once all are there: see
      // model-requirements.
      readIds(file, limits);
      collected.sources.push(await source(file, 'requirements', 'IDS', platform));
      return;
    case 'workbook':
      // Read once the register is known: see take-workbooks.
      collected.sources.push(await source(file, 'issues', 'XLSX', platform));
      return;
    case 'cable-table': {
      const { result, queries } = await readCableTable(file, limits);
      collected.tables.push(result);
      collected.queries.push(...queries);
      collected.sources.push(await source(file, 'schedule', sheetFormat(file.name), platform));
    }
  }
}

/** Our own tags of an earlier run are no content. A file that can't be untagged is its reader's to refuse. */
function withoutOurTags(file: InputFile, untag: (bytes: Uint8Array) => Uint8Array): InputFile {
  try {
    return { ...file, bytes: untag(file.bytes) };
  } catch (error) {
    if (error instanceof SealbookError) return file;
    throw error;
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

/** Our archives are 3.0: one that another program saved as something else is read and left. */
function notCarriedOn(file: InputFile, version: string): Query {
  return makeQuery('topic-unclear', {
    about: `${file.key}/version`,
    text: `${file.name} is BCF ${version}. Its answers were read; the archive of this issue, which is 3.0, does not carry on its comments and the topics of others.`,
    why: 'What others wrote there would be looked for in vain in the new archive.',
    settles: 'The archive saved as BCF 3.0, or word that the old one is kept beside.',
    evidence: [{ fact: 'version', text: version, place: { fileKey: file.key } }],
  });
}

function sheetFormat(name: string): string {
  return name.toLowerCase().endsWith('.csv') ? 'CSV' : 'XLSX';
}

/** The query about a file that could not be had or read. */
function fileNotRead({ key, name, error }: MissingFile): Query {
  return makeQuery('file-not-read', {
    about: key,
    text: `${name} was not read: ${error.message}`,
    why: 'All that is in this file is missing from this issue.',
    settles: error.todo ?? 'A file that can be read.',
    evidence: [{ fact: 'file', text: error.message, place: { fileKey: key } }],
  });
}
