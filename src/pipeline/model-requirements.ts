import { SealbookError, withFile } from '../basics/errors.ts';
import { makeQuery, type Query, type WithQueries } from '../basics/query.ts';
import type { ModelRequirements, SpecificationReport } from '../model/ids-report.ts';
import type { InputFile } from '../model/input.ts';
import type { Settings } from '../model/settings.ts';
import { checkRequirements } from './check-requirements.ts';

/** Failing elements that a query names; the report holds more. */
const MOST_NAMED = 5;

/**
 * Each model of the project against each IDS file of it, and against our own requirements where the
 * settings ask so; a specification that is not met is a query. `files` are those that could be read:
 * another was asked about when it was read.
 */
export function modelRequirements(
  files: readonly InputFile[],
  settings: Settings,
): WithQueries<readonly ModelRequirements[]> {
  const ofKind = (kind: string) => files.filter(({ key }) => settings.files[key]?.kind === kind);
  const wanted: (InputFile | null)[] = [
    ...ofKind('ids'),
    ...(settings.requirements.own ? [null] : []),
  ];
  const queries: Query[] = [];
  const result = wanted.flatMap((requirements) =>
    ofKind('ifc').map((model): ModelRequirements => {
      const answer = checked(model, requirements, settings);
      const name = requirements?.name ?? 'what we need of a model';
      const one = {
        modelKey: model.key,
        model: model.name,
        requirements: name,
        report: answer.report,
      };
      queries.push(
        ...answer.queries,
        ...one.report.specifications.flatMap((each) => asked(one, each)),
      );
      return one;
    }),
  );
  return { result, queries };
}

function checked(model: InputFile, requirements: InputFile | null, { limits }: Settings) {
  try {
    return checkRequirements(model, requirements, limits);
  } catch (error) {
    if (error instanceof SealbookError) throw withFile(error, requirements?.name ?? model.name);
    throw error;
  }
}

function asked(
  { modelKey, model, requirements }: ModelRequirements,
  { name, verdict, problems, requirements: each }: SpecificationReport,
): Query[] {
  if (verdict === 'pass') return [];
  const failed = each.filter(({ failed: count }) => count > 0);
  const found = failed.map(
    ({ text, failed: count, checked: all }) => `${text}: ${count} of ${all} do not`,
  );
  return [
    makeQuery('requirement-not-met', {
      about: `${modelKey}/${requirements}/${name}`,
      text: `${model} does not meet "${name}" of ${requirements}. ${[...problems, ...found].join('; ')}.`,
      why: 'What a model does not carry is guessed at, or missing in this issue.',
      settles: 'The model exported with it, or word that it does not matter here.',
      evidence: failed.flatMap(({ failures }) =>
        failures
          .slice(0, MOST_NAMED)
          .map(({ globalId, stepId, ifcClass, name: element, reason }) => ({
            fact: 'requirement',
            text: `${ifcClass} ${element ?? ''}: ${reason}`,
            place: { fileKey: modelKey, id: globalId ?? `#${stepId}` },
          })),
      ),
    }),
  ];
}
