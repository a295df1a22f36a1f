/**
 * A block of lines of ours before the end of the data section of an IFC file, between two comments.
 * All other bytes stay as they are, and taking the block out gives them back.
 */
import { SealbookError } from '../../basics/errors.ts';
import type { BytePatch } from '../shared/byte-patch.ts';
import { asciiText, type StepLayout, scanStep } from './step-scan.ts';

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

/** Patches that take our blocks out; more than one only where files were joined by hand. */
export function blockRemovals(bytes: Uint8Array, marks: BlockMarks): BytePatch[] {
  if (!mayHold(bytes, marks.begin)) return [];
  const removals: BytePatch[] = [];
  let begin: number | null = null;
  scanStep(
    bytes,
    () => {},
    (start, end) => {
      if (end - start > 400) return;
      const words = asciiText(bytes, start + 2, end - 2).trim();
      if (words === marks.begin && begin === null) begin = start;
      else if (words === marks.end && begin !== null) {
        const after = lineEndAfter(bytes, end);
        removals.push({ at: begin, remove: after - begin, insert: NOTHING });
        begin = null;
      }
    },
  );
  return removals;
}

/** A quick look for the words of a comment, even inside a text: most models hold none. */
function mayHold(bytes: Uint8Array, words: string): boolean {
  const slash = 47;
  for (let at = bytes.indexOf(slash); at !== -1; at = bytes.indexOf(slash, at + 1)) {
    if (bytes[at + 1] !== 42) continue;
    if (
      asciiText(bytes, at + 2, at + 3 + words.length)
        .trim()
        .startsWith(words)
    )
      return true;
  }
  return false;
}

function lineEndAfter(bytes: Uint8Array, at: number): number {
  if (bytes[at] === 13 && bytes[at + 1] === 10) return at + 2;
  return bytes[at] === 10 ? at + 1 : at;
}

function unsafe(reason: string): SealbookError {
  return new SealbookError('input-unreadable', `The model can't be tagged: ${reason}.`, {
    todo: 'Export the model again as an IFC file in STEP form.',
  });
}
