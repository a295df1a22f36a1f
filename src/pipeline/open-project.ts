import { SealbookError } from '../basics/errors.ts';
import type { Shape } from '../geometry/shape.ts';
import type { InputFile } from '../model/input.ts';
import type { Range } from '../model/range.ts';
import type { Assumption } from '../model/settings.ts';
import { outlineFromDrawing } from '../read/dxf/outline-from-drawing.ts';
import { type OpeningTask, readOpening } from '../read/opening/read-opening.ts';
import { guessProject } from '../read/project/guess-project.ts';
import { type Project, readProject } from '../read/project/read-project.ts';
import { readRange } from '../read/range/read-range.ts';
import { sampleRange } from '../read/range/sample-range.ts';

/**
 * Settings from a project file, or from the names of a pile of files by guesses that are listed.
 * Throws `settings-invalid` or `usage`.
 */
export function openProject(from: InputFile | readonly string[]): Project {
  if ('bytes' in from) return readProject(from);
  if (from.length === 0) throw new SealbookError('usage', 'No files were named.');
  return guessProject(from);
}

export interface OpenedRange {
  readonly range: Range;
  /** Says that the sample range stands in where no range was given. */
  readonly assumptions: readonly Assumption[];
}

/** The user's range, or the sample range with a plain word about it. */
export function openRange(file: InputFile | null): OpenedRange {
  if (file !== null) return { range: readRange(file), assumptions: [] };
  const range = sampleRange();
  return {
    range,
    assumptions: [
      {
        path: 'range',
        value: range.name,
        source: 'assumed: SAMPLE range with invented figures, not to be built from',
      },
    ],
  };
}

/** An opening and its contents from a file for `size --from`. Throws `settings-invalid`. */
export function openOpening(file: InputFile): OpeningTask {
  return readOpening(file);
}

/** An opening from a closed outline of a drawing. Throws `usage` where none or several could be meant. */
export function openOutline(file: InputFile, handle: string | null): Shape {
  return outlineFromDrawing(file, handle);
}
