import type { IdsReport } from '../../model/ids-report.ts';
import type { LookTable } from '../../model/look.ts';

/** Elements listed of one requirement in a table; the report holds more. */
const LISTED = 20;

/** A report as tables for people: the requirements, and the elements that don't meet them. */
export function idsTables(report: IdsReport): LookTable[] {
  return [requirementTable(report), failureTable(report)].filter(({ rows }) => rows.length > 0);
}

function requirementTable({ specifications }: IdsReport): LookTable {
  return {
    title: 'Requirements',
    columns: ['Specification', 'Requirement', 'Verdict', 'Elements', 'Met', 'Not met', 'Remark'],
    rows: specifications.flatMap((specification) => {
      const { name, verdict, applicable, namesSchema, requirements } = specification;
      const remark = [
        ...specification.problems,
        ...(namesSchema ? [] : ["not written for this model's schema"]),
      ].join('; ');
      if (requirements.length === 0 || verdict === 'invalid') {
        return [[name, '', verdict, applicable, '', '', remark]];
      }
      return requirements.map((each, at) => [
        name,
        each.text,
        verdict === 'fail' && applicable === 0 ? 'fail' : each.verdict,
        each.checked,
        each.passed,
        each.failed,
        at === 0 ? remark : '',
      ]);
    }),
  };
}

function failureTable({ specifications }: IdsReport): LookTable {
  return {
    title: 'Elements that do not meet a requirement',
    columns: ['Requirement', 'Class', 'Name', 'GlobalId', 'Record', 'Found'],
    rows: specifications.flatMap(({ requirements }) =>
      requirements.flatMap(({ text, failures, failed }) => {
        const listed = failures
          .slice(0, LISTED)
          .map((each) => [
            text,
            each.ifcClass,
            each.name ?? '',
            each.globalId ?? '',
            `#${each.stepId}`,
            each.reason,
          ]);
        const more = failed - listed.length;
        return more > 0 ? [...listed, [text, '', `and ${more} more`, '', '', '']] : listed;
      }),
    ),
  };
}
