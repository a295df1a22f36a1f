import { SealbookError } from '../basics/errors.ts';
import type { InputFile } from '../model/input.ts';
import { kindOfFile } from '../read/project/guess-project.ts';
import { untagDxf } from '../write/dxf-tags/tag-dxf.ts';
import { untagIfc } from '../write/ifc-tags/tag-ifc.ts';

/** The file without our tags: the bytes it had before. Throws `usage` for a kind that is never tagged. */
export function untagFile(file: InputFile): Uint8Array {
  switch (kindOfFile(file.name)) {
    case 'ifc':
      return untagIfc(file.bytes);
    case 'dxf':
      return untagDxf(file.bytes);
    default:
      throw new SealbookError('usage', `${file.name} is neither a model nor a drawing.`, {
        where: { file: file.name },
        todo: 'Give an .ifc or .dxf file.',
      });
  }
}
