import { readdir, stat } from 'node:fs/promises';
import path from 'node:path';
import { SealbookError } from '../basics/errors.ts';
import { readInput } from '../files/read-input.ts';
import type { InputFile } from '../model/input.ts';
import type { Assumption, Settings } from '../model/settings.ts';
import { openProject } from '../pipeline/open-project.ts';
import type { MissingFile } from '../pipeline/read-inputs.ts';

/** A project with the bytes of all its files. */
export interface LoadedProject {
  readonly settings: Settings;
  readonly assumptions: readonly Assumption[];
  readonly files: readonly InputFile[];
  /** Files that could not be had, when asked to keep going. */
  readonly missing: readonly MissingFile[];
  readonly rangeFile: InputFile | null;
  /** Every path that was read; none of them may be written. */
  readonly inputPaths: readonly string[];
  /** Where outputs go unless told otherwise. */
  readonly defaultOut: string;
  /** Folder that keeps the register; null for files without a project, whose register stays with the outputs. */
  readonly folder: string | null;
}

export const PROJECT_NAME = 'project.yaml';
const START_LIMIT_MB = 16;

/**
 * Finds what `run` speaks of: a project file, a folder that holds one, a pile of files, or nothing
 * (the project in this folder), and reads it all.
 */
export async function loadProject(
  targets: readonly string[],
  rangePath: string | null,
  keepGoing: boolean,
): Promise<LoadedProject> {
  const projectPath = await projectPathOf(targets);
  return projectPath === null
    ? loadPile(targets, rangePath, keepGoing)
    : loadFrom(projectPath, rangePath, keepGoing);
}

async function projectPathOf(targets: readonly string[]): Promise<string | null> {
  const [target, ...more] = targets;
  if (target === undefined) {
    const here = (await readdir('.')).includes(PROJECT_NAME);
    if (here) return PROJECT_NAME;
    throw new SealbookError('usage', `There is no ${PROJECT_NAME} in this folder.`, {
      todo: 'Name a project, or the files: sealbook run FILES… --out DIR.',
    });
  }
  if (more.length > 0) return null;
  const found = await stat(target).catch(() => null);
  if (found?.isDirectory()) return path.join(target, PROJECT_NAME);
  return /\.ya?ml$/i.test(target) ? target : null;
}

async function loadFrom(
  projectPath: string,
  rangePath: string | null,
  keepGoing: boolean,
): Promise<LoadedProject> {
  const folder = path.dirname(projectPath);
  const bytes = await readInput(projectPath, START_LIMIT_MB);
  const { settings, assumptions } = openProject({
    key: 'project',
    name: path.basename(projectPath),
    bytes,
  });
  const paths = Object.entries(settings.files).map(
    ([key, file]) => [key, path.resolve(folder, file.path)] as const,
  );
  const range =
    rangePath ?? (settings.range === undefined ? null : path.resolve(folder, settings.range));
  return {
    settings,
    assumptions,
    ...(await readAll(paths, settings.limits.fileMb, keepGoing)),
    rangeFile: await readRangeFile(range),
    inputPaths: [projectPath, ...paths.map(([, file]) => file), ...(range === null ? [] : [range])],
    defaultOut: path.join(folder, 'out'),
    folder,
  };
}

async function loadPile(
  targets: readonly string[],
  rangePath: string | null,
  keepGoing: boolean,
): Promise<LoadedProject> {
  const { settings, assumptions } = openProject(targets);
  const paths = Object.entries(settings.files).map(([key, file]) => [key, file.path] as const);
  return {
    settings,
    assumptions,
    ...(await readAll(paths, settings.limits.fileMb, keepGoing)),
    rangeFile: await readRangeFile(rangePath),
    inputPaths: [...targets, ...(rangePath === null ? [] : [rangePath])],
    defaultOut: 'out',
    folder: null,
  };
}

async function readAll(
  paths: readonly (readonly [key: string, path: string])[],
  limitMb: number,
  keepGoing: boolean,
): Promise<{ files: InputFile[]; missing: MissingFile[] }> {
  const files: InputFile[] = [];
  const missing: MissingFile[] = [];
  for (const [key, file] of paths) {
    const name = path.basename(file);
    try {
      files.push({ key, name, bytes: await readInput(file, limitMb) });
    } catch (error) {
      if (!keepGoing || !(error instanceof SealbookError)) throw error;
      missing.push({ key, name, error });
    }
  }
  return { files, missing };
}

/** The range file under its key, or null where none is named. */
export async function readRangeFile(range: string | null): Promise<InputFile | null> {
  if (range === null) return null;
  return {
    key: 'range',
    name: path.basename(range),
    bytes: await readInput(range, START_LIMIT_MB),
  };
}
