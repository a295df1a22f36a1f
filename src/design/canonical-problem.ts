import { compareText } from '../basics/order.ts';
import type { Arrangement, ArrangementProblem, Body } from '../model/arrangement.ts';

/** A problem with its bodies in a fixed order under neutral names, and the way back. */
export interface CanonicalProblem {
  readonly problem: ArrangementProblem;
  /** Text that is equal exactly where the problems are. */
  readonly key: string;
  /** Neutral name to the refs of the problem it was made from. */
  readonly refs: ReadonlyMap<string, string>;
}

/**
 * The same problem without what can't change its answer: names, and the order of the bodies. Two
 * seals with equal keys have the same arrangement, so it is worked out once.
 */
export function canonicalProblem(problem: ArrangementProblem): CanonicalProblem {
  const told = problem.bodies.map((body) => withoutIdle(body, problem));
  const bundles = bundleNames(told);
  const sorted = told
    .map((body) => ({ body, text: bodyText(body, bundles) }))
    .sort((a, b) => compareText(a.text, b.text) || compareText(a.body.ref, b.body.ref));
  const refs = new Map<string, string>();
  const bodies = sorted.map(({ body }, at): Body => {
    const ref = String(at + 1);
    refs.set(ref, body.ref);
    const bundle = body.bundle;
    return {
      ...body,
      ref,
      ...(bundle === undefined
        ? {}
        : { bundle: { ...bundle, id: bundles.get(bundle.id) ?? bundle.id } }),
    };
  });
  const canonical = { ...problem, bodies };
  return { problem: canonical, key: JSON.stringify(canonical), refs };
}

/** A body without what has no say in this problem: a class that no pair names, a bundle that is spread. */
function withoutIdle(body: Body, { classSeparations = [] }: ArrangementProblem): Body {
  const { separationClass, bundle, ...rest } = body;
  const isNamed =
    separationClass !== undefined &&
    classSeparations.some(({ classes }) => classes.includes(separationClass));
  return {
    ...rest,
    ...(isNamed ? { separationClass } : {}),
    ...(bundle === undefined || bundle.form === 'spread' ? {} : { bundle }),
  };
}

/** The arrangement under the refs of the problem that was asked. */
export function withOwnRefs(
  arrangement: Arrangement,
  refs: ReadonlyMap<string, string>,
): Arrangement {
  return {
    ...arrangement,
    items: arrangement.items.map((item) => ({ ...item, ref: refs.get(item.ref) ?? item.ref })),
  };
}

/** Bundles named by what is in them, so that the names of circuits play no part. */
function bundleNames(bodies: readonly Body[]): Map<string, string> {
  const contents = new Map<string, string[]>();
  for (const body of bodies) {
    if (body.bundle === undefined) continue;
    const texts = contents.get(body.bundle.id) ?? [];
    texts.push(bodyText(body, new Map()));
    contents.set(body.bundle.id, texts);
  }
  const sorted = [...contents]
    .map(([id, texts]) => ({ id, text: [...texts].sort(compareText).join('|') }))
    .sort((a, b) => compareText(a.text, b.text) || compareText(a.id, b.id));
  return new Map(sorted.map(({ id }, at) => [id, `b${String(at + 1).padStart(4, '0')}`]));
}

function bodyText(body: Body, bundles: ReadonlyMap<string, string>): string {
  const { ref: _ref, bundle, ...rest } = body;
  return JSON.stringify([
    rest.outline,
    rest.fixedAt ?? null,
    rest.massKgPerM ?? null,
    rest.separationClass ?? null,
    rest.isDrawCord ?? false,
    bundle === undefined ? null : [bundle.form, bundles.get(bundle.id) ?? null],
  ]);
}
