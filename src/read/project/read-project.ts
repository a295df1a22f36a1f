import type { InputFile } from '../../model/input.ts';
import { type Assumption, Settings } from '../../model/settings.ts';
import { readYaml } from '../shared/read-yaml.ts';
import { listAssumptions } from './list-assumptions.ts';

export interface Project {
  readonly settings: Settings;
  /** Every setting that the file leaves to its default. */
  readonly assumptions: readonly Assumption[];
}

/** Reads `project.yaml`. Throws `settings-invalid` with file, line, what is wrong and what is allowed. */
export function readProject(file: InputFile): Project {
  const { value, given } = readYaml(file, Settings);
  return { settings: value, assumptions: listAssumptions(value, given) };
}
