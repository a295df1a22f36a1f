import { SealbookError, withFile } from '../../basics/errors.ts';
import { type ReadLimits, USUAL_LIMITS } from '../../basics/limits.ts';
import { makeQuery, type WithQueries } from '../../basics/query.ts';
import type { IdsFile } from '../../formats/ids/ids-file.ts';
import { parseIds } from '../../formats/ids/parse-ids.ts';
import type { InputFile } from '../../model/input.ts';
import { auditSpecification } from './audit-specification.ts';

/**
 * Requirements of an IDS 1.0 file. Specifications that no model could meet, or that the standard
 * excludes, are kept and asked about.
 *
 * @throws SealbookError `input-unreadable` if the file is no IDS, `input-too-large` beyond limits.
 */
export function readIds(file: InputFile, limits: ReadLimits = USUAL_LIMITS): WithQueries<IdsFile> {
  const ids = parseNamed(file, limits);
  const queries = ids.specifications.flatMap((specification, index) => {
    const problems = auditSpecification(specification);
    if (problems.length === 0) return [];
    return makeQuery('requirement-invalid', {
      about: `${file.key}/${specification.identifier ?? index + 1}`,
      text: `The requirement "${specification.name}" ${problems.join('; ')}.`,
      why: 'No model can be judged by it, so what it asks stays unchecked.',
      settles: 'A corrected requirement from whoever wrote it.',
      evidence: [
        {
          fact: 'requirement',
          text: `Specification ${index + 1} of ${file.name}`,
          place: { fileKey: file.key },
        },
      ],
    });
  });
  return { result: ids, queries };
}

function parseNamed(file: InputFile, limits: ReadLimits): IdsFile {
  try {
    return parseIds(file.bytes, limits);
  } catch (error) {
    throw error instanceof SealbookError ? withFile(error, file.name) : error;
  }
}
