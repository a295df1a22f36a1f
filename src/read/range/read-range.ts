import type { InputFile } from '../../model/input.ts';
import { Range } from '../../model/range.ts';
import { readYaml } from '../shared/read-yaml.ts';

/**
 * Reads a range of fillers, sealants and consumables from YAML or JSON. Throws
 * `settings-invalid` with file, line, what is wrong and what is allowed.
 */
export function readRange(file: InputFile): Range {
  return readYaml(file, Range).value;
}
