import { type ReadLimits, USUAL_LIMITS } from '../basics/limits.ts';
import type { Query } from '../basics/query.ts';
import type { IdsReport } from '../model/ids-report.ts';
import type { InputFile } from '../model/input.ts';
import type { LookTable } from '../model/look.ts';
import { checkIds } from '../read/ids/check-ids.ts';
import { idsTables } from '../read/ids/ids-tables.ts';
import { MODEL_READY_IDS } from '../read/ids/model-ready-ids.ts';
import { readIds } from '../read/ids/read-ids.ts';

/** Word for our own requirements, "a model ready for this work", in place of a file. */
export const OWN_REQUIREMENTS = 'own';

export interface RequirementsAnswer {
  readonly report: IdsReport;
  /** The report for people: requirements, and the elements that don't meet them. */
  readonly tables: readonly LookTable[];
  readonly queries: readonly Query[];
}

/** Checks a model against an IDS file; null stands for the one that is shipped. Throws `input-unreadable`. */
export function checkRequirements(
  model: InputFile,
  requirements: InputFile | null,
  limits: ReadLimits = USUAL_LIMITS,
): RequirementsAnswer {
  const file = requirements ?? {
    key: OWN_REQUIREMENTS,
    name: 'model-ready.ids',
    bytes: new TextEncoder().encode(MODEL_READY_IDS),
  };
  const { result, queries } = readIds(file, limits);
  const report = checkIds(result, model.bytes);
  return { report, tables: idsTables(report), queries };
}
