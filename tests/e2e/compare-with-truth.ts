import type { TruePenetration, TrueQuery, Truth } from '../../samples/make/truth-model.ts';

type Point = readonly [number, number, number];

/** The parts of `result.json` that a sample's truth speaks of. */
export interface ComparableResult {
  readonly inputs: readonly { readonly file: string; readonly kind: string }[];
  readonly penetrations: readonly ComparablePenetration[];
  readonly ledger: {
    readonly services: Readonly<Record<string, unknown>>;
    readonly openings: Readonly<Record<string, unknown>>;
    readonly cables: Readonly<Record<string, unknown>>;
  };
  readonly queries: readonly {
    readonly code: string;
    readonly tag: string | null;
    readonly text: string;
    readonly evidence: readonly unknown[];
  }[];
}

export interface ComparablePenetration {
  readonly tag: string;
  readonly kind: string;
  readonly centreMm: Point;
  readonly axis: Point;
  readonly hosts: readonly {
    readonly file: string;
    readonly id: string;
    readonly thicknessMm: number;
    readonly fireRating: string | null;
  }[];
  readonly openings: readonly { readonly file: string; readonly id: string }[];
  readonly services: readonly {
    readonly file: string;
    readonly ids: readonly string[];
    readonly kind: string;
    readonly sizeMm: readonly number[];
  }[];
  readonly shape: Readonly<Record<string, unknown>> | null;
  readonly cables: readonly { readonly ref: string }[];
  readonly seals: readonly {
    readonly path: string;
    readonly of: string | null;
    readonly state: string;
    readonly arrangement: { readonly items: readonly unknown[] } | null;
  }[];
}

/**
 * Everything in which a result differs from what a sample holds, as sentences; empty when it
 * agrees. What drawings add to a model's penetration is not judged, only that they add no second
 * row for the same hole and invent none.
 */
export function compareWithTruth(result: ComparableResult, truth: Truth): readonly string[] {
  const found = pairUp(result, truth);
  const differences: string[] = [];
  for (const expected of truth.penetrations) {
    const actual = found.get(expected.name);
    if (actual === undefined) differences.push(`${expected.name}: not found`);
    else
      differences.push(
        ...comparePenetration(expected, actual).map((line) => `${expected.name}: ${line}`),
      );
  }
  return [
    ...differences,
    ...inventedPenetrations(result, truth, new Set(found.values())),
    ...compareLedger(result, truth),
    ...compareCables(result, truth),
    ...truth.queries.flatMap((query) => missingQuery(query, result, found)),
  ];
}

/** The result's penetration for each of the truth's: by opening, else by host and service. */
function pairUp(
  result: ComparableResult,
  truth: Truth,
): ReadonlyMap<string, ComparablePenetration> {
  const pairs = new Map<string, ComparablePenetration>();
  for (const expected of truth.penetrations) {
    const actual = result.penetrations.find((candidate) => isSameHole(expected, candidate));
    if (actual !== undefined) pairs.set(expected.name, actual);
  }
  return pairs;
}

function isSameHole(expected: TruePenetration, actual: ComparablePenetration): boolean {
  if (expected.openings.length > 0) {
    const ids = new Set(actual.openings.map((opening) => opening.id));
    return expected.openings.some((opening) => ids.has(opening.id));
  }
  const hosts = new Set(actual.hosts.map((host) => host.id));
  const services = new Set(actual.services.flatMap((service) => service.ids));
  return (
    actual.openings.length === 0 &&
    expected.hosts.some((host) => hosts.has(host.id)) &&
    expected.services.some((service) => service.ids.some((id) => services.has(id)))
  );
}

function comparePenetration(
  expected: TruePenetration,
  actual: ComparablePenetration,
): readonly string[] {
  const differences: string[] = [];
  if (actual.kind !== expected.kind) {
    differences.push(`kind is ${actual.kind}, not ${expected.kind}`);
  }
  const off = distance(actual.centreMm, expected.centreMm);
  if (!(off <= expected.toleranceMm)) {
    differences.push(
      `centre ${actual.centreMm.map(Math.round).join(', ')} lies ${off.toFixed(0)} mm off`,
    );
  }
  // Either way along the axis; a degree or two of slack where faces are curved.
  if (!(Math.abs(dot(actual.axis, expected.axis)) > 0.96)) {
    differences.push(`axis is ${actual.axis.join(', ')}`);
  }
  return [
    ...differences,
    ...compareHosts(expected, actual),
    ...compareIds(
      'openings',
      expected.openings.map((opening) => opening.id),
      actual.openings.map((opening) => opening.id),
    ),
    ...compareServices(expected, actual),
    ...compareShapes(expected, actual),
    ...compareContents(expected, actual),
    ...compareBodies(expected, actual),
  ];
}

function compareHosts(expected: TruePenetration, actual: ComparablePenetration): readonly string[] {
  const differences = [
    ...compareIds(
      'hosts',
      expected.hosts.map((host) => host.id),
      actual.hosts.map((host) => host.id),
    ),
  ];
  for (const host of expected.hosts) {
    const same = actual.hosts.find(({ id }) => id === host.id);
    if (same === undefined) continue;
    // Through a ring the hole is a little longer than the wall is thick.
    const slack = expected.toleranceMm > 5 ? 15 : 1;
    if (!(Math.abs(same.thicknessMm - host.thicknessMm) <= slack)) {
      differences.push(`${host.mark} is ${same.thicknessMm} mm thick, not ${host.thicknessMm}`);
    }
    if (same.fireRating !== host.fireRating) {
      differences.push(`${host.mark} is rated ${same.fireRating}, not ${host.fireRating}`);
    }
  }
  return differences;
}

function compareServices(
  expected: TruePenetration,
  actual: ComparablePenetration,
): readonly string[] {
  const differences: string[] = [];
  const files = new Set(expected.services.map((service) => service.file));
  for (const service of expected.services) {
    const same = actual.services.find((candidate) =>
      candidate.ids.some((id) => service.ids.includes(id)),
    );
    if (same === undefined) {
      differences.push(`${service.ref} is missing`);
      continue;
    }
    differences.push(...compareIds(service.ref, service.ids, same.ids));
    if (same.kind !== service.kind) {
      differences.push(`${service.ref} is a ${same.kind}, not a ${service.kind}`);
    }
    const isSameSize =
      same.sizeMm.length === service.sizeMm.length &&
      service.sizeMm.every((size, index) => Math.abs(size - (same.sizeMm[index] ?? 0)) <= 1);
    if (!isSameSize) {
      differences.push(
        `${service.ref} measures ${same.sizeMm.join(' × ')}, not ${service.sizeMm.join(' × ')}`,
      );
    }
  }
  const known = new Set(expected.services.flatMap((service) => service.ids));
  for (const service of actual.services) {
    if (files.has(service.file) && !service.ids.some((id) => known.has(id))) {
      differences.push(`${service.ids.join(', ')} does not pass here`);
    }
  }
  return differences;
}

function compareShapes(
  expected: TruePenetration,
  actual: ComparablePenetration,
): readonly string[] {
  if (expected.shape === null) {
    return actual.shape === null ? [] : [`has a shape though nothing is provided`];
  }
  const shape = actual.shape;
  if (shape === null) {
    return expected.kind === 'provision' ? [] : ['has no shape'];
  }
  const isSame = Object.entries(expected.shape).every(([key, value]) => {
    const other = shape[key];
    return typeof value === 'number'
      ? typeof other === 'number' && Math.abs(other - value) <= 1
      : other === value;
  });
  return isSame ? [] : [`shape is ${JSON.stringify(shape)}, not ${JSON.stringify(expected.shape)}`];
}

function compareContents(
  expected: TruePenetration,
  actual: ComparablePenetration,
): readonly string[] {
  const refs = new Set(actual.cables.map((cable) => cable.ref));
  const allowed = new Set([...expected.cables, ...expected.cablesAllowed]);
  return [
    ...expected.cables.filter((ref) => !refs.has(ref)).map((ref) => `cable ${ref} is missing`),
    ...[...refs].filter((ref) => !allowed.has(ref)).map((ref) => `cable ${ref} does not pass here`),
  ];
}

/** What is arranged in a bore or a bare hole: each scheduled body once, whether modelled or not. */
function compareBodies(
  expected: TruePenetration,
  actual: ComparablePenetration,
): readonly string[] {
  return actual.seals.flatMap(({ path, of, state, arrangement }) => {
    if (state !== 'designed' || arrangement === null) return [];
    const service = expected.services.find(({ ids }) => ids.some((id) => of?.includes(id)));
    const bodies = path === 'bore' ? (service?.bodiesInBore ?? null) : expected.bareBodies;
    const { length } = arrangement.items;
    return bodies === null || bodies === length
      ? []
      : [`${path} of ${service?.ref ?? 'the hole'} holds ${length} bodies, not ${bodies}`];
  });
}

/** Penetrations that the truth does not know: any of a model; of a drawing, those at no known place. */
function inventedPenetrations(
  result: ComparableResult,
  truth: Truth,
  known: ReadonlySet<ComparablePenetration>,
): readonly string[] {
  const modelFiles = new Set(truth.services.concat(truth.openings).map((element) => element.file));
  return result.penetrations.flatMap((penetration) => {
    if (known.has(penetration)) return [];
    const files = [...penetration.hosts, ...penetration.openings, ...penetration.services].map(
      ({ file }) => file,
    );
    if (files.some((file) => modelFiles.has(file))) {
      return [`${penetration.tag}: no such hole in the models (${penetration.kind})`];
    }
    const same = truth.penetrations.find((expected) => isNearInPlan(expected, penetration));
    return [
      same === undefined
        ? `${penetration.tag}: drawn where the building has no hole`
        : `${penetration.tag}: the drawing's hole stands apart from the model's ${same.name}`,
    ];
  });
}

/** A double line's edges lie beside the hole's middle, and plans know no heights. */
function isNearInPlan(expected: TruePenetration, actual: ComparablePenetration): boolean {
  const [x, y] = expected.centreMm;
  return Math.hypot(actual.centreMm[0] - x, actual.centreMm[1] - y) <= 400;
}

function compareLedger(result: ComparableResult, truth: Truth): readonly string[] {
  const drawn = truth.drawings.filter((drawing) =>
    result.inputs.some((input) => input.file === drawing.file),
  );
  return [
    ...compareAccount(
      'services',
      result.ledger.services,
      countBy(truth.services),
      drawn.length > 0,
    ),
    ...compareAccount(
      'openings',
      result.ledger.openings,
      countBy(truth.openings),
      drawn.length > 0,
    ),
    ...drawnServices(result, truth, drawn),
  ];
}

function countBy(elements: Truth['services']): ReadonlyMap<string, number> {
  const counts = new Map<string, number>();
  for (const { outcome } of elements) counts.set(outcome, (counts.get(outcome) ?? 0) + 1);
  return counts;
}

/** Exactly the models' outcomes; with drawings beside them, at least those. */
function compareAccount(
  name: string,
  account: Readonly<Record<string, unknown>>,
  expected: ReadonlyMap<string, number>,
  isAtLeast: boolean,
): readonly string[] {
  const differences: string[] = [];
  let sum = 0;
  for (const [outcome, value] of Object.entries(account)) {
    if (outcome === 'total' || typeof value !== 'number') continue;
    sum += value;
    const wanted = expected.get(outcome) ?? 0;
    if (isAtLeast ? value < wanted : value !== wanted) {
      differences.push(`ledger ${name}: ${value} ${outcome}, not ${wanted}`);
    }
  }
  if (account['total'] !== sum) {
    differences.push(
      `ledger ${name}: the parts add up to ${sum}, the total says ${account['total']}`,
    );
  }
  return differences;
}

/** Each drawn entity on a layer of services is in the account; hidden ones may be. */
function drawnServices(
  result: ComparableResult,
  truth: Truth,
  drawn: Truth['drawings'],
): readonly string[] {
  const sumOf = (counts: Readonly<Record<string, number>>): number =>
    Object.values(counts).reduce((sum, count) => sum + count, 0);
  const least = truth.services.length + drawn.reduce((sum, each) => sum + sumOf(each.services), 0);
  const most = least + drawn.reduce((sum, each) => sum + sumOf(each.hidden), 0);
  const total = result.ledger.services['total'];
  return typeof total === 'number' && total >= least && total <= most
    ? []
    : [`ledger services: ${total} in all, not ${least}${most > least ? ` to ${most}` : ''}`];
}

function compareCables(result: ComparableResult, truth: Truth): readonly string[] {
  const account = result.ledger.cables;
  const differences: string[] = [];
  if (account['total'] !== truth.cables.length) {
    differences.push(`ledger cables: ${account['total']} in all, not ${truth.cables.length}`);
  }
  const free = truth.cables.filter((cable) => cable.outcome === 'any').length;
  for (const outcome of ['matched', 'queried', 'noPenetration'] as const) {
    const least = truth.cables.filter((cable) => cable.outcome === outcome).length;
    const value = account[outcome];
    if (typeof value !== 'number' || value < least || value > least + free) {
      differences.push(`ledger cables: ${value} ${outcome}, not ${least} to ${least + free}`);
    }
  }
  return differences;
}

function missingQuery(
  expected: TrueQuery,
  result: ComparableResult,
  found: ReadonlyMap<string, ComparablePenetration>,
): readonly string[] {
  const tag = expected.penetration === null ? undefined : found.get(expected.penetration)?.tag;
  const isAsked = result.queries.some((query) => {
    if (!expected.codes.includes(query.code)) return false;
    if (tag !== undefined && query.tag === tag) return true;
    const said = `${query.text} ${JSON.stringify(query.evidence)}`;
    return expected.about.some((about) => said.includes(about));
  });
  return isAsked ? [] : [`no query ${expected.codes.join(' or ')} about ${expected.about[0]}`];
}

function compareIds(
  name: string,
  expected: readonly string[],
  actual: readonly string[],
): readonly string[] {
  const missing = expected.filter((id) => !actual.includes(id));
  // Drawings may add their own; only the model's identities have 22 characters.
  const extra = actual.filter((id) => !expected.includes(id) && /^[0-3][\w$]{21}$/.test(id));
  return [
    ...(missing.length > 0 ? [`${name}: ${missing.join(', ')} missing`] : []),
    ...(extra.length > 0 ? [`${name}: ${extra.join(', ')} too many`] : []),
  ];
}

function distance(a: Point, b: Point): number {
  return Math.hypot(a[0] - b[0], a[1] - b[1], a[2] - b[2]);
}

function dot(a: Point, b: Point): number {
  return a[0] * b[0] + a[1] * b[1] + a[2] * b[2];
}
