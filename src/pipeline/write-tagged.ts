import type { Query } from '../basics/query.ts';
import type { Drawing } from '../model/drawing.ts';
import type { InputFile } from '../model/input.ts';
import type { Issue } from '../model/issue.ts';
import type { TagRefusal } from '../model/tag-edit.ts';
import { canBeCarriedOn, writeBcf } from '../write/bcf/write-bcf.ts';
import { dxfTagEdits } from '../write/dxf-tags/dxf-tag-edits.ts';
import { tagDxf } from '../write/dxf-tags/tag-dxf.ts';
import { fileFrame } from '../write/ifc-tags/file-frame.ts';
import { ifcTagEdits } from '../write/ifc-tags/ifc-tag-edits.ts';
import { tagIfc } from '../write/ifc-tags/tag-ifc.ts';
import { refusalQuery } from '../write/shared/refusal-query.ts';
import type { Platform } from './platform.ts';

interface TaggingInput {
  readonly issue: Issue;
  readonly drawings: readonly Drawing[];
  readonly files: readonly InputFile[];
}

interface OutputBytes {
  readonly name: string;
  readonly bytes: Uint8Array;
}

const BCF_NAME = 'queries.bcf';

export interface TaggedFiles {
  readonly files: readonly OutputBytes[];
  /** What could not be tagged, and why. */
  readonly queries: readonly Query[];
}

/**
 * Copies of the models and drawings with our tags, as the project asks. A file in which nothing was
 * tagged, or that can't be patched safely, has no copy; what was refused is a query.
 */
export function tagFiles(input: TaggingInput, platform: Platform): TaggedFiles {
  const { issue } = input;
  const { outputs } = issue.settings;
  const files: OutputBytes[] = [];
  const queries: Query[] = [];
  for (const file of input.files) {
    platform.onProgress?.({ step: `tagging ${file.name}`, done: 0, total: 0 });
    const kind = issue.settings.files[file.key]?.kind;
    const tagged =
      kind === 'ifc' && outputs.taggedModels
        ? taggedModel(file, issue)
        : kind === 'dxf' && outputs.taggedDrawings
          ? taggedDrawing(file, input)
          : null;
    if (tagged === null) continue;
    if (tagged.bytes !== null)
      files.push({ name: taggedName(file.name, files), bytes: tagged.bytes });
    const refusal = refusalQuery(file, tagged.refused);
    if (refusal !== null) queries.push(refusal);
  }
  return { files, queries };
}

/** The queries as BCF; comments and topics of an archive among the inputs are kept in it. */
export async function writeQueries(
  issue: Issue,
  files: readonly InputFile[],
  platform: Platform,
): Promise<OutputBytes[]> {
  if (!issue.settings.outputs.bcf || issue.queries.length === 0) return [];
  const { limits } = issue.settings;
  // One that can't be carried on was asked about when it was read.
  const before = files.find(
    (file) => issue.settings.files[file.key]?.kind === 'bcf' && canBeCarriedOn(file.bytes, limits),
  );
  const bytes = await writeBcf(issue, {
    svgToPng: platform.svgToPng,
    ...(before === undefined ? {} : { previous: before.bytes, limits }),
  });
  return [{ name: BCF_NAME, bytes }];
}

/** A tagged copy, null where nothing was written; and what was refused. */
interface Tagged {
  readonly bytes: Uint8Array | null;
  readonly refused: readonly TagRefusal[];
}

function taggedModel(file: InputFile, issue: Issue): Tagged | null {
  const edits = ifcTagEdits(issue, file.key);
  if (edits.length === 0) return null;
  const { sealElements, provisions, classification } = issue.settings.tags;
  const { result, added, refused } = tagIfc(file.bytes, edits, {
    fileKey: file.key,
    seals: sealElements,
    provisions,
    frame: fileFrame(issue.settings, file.key),
    ...(classification === undefined ? {} : { classification }),
  });
  return { bytes: added.length === 0 ? null : result, refused };
}

function taggedDrawing(file: InputFile, { issue, drawings }: TaggingInput): Tagged | null {
  const drawing = drawings.find((each) => each.fileKey === file.key);
  if (drawing === undefined) return null;
  const edits = dxfTagEdits(issue, file.key);
  if (edits.length === 0) return null;
  const { result, written, refused } = tagDxf(file.bytes, edits, { drawing });
  return { bytes: written.length === 0 ? null : result, refused };
}

/** `plan-tagged.dxf`; two files of one name in different folders get names of their own. */
function taggedName(name: string, taken: readonly OutputBytes[]): string {
  const dot = name.lastIndexOf('.');
  const [stem, ending] = dot < 0 ? [name, ''] : [name.slice(0, dot), name.slice(dot)];
  const free = (candidate: string) => taken.every((each) => each.name !== candidate);
  let candidate = `${stem}-tagged${ending}`;
  for (let count = 2; !free(candidate); count += 1) candidate = `${stem}-tagged-${count}${ending}`;
  return candidate;
}
