/**
 * A block of lines of ours before the end of the data section of an IFC file, between two comments.
 * All other bytes stay as they are, and taking the block out gives them back.
 */
import { SealbookError } from '../../basics/errors.ts';
import type { BytePatch } from '../shared/byte-patch.ts';
import { asciiText, type StepLayout } from './step-scan.ts';

/** Words of the two comments; plain ASCII without quotes, which some readers trip over. */
export interface BlockMarks {
  readonly begin: string;
  readonly end: string;
}

const NOTHING = new Uint8Array(0);

/** The patch that puts lines before the last `ENDSEC` of the data. */
export function blockPatch(
  layout: StepLayout,
  marks: BlockMarks,
  lines: readonly string[],
): BytePatch {
  const at = patchPlace(layout);
  const all = [`/* ${marks.begin} */`, ...lines, `/* ${marks.end} */`];
  const written = all.map((line) => line + layout.lineEnd).join('');
  return { at, remove: 0, insert: new TextEncoder().encode(written) };
}

/**
 * Offset where lines can be added.
 *
 * @throws SealbookError `input-unreadable` with the reason where a file can't be patched safely.
 */
export function patchPlace(layout: StepLayout): number {
  if (layout.dataSections === 0) throw unsafe('it has no data section (is it an IFC file?)');
  if (layout.lastEndsec === null || !layout.isComplete) throw unsafe('its end is missing');
  return layout.lastEndsec;
}

/**
 * Follows the comments of a scan and tells which records stand inside a block. A beginning without
 * an end, where someone cut into the block, is no block.
 */
export class BlockWatch {
  /** Patches that take the blocks out; more than one only where files were joined by hand. */
  readonly removals: BytePatch[] = [];
  readonly #bytes: Uint8Array;
  readonly #marks: BlockMarks;
  readonly #closed: ReadonlySet<number> | null;
  #begin: number | null = null;

  /** @param closed Beginnings that are known to have an end; null where that is not known yet. */
  constructor(bytes: Uint8Array, marks: BlockMarks, closed: ReadonlySet<number> | null = null) {
    this.#bytes = bytes;
    this.#marks = marks;
    this.#closed = closed;
  }

  get isInside(): boolean {
    return this.#begin !== null;
  }

  comment(start: number, end: number): void {
    if (end - start > LONGEST_MARK) return;
    const words = asciiText(this.#bytes, start + 2, end - 2).trim();
    if (words === this.#marks.begin && this.#begin === null) {
      if (this.#closed === null || this.#closed.has(start)) this.#begin = start;
    } else if (words === this.#marks.end && this.#begin !== null) {
      const remove = lineEndAfter(this.#bytes, end) - this.#begin;
      this.removals.push({ at: this.#begin, remove, insert: NOTHING });
      this.#begin = null;
    }
  }
}

/** Longer comments are none of ours. */
const LONGEST_MARK = 400;

/** Past the line end that follows, if one does. */
export function lineEndAfter(bytes: Uint8Array, at: number): number {
  if (bytes[at] === 13 && bytes[at + 1] === 10) return at + 2;
  return bytes[at] === 10 ? at + 1 : at;
}

function unsafe(reason: string): SealbookError {
  return new SealbookError('input-unreadable', `The model can't be tagged: ${reason}.`, {
    todo: 'Export the model again as an IFC file in STEP form.',
  });
}
