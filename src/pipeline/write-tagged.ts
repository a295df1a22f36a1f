import type { Drawing } from '../model/drawing.ts';
import type { InputFile } from '../model/input.ts';
import type { Issue } from '../model/issue.ts';
import { writeBcf } from '../write/bcf/write-bcf.ts';
import { dxfTagEdits } from '../write/dxf-tags/dxf-tag-edits.ts';
import { tagDxf } from '../write/dxf-tags/tag-dxf.ts';
import { fileFrame } from '../write/ifc-tags/file-frame.ts';
import { ifcTagEdits } from '../write/ifc-tags/ifc-tag-edits.ts';
import { tagIfc } from '../write/ifc-tags/tag-ifc.ts';
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

/**
 * Copies of the models and drawings with our tags, and the queries as BCF, as the project asks. A
 * file in which nothing was tagged, or that can't be patched safely, has no copy.
 */
export async function writeTagged(input: TaggingInput, platform: Platform): Promise<OutputBytes[]> {
  const { issue, files } = input;
  const { outputs } = issue.settings;
  const tagged: OutputBytes[] = [];
  for (const file of files) {
    platform.onProgress?.({ step: `tagging ${file.name}`, done: 0, total: 0 });
    const kind = issue.settings.files[file.key]?.kind;
    const bytes =
      kind === 'ifc' && outputs.taggedModels
        ? taggedModel(file, issue)
        : kind === 'dxf' && outputs.taggedDrawings
          ? taggedDrawing(file, input)
          : null;
    if (bytes !== null) tagged.push({ name: taggedName(file.name, tagged), bytes });
  }
  if (outputs.bcf && issue.queries.length > 0) {
    const bytes = await writeBcf(issue, { svgToPng: platform.svgToPng });
    tagged.push({ name: BCF_NAME, bytes });
  }
  return tagged;
}

function taggedModel(file: InputFile, issue: Issue): Uint8Array | null {
  const edits = ifcTagEdits(issue, file.key);
  if (edits.length === 0) return null;
  const { sealElements, provisions, classification } = issue.settings.tags;
  const { result, added } = tagIfc(file.bytes, edits, {
    fileKey: file.key,
    seals: sealElements,
    provisions,
    frame: fileFrame(issue.settings, file.key),
    ...(classification === undefined ? {} : { classification }),
  });
  return added.length === 0 ? null : result;
}

function taggedDrawing(file: InputFile, { issue, drawings }: TaggingInput): Uint8Array | null {
  const drawing = drawings.find((each) => each.fileKey === file.key);
  if (drawing === undefined) return null;
  const edits = dxfTagEdits(issue, file.key);
  if (edits.length === 0) return null;
  const { result, written } = tagDxf(file.bytes, edits, { drawing });
  return written.length === 0 ? null : result;
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
