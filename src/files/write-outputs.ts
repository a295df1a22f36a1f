import { lstat, readdir, realpath, rename, rm } from 'node:fs/promises';
import path from 'node:path';
import { SealbookError } from '../basics/errors.ts';
import { isRunning } from './hold-lock.ts';
import { makeFolder } from './make-folder.ts';
import { unwritable, writeWhole } from './write-whole.ts';

export interface OutputFile {
  /** Plain name without folders. */
  readonly name: string;
  readonly bytes: Uint8Array;
}

/**
 * Writes all files beside their final place, then renames them: each appears whole or not at all,
 * and nothing is renamed before everything is written. Throws `output-unwritable`, also when an
 * output would land on an input.
 */
export async function writeOutputs(
  folder: string,
  files: readonly OutputFile[],
  inputPaths: readonly string[],
): Promise<string[]> {
  await makeFolder(folder);
  const targets = files.map((file) => path.join(folder, safeName(file.name)));
  await refuseInputs(targets, inputPaths);
  await refuseFolders(targets);
  await removeLeftovers(folder, files);
  const beside = targets.map((target) => `${target}.${process.pid}.part`);
  try {
    for (const [index, file] of files.entries()) {
      await writeWhole(beside[index] ?? '', file.bytes);
    }
    for (const [index, target] of targets.entries()) {
      await rename(beside[index] ?? '', target).catch(unwritable(target));
    }
  } catch (error) {
    await Promise.all(beside.map((part) => rm(part, { force: true })));
    throw error;
  }
  return targets;
}

async function refuseInputs(targets: readonly string[], inputs: readonly string[]): Promise<void> {
  const real = new Set(
    await Promise.all(inputs.map((input) => realpath(input).catch(() => input))),
  );
  for (const target of targets) {
    const resolved = await realpath(target).catch(() => path.resolve(target));
    if (!real.has(resolved)) continue;
    throw new SealbookError('output-unwritable', `${target} is one of the inputs.`, {
      where: { file: target },
      todo: 'Choose another folder with --out.',
    });
  }
}

/** Found before anything is renamed, so that no half of the outputs is replaced. */
async function refuseFolders(targets: readonly string[]): Promise<void> {
  for (const target of targets) {
    const found = await lstat(target).catch(() => null);
    if (found?.isDirectory()) unwritable(target)(new Error('a folder of that name is in the way'));
  }
}

/** What a run that was killed wrote beside its outputs, where that run is surely gone. */
async function removeLeftovers(folder: string, files: readonly OutputFile[]): Promise<void> {
  const names = new Set(files.map(({ name }) => name));
  for (const entry of await readdir(folder)) {
    const [, name, pid] = /^(.+)\.(\d{1,10})\.part$/.exec(entry) ?? [];
    if (name === undefined || !names.has(name) || isRunning(Number(pid))) continue;
    await rm(path.join(folder, entry), { force: true });
  }
}

function safeName(name: string): string {
  if (name === '' || name.startsWith('.') || /[/\\\0]/.test(name)) {
    throw new SealbookError('internal', `"${name}" is no name for an output.`);
  }
  return name;
}
