import type {
  ModelRequirements,
  RequirementReport,
  SpecificationReport,
} from '../../model/ids-report.ts';
import type { IssueIndex } from './issue-index.ts';
import type { Column, Table } from './table.ts';

/** One requirement of one model; `requirement` is null for a specification that is judged as a whole. */
export interface RequirementRow {
  readonly of: ModelRequirements;
  readonly specification: SpecificationReport;
  readonly requirement: RequirementReport | null;
}

/** Failing elements that stand in the cell; the JSON result holds more. */
const MOST_NAMED = 6;

/** Requirements: each model against each IDS file, a row a requirement, in the order of the files. */
export function requirementsTable({ issue }: IssueIndex): Table<RequirementRow> {
  return {
    name: 'requirements',
    columns: COLUMNS,
    rows: (issue.requirements ?? []).flatMap((of) =>
      of.report.specifications.flatMap((specification): RequirementRow[] =>
        specification.requirements.length === 0 || specification.verdict === 'invalid'
          ? [{ of, specification, requirement: null }]
          : specification.requirements.map((requirement) => ({ of, specification, requirement })),
      ),
    ),
  };
}

const VERDICTS = { pass: 'met', fail: 'not met', invalid: 'not assessed' } as const;

function verdictOf({ specification, requirement }: RequirementRow): string {
  const isEmpty = specification.verdict === 'fail' && specification.applicable === 0;
  const checked = requirement?.checked ?? specification.applicable;
  if (specification.verdict === 'pass' && checked === 0) return 'no elements';
  return VERDICTS[isEmpty || requirement === null ? specification.verdict : requirement.verdict];
}

function failing({ requirement }: RequirementRow): string {
  if (requirement === null || requirement.failed === 0) return '';
  const named = requirement.failures
    .slice(0, MOST_NAMED)
    .map(
      ({ ifcClass, name, globalId, stepId, reason }) =>
        `${ifcClass} ${name ?? ''} (${globalId ?? `#${stepId}`}): ${reason}`,
    );
  const more = requirement.failed - named.length;
  return [...named, ...(more > 0 ? [`and ${more} more`] : [])].join('\n');
}

const COLUMNS: readonly Column<RequirementRow>[] = [
  { title: 'Model', group: 'What', width: 22, kind: 'long', value: ({ of }) => of.model },
  {
    title: 'Requirements',
    group: 'What',
    width: 22,
    kind: 'long',
    value: ({ of }) => of.requirements,
  },
  {
    title: 'Specification',
    group: 'What',
    width: 30,
    kind: 'long',
    value: ({ specification }) => specification.name,
  },
  {
    title: 'Requirement',
    group: 'What',
    width: 40,
    kind: 'long',
    value: ({ requirement }) => requirement?.text ?? null,
  },
  { title: 'Verdict', group: 'Result', width: 13, kind: 'verdict', value: verdictOf },
  {
    title: 'Elements',
    unit: 'no.',
    group: 'Result',
    width: 10,
    kind: 'whole',
    value: ({ requirement, specification }) => requirement?.checked ?? specification.applicable,
  },
  {
    title: 'Met',
    unit: 'no.',
    group: 'Result',
    width: 8,
    kind: 'whole',
    value: ({ requirement }) => requirement?.passed ?? null,
  },
  {
    title: 'Not met',
    unit: 'no.',
    group: 'Result',
    width: 8,
    kind: 'whole',
    value: ({ requirement }) => requirement?.failed ?? null,
  },
  { title: 'Elements that do not', group: 'Grounds', width: 50, kind: 'long', value: failing },
  {
    title: 'Remark',
    group: 'Grounds',
    width: 32,
    kind: 'long',
    value: ({ specification, requirement }) =>
      requirement === null || requirement === specification.requirements[0]
        ? [
            ...specification.problems,
            ...(specification.namesSchema ? [] : ["not written for this model's schema"]),
          ].join('; ')
        : null,
  },
];
