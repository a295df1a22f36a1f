import { readdir, readFile, stat } from 'node:fs/promises';
import path from 'node:path';
import { SealbookError } from '../basics/errors.ts';
import { compareText } from '../basics/order.ts';

/** A project of a list. */
export interface ListedProject {
  /** As the list has it, or from the folder that was searched. */
  readonly path: string;
  readonly file: string;
  /** Plain name of the folder its outputs go to; no two are alike. */
  readonly folder: string;
}

const PROJECT_NAME = 'project.yaml';
/** Folders within folders that are searched; own choice. */
const DEEPEST = 6;
const MOST_PROJECTS = 100_000;

/**
 * The projects of a list file (a path a line, from the list's own folder; # begins a remark) or of a
 * folder (every project.yaml in it), each once. Throws `input-missing`, or `usage` where there is none.
 */
export async function listProjects(target: string): Promise<ListedProject[]> {
  const found = await stat(target).catch(() => null);
  if (found === null) {
    throw new SealbookError('input-missing', `There is no list or folder ${target}.`, {
      where: { file: target },
      todo: 'Name a text file with a project a line, or a folder that holds projects.',
    });
  }
  const base = found.isDirectory() ? target : path.dirname(target);
  const paths = found.isDirectory() ? await searchFolder(target, DEEPEST) : await readList(target);
  if (paths.length === 0 || paths.length > MOST_PROJECTS) {
    throw new SealbookError('usage', `${target} names ${paths.length} projects.`, {
      where: { file: target },
      todo: `Name between 1 and ${MOST_PROJECTS} projects.`,
    });
  }
  return named(paths, base);
}

async function readList(file: string): Promise<string[]> {
  const lines = (await readFile(file, 'utf8')).split(/\r?\n/);
  return lines.map((line) => line.trim()).filter((line) => line !== '' && !line.startsWith('#'));
}

async function searchFolder(folder: string, deeper: number, within = ''): Promise<string[]> {
  const entries = await readdir(path.join(folder, within), { withFileTypes: true });
  const here = entries.some((entry) => entry.isFile() && entry.name === PROJECT_NAME)
    ? [path.join(within, PROJECT_NAME)]
    : [];
  if (deeper === 0) return here;
  const below: string[] = [];
  for (const { name } of entries
    .filter((entry) => entry.isDirectory() && !entry.name.startsWith('.'))
    .sort((a, b) => compareText(a.name, b.name))) {
    below.push(...(await searchFolder(folder, deeper - 1, path.join(within, name))));
  }
  return [...here, ...below];
}

function named(paths: readonly string[], base: string): ListedProject[] {
  const taken = new Set<string>();
  const files = new Set<string>();
  return paths.flatMap((each): ListedProject[] => {
    const whole = path.resolve(base, each);
    const file = /\.ya?ml$/i.test(whole) ? whole : path.join(whole, PROJECT_NAME);
    if (files.has(file)) return [];
    files.add(file);
    const folder = freeName(plainName(each), taken);
    taken.add(folder);
    return [{ path: each.split(path.sep).join('/'), file, folder }];
  });
}

const LONGEST_NAME = 80;

/** `site-a/block-2/project.yaml` as `site-a-block-2`: nothing of a path is left in it. */
function plainName(text: string): string {
  const plain = text
    .replace(/(^|[/\\])project\.ya?ml$/i, '')
    .replace(/\.ya?ml$/i, '')
    .normalize('NFC')
    .replace(/[^\p{L}\p{N}]+/gu, '-')
    .replace(/^-+|-+$/g, '')
    .slice(0, LONGEST_NAME);
  return plain === '' ? 'project' : plain;
}

function freeName(name: string, taken: ReadonlySet<string>): string {
  // Some file systems tell no capitals from small letters.
  const isTaken = (text: string) =>
    [...taken].some((each) => each.toLowerCase() === text.toLowerCase());
  if (!isTaken(name)) return name;
  for (let count = 2; ; count += 1) if (!isTaken(`${name}-${count}`)) return `${name}-${count}`;
}
