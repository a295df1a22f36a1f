import type { IdsFile, IdsRequirement, IdsSpecification } from '../../formats/ids/ids-file.ts';
import { matchesText } from '../../formats/ids/match-value.ts';
import type { StepRecord } from '../../formats/ifc/step-file.ts';
import { ifcSchemaOf } from '../../formats/ifc/step-schema.ts';
import type {
  IdsFailure,
  IdsReport,
  IdsVerdict,
  RequirementReport,
  SpecificationReport,
} from '../../model/ids-report.ts';
import { auditSpecification } from './audit-specification.ts';
import { checkFacet } from './check-facet.ts';
import { TYPED_2X3_CLASSES } from './element-kind.ts';
import { isAccepted } from './facet-outcome.ts';
import { requirementText } from './facet-text.ts';
import { ModelFacts } from './model-facts.ts';

/** Failures listed of one requirement; the rest are counted. */
const LISTED_FAILURES = 200;

/**
 * Checks a model against the requirements of an IDS file. The model may be of any size and need not
 * hold a project: only its records are looked at, no geometry.
 */
export function checkIds(ids: IdsFile, ifcBytes: Uint8Array): IdsReport {
  const facts = new ModelFacts(ifcBytes, unaskedClasses(ids));
  const specifications = ids.specifications.map((each) => checkSpecification(facts, each));
  return {
    title: ids.title,
    schema: facts.file.layout.schema ?? 'unknown',
    verdict: worst(specifications.map(({ verdict }) => verdict)),
    specifications,
  };
}

/** Classes that make up most of a large model and that hardly any requirement speaks of. */
const GEOMETRY_CLASSES = [
  'IFCCARTESIANPOINT',
  'IFCDIRECTION',
  'IFCPOLYLOOP',
  'IFCFACE',
  'IFCFACEBOUND',
  'IFCFACEOUTERBOUND',
  'IFCCLOSEDSHELL',
  'IFCPOLYLINE',
  'IFCVERTEXPOINT',
  'IFCEDGECURVE',
  'IFCORIENTEDEDGE',
  'IFCEDGELOOP',
  'IFCLINE',
  'IFCVECTOR',
  'IFCAXIS2PLACEMENT3D',
  'IFCAXIS2PLACEMENT2D',
  'IFCADVANCEDFACE',
  'IFCINDEXEDPOLYGONALFACE',
] as const;

/** Of these classes the ones that no specification applies to. */
function unaskedClasses({ specifications }: IdsFile): ReadonlySet<string> {
  const subjects = specifications.map(({ applicability }) =>
    applicability.find((facet) => facet.kind === 'entity'),
  );
  return new Set(
    GEOMETRY_CLASSES.filter((name) =>
      subjects.every((subject) => subject !== undefined && !matchesText(subject.name, name)),
    ),
  );
}

function checkSpecification(
  facts: ModelFacts,
  specification: IdsSpecification,
): SpecificationReport {
  const applicable = applicableRecords(facts, specification);
  const problems = auditSpecification(specification);
  const isInvalid = problems.length > 0;
  const { cardinality, requirements } = specification;
  let holds = true;
  if (cardinality === 'required' && applicable.length === 0) {
    problems.push('no element it applies to, though there must be one');
    holds = false;
  }
  if (cardinality === 'prohibited' && applicable.length > 0) {
    problems.push(`${applicable.length} elements of a kind that must not be there`);
    holds = false;
  }
  // The manual: requirements of a prohibited specification are ignored.
  const checked = cardinality === 'prohibited' ? [] : requirements;
  const reports = checked.map((each) => checkRequirement(facts, each, applicable));
  const isMet = holds && reports.every(({ verdict }) => verdict === 'pass');
  return {
    name: specification.name,
    identifier: specification.identifier,
    verdict: isInvalid ? 'invalid' : isMet ? 'pass' : 'fail',
    namesSchema: specification.ifcVersions.some((name) => ifcSchemaOf(name) === facts.schema),
    applicable: applicable.length,
    problems,
    requirements: reports,
  };
}

function checkRequirement(
  facts: ModelFacts,
  requirement: IdsRequirement,
  applicable: readonly StepRecord[],
): RequirementReport {
  const failures: IdsFailure[] = [];
  let failed = 0;
  for (const record of applicable) {
    const outcome = checkFacet(facts, record, requirement.facet);
    if (isAccepted(outcome, requirement.cardinality)) continue;
    failed += 1;
    if (failures.length < LISTED_FAILURES) failures.push(failureOf(facts, record, outcome.found));
  }
  return {
    text: requirementText(requirement),
    verdict: failed === 0 ? 'pass' : 'fail',
    checked: applicable.length,
    passed: applicable.length - failed,
    failed,
    failures,
  };
}

function failureOf(facts: ModelFacts, record: StepRecord, reason: string): IdsFailure {
  return {
    stepId: record.id,
    globalId: facts.text(record, 'GlobalId'),
    ifcClass: record.type,
    name: facts.text(record, 'Name'),
    reason,
  };
}

function applicableRecords(facts: ModelFacts, { applicability }: IdsSpecification): StepRecord[] {
  const entity = applicability.find((facet) => facet.kind === 'entity');
  const types = facts.file.types().filter((type) => {
    if (entity === undefined || matchesText(entity.name, type)) return true;
    return facts.schema === 'IFC2X3' && TYPED_2X3_CLASSES.has(type);
  });
  const ids = types.flatMap((type) => [...facts.file.idsOf(type)]).sort((a, b) => a - b);
  return ids
    .flatMap((id) => facts.file.record(id) ?? [])
    .filter((record) =>
      applicability.every((facet) => checkFacet(facts, record, facet).state === 'met'),
    );
}

function worst(verdicts: readonly IdsVerdict[]): IdsVerdict {
  if (verdicts.includes('invalid')) return 'invalid';
  return verdicts.includes('fail') ? 'fail' : 'pass';
}
