import { SealbookError } from '../basics/errors.ts';
import { compareText, sum } from '../basics/order.ts';
import { tenth } from '../basics/tenth.ts';
import type { InputFile } from '../model/input.ts';
import type { Change, IssuedFacts } from '../model/register.ts';
import { SealbookResult, type SealJson, type ShapeJson } from '../model/result.ts';
import { compareFacts } from '../register/list-changes.ts';

type PenetrationJson = SealbookResult['penetrations'][number];

export interface Comparison {
  readonly changes: readonly Change[];
  readonly counts: Readonly<Record<string, number>>;
  /** New less old over all penetrations, allowances in. */
  readonly sealantDifferenceMl: number;
  readonly fillerDifference: Readonly<Record<string, number>>;
}

/** Compares two issues by their tags. Throws `input-unreadable` for a file that is no result. */
export function compareIssues(before: InputFile, after: InputFile): Comparison {
  const was = factsByTag(readResult(before));
  const now = factsByTag(readResult(after));
  const tags = [...new Set([...was.keys(), ...now.keys()])].sort(compareText);
  const changes = tags.flatMap((tag) =>
    compareFacts(tag, was.get(tag) ?? null, now.get(tag) ?? null, 'same tag'),
  );
  return {
    changes,
    counts: countBy(changes.map((change) => change.kind)),
    sealantDifferenceMl: tenth(sum(changes.map((change) => change.sealantDifferenceMl))),
    fillerDifference: addUp(changes.map((change) => change.fillerDifference)),
  };
}

function readResult(file: InputFile): SealbookResult {
  let json: unknown;
  try {
    json = JSON.parse(new TextDecoder().decode(file.bytes));
  } catch (cause) {
    throw notAResult(file, cause);
  }
  const checked = SealbookResult.safeParse(json);
  if (!checked.success) throw notAResult(file, checked.error);
  return checked.data;
}

function notAResult(file: InputFile, cause: unknown): SealbookError {
  return new SealbookError('input-unreadable', `${file.name} is not the result of a run.`, {
    where: { file: file.name },
    todo: 'Name the result.json of an issue, or the folder that holds it.',
    cause,
  });
}

function factsByTag(result: SealbookResult): Map<string, IssuedFacts> {
  return new Map(result.penetrations.map((each) => [each.tag, factsOf(each)]));
}

function factsOf(penetration: PenetrationJson): IssuedFacts {
  const { kind, level, centreMm, hosts, shape, services, cables, seals } = penetration;
  return {
    kind,
    level,
    centreMm,
    thicknessMm: tenth(sum(hosts.map((host) => host.thicknessMm))),
    shape: shape === null ? null : shapeWords(shape),
    services: services.map((each) => `${each.kind} ${each.sizeMm.join(' × ')}`).sort(compareText),
    cables: cables.map((cable) => cable.ref).sort(compareText),
    duties: [],
    design: seals.map(designWords).sort(compareText),
    sealantMl: tenth(sum(seals.map((seal) => seal.sealant?.withAllowancesMl ?? 0))),
    fillers: addUp(
      seals.flatMap((seal) =>
        seal.fillers.map(({ name, count, split }) => ({ [name]: count + split })),
      ),
    ),
  };
}

function shapeWords(shape: ShapeJson): string {
  const { type, ...sizes } = shape;
  return `${type} ${Object.values(sizes).flat(3).join(' × ')}`;
}

function designWords({ path, state, reason, fillers, sealant }: SealJson): string {
  if (state !== 'designed') return `${path}: ${state}${reason === null ? '' : ` (${reason})`}`;
  return [
    `${path}: ${sealant?.netMl ?? 0} ml net`,
    ...fillers.map(({ name, count, split }) => `${count + split} × ${name}`),
  ].join(', ');
}

function countBy(names: readonly string[]): Record<string, number> {
  return addUp(names.map((name) => ({ [name]: 1 })));
}

/** Sums by name, names in order; zero sums are left out. */
function addUp(records: readonly Readonly<Record<string, number>>[]): Record<string, number> {
  const totals = new Map<string, number>();
  for (const [name, value] of records.flatMap((record) => Object.entries(record))) {
    totals.set(name, (totals.get(name) ?? 0) + value);
  }
  return Object.fromEntries(
    [...totals].filter(([, value]) => value !== 0).sort(([a], [b]) => compareText(a, b)),
  );
}
