import path from 'node:path';
import { readInput } from '../files/read-input.ts';
import type { LoadedProject } from './load-project.ts';

/** The project with workbooks that came back, named on the command line, among its files. */
export async function withReturned(
  project: LoadedProject,
  paths: readonly string[],
): Promise<LoadedProject> {
  const { settings } = project;
  const files = [...project.files];
  const entries = { ...settings.files };
  for (const [at, file] of paths.entries()) {
    let key = `answers-${at + 1}`;
    while (Object.hasOwn(entries, key)) key = `${key}-`;
    const bytes = await readInput(file, settings.limits.fileMb);
    entries[key] = { path: file, kind: 'workbook' };
    files.push({ key, name: path.basename(file), bytes });
  }
  return {
    ...project,
    settings: { ...settings, files: entries },
    files,
    inputPaths: [...project.inputPaths, ...paths],
  };
}
