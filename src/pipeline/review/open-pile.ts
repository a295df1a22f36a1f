import { SealbookError } from '../../basics/errors.ts';
import type { InputFile } from '../../model/input.ts';
import { openProject, openRange } from '../open-project.ts';
import type { MissingFile } from '../read-inputs.ts';
import type { ReviewInput } from './open-review.ts';

/** A file as it was dropped. */
export interface DroppedFile {
  readonly name: string;
  readonly bytes: Uint8Array;
}

const REGISTER_NAME = 'register.jsonl';

/**
 * A project from files without folders: a project file among them rules and names the others, by the
 * last part of their paths; without one the kinds are guessed. A range and a register are known by
 * what they are. Throws `settings-invalid`, or `usage` where there is nothing to work on.
 */
export function openPile(dropped: readonly DroppedFile[]): ReviewInput {
  const texts = dropped.filter(({ name }) => /\.ya?ml$/i.test(name));
  const project = texts.find(isProject);
  const ranges = texts.filter((file) => file !== project);
  const registers = dropped.filter(({ name }) => /\.jsonl$/i.test(name));
  const content = dropped.filter((file) => !texts.includes(file) && !registers.includes(file));
  const opened =
    project === undefined
      ? openProject(content.map(({ name }) => name))
      : openProject({ key: 'project', ...project });
  const files: InputFile[] = [];
  const missing: MissingFile[] = [];
  for (const [key, { path }] of Object.entries(opened.settings.files)) {
    const name = lastPart(path);
    const found = content.find((file) => file.name === name);
    if (found !== undefined) files.push({ key, ...found });
    else missing.push({ key, name, error: notDropped(name) });
  }
  const [range] = ranges;
  const { range: used, assumptions } = openRange(
    range === undefined ? null : { key: 'range', ...range },
  );
  const [register] = registers;
  return {
    settings: opened.settings,
    assumptions: [...opened.assumptions, ...assumptions],
    range: used,
    files,
    missing,
    keepGoing: true,
    register: register === undefined ? null : { key: 'register', ...register },
    registerName: REGISTER_NAME,
  };
}

/** A project file says which files there are, a range says which sealants. */
function isProject({ bytes }: DroppedFile): boolean {
  const text = new TextDecoder().decode(bytes.subarray(0, HEAD_BYTES));
  return /^(?:files|project|issue):/m.test(text) && !/^sealants:/m.test(text);
}

const HEAD_BYTES = 64 * 1024;

function lastPart(path: string): string {
  return path.slice(Math.max(path.lastIndexOf('/'), path.lastIndexOf('\\')) + 1);
}

function notDropped(name: string): SealbookError {
  return new SealbookError('input-missing', `${name} is named by the project and was not given.`, {
    where: { file: name },
    todo: 'Drop it together with the others.',
  });
}
