import { SealbookError } from '../../basics/errors.ts';
import { Settings } from '../../model/settings.ts';
import { listAssumptions } from './list-assumptions.ts';
import type { Project } from './read-project.ts';

const KINDS: Readonly<Record<string, 'ifc' | 'dxf' | 'schedule'>> = {
  ifc: 'ifc',
  dxf: 'dxf',
  xlsx: 'schedule',
  csv: 'schedule',
};

/**
 * Settings for a pile of files without a project file: a key from each name, the kind from its
 * ending, all else by default. Throws `usage` for a file of unknown kind.
 */
export function guessProject(names: readonly string[]): Project {
  const files: Record<string, unknown> = {};
  for (const name of names)
    files[freeKey(keyFrom(name), files)] = { path: name, kind: kindOfFile(name) };
  const given = { files };
  const settings = Settings.parse(given);
  const guesses = Object.entries(settings.files).map(([key, file]) => ({
    path: `files.${key}`,
    value: `${file.path} read as ${file.kind}`,
    source: 'assumed: from the ending of the file name',
  }));
  return { settings, assumptions: [...guesses, ...listAssumptions(settings, given)] };
}

/** The kind of a file by the ending of its name. Throws `usage` for one that is not read. */
export function kindOfFile(name: string): 'ifc' | 'dxf' | 'schedule' {
  const ending = name.slice(name.lastIndexOf('.') + 1).toLowerCase();
  const kind = Object.hasOwn(KINDS, ending) ? KINDS[ending] : undefined;
  if (kind !== undefined) return kind;
  throw new SealbookError('usage', `${name} is not a kind of file that is read.`, {
    where: { file: name },
    todo:
      (Object.hasOwn(ADVICE, ending) ? ADVICE[ending] : undefined) ??
      'Give .ifc, .dxf, .xlsx or .csv files, or a project.yaml.',
  });
}

const ADVICE: Readonly<Record<string, string>> = {
  dwg: 'Save the drawing as ASCII DXF (2018 or older) and give that.',
  pdf: 'Ask for the drawing as DXF; a PDF carries no layers.',
  ifczip: 'Unzip it and give the .ifc inside.',
  xls: 'Save the schedule as .xlsx or .csv.',
};

function keyFrom(name: string): string {
  const base = name.slice(Math.max(name.lastIndexOf('/'), name.lastIndexOf('\\')) + 1);
  const named = base.includes('.') ? base.slice(0, base.lastIndexOf('.')) : base;
  // A copy with our tags is the same model: ids made from the key must not change with it.
  const stem = named.replace(/-tagged(-\d+)?$/, '');
  const key = stem
    .replace(/[^A-Za-z0-9]+/g, '-')
    .replace(/^-+|-+$/g, '')
    .toLowerCase();
  return /^[a-z]/.test(key) ? key : `file-${key}`;
}

function freeKey(key: string, taken: Readonly<Record<string, unknown>>): string {
  let free = key;
  for (let count = 2; Object.hasOwn(taken, free); count += 1) free = `${key}-${count}`;
  return free;
}
