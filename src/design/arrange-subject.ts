import { shapeAreaMm2 } from '../geometry/shape.ts';
import type {
  Arrangement,
  ArrangementProblem,
  Body,
  FillerSize,
  PreferenceWeights,
} from '../model/arrangement.ts';
import type { Range } from '../model/range.ts';
import { powerFromDataMm } from './cable-kinds.ts';
import type { DesignContext } from './design-context.ts';
import type { SealSubject } from './seal-subject.ts';
import { mayTakeCables } from './spare-policy.ts';

/**
 * More tubes than this and the hole is no longer closed by packing tubes; own choice, so that an
 * opening of square metres asks for another way of closing it rather than for thousands of tubes.
 */
const MOST_TUBES = 300;
/**
 * Tries until one fits: bodies where the model shows them, then free; each first with power and
 * data as far apart as their table asks, then without. The last answer stands when none fits.
 */
export function arrangeSubject(subject: SealSubject, context: DesignContext): Arrangement {
  const free = problemOf(subject, context);
  const shown = {
    ...free,
    bodies: subject.passing.map(({ body, shownAtMm }) => atShownPlace(body, shownAtMm)),
  };
  const starts = shown.bodies.some(({ fixedAt }, at) => fixedAt !== free.bodies[at]?.fixedAt)
    ? [shown, free]
    : [free];
  const tableMm = powerFromDataMm(subject.passing.flatMap(({ cable }) => cable ?? []));
  const apart = { classes: ['power', 'data'] as const, separationMm: tableMm };
  const tries =
    tableMm > context.design.separationMm
      ? [
          ...starts.map((problem) => ({
            ...problem,
            classSeparations: [...(problem.classSeparations ?? []), apart],
          })),
          ...starts,
        ]
      : starts;
  let answer: Arrangement | null = null;
  for (const problem of tries) {
    answer = context.arrange(problem);
    if (answer.verdict === 'fits') return answer;
  }
  return answer ?? context.arrange(free);
}

/** The question put to the search for one leak path, its bodies free unless they stand already. */
export function problemOf(
  subject: SealSubject,
  { range, design }: Pick<DesignContext, 'range' | 'design'>,
): ArrangementProblem {
  const { opening } = subject;
  if (opening === null) throw new TypeError('An opening of unknown shape is not arranged.');
  return {
    opening,
    bodies: subject.passing.map(({ body }) => body),
    separationMm: design.separationMm,
    // Half of the wander to each side of the middle, where the arrangement stands.
    edgeMm: design.edgeMm + subject.wanderMm / 2 + ovalAllowanceMm(subject, design.ovalRatio),
    classSeparations: subject.classSeparations,
    preferences: givenOf(design.preferences),
    fillers: fillersFor(subject, range),
    splitTubes: design.splitTubes,
    packingAllowanceRatio: range.packingAllowanceRatio,
    tubeClearanceMm: range.tubeClearanceMm,
    policy: mayTakeCables(subject)
      ? { count: design.spare.count, diameterMm: design.spare.diameterMm }
      : null,
    effort: design.effort,
    seed: design.seed,
  };
}

/** The weights that were given; the engine has its own for the rest. */
function givenOf(preferences: DesignContext['design']['preferences']): Partial<PreferenceWeights> {
  const { cover, heavyLow, symmetry, fewSizes, nozzleRoom } = preferences;
  return {
    ...(cover === undefined ? {} : { cover }),
    ...(heavyLow === undefined ? {} : { heavyLow }),
    ...(symmetry === undefined ? {} : { symmetry }),
    ...(fewSizes === undefined ? {} : { fewSizes }),
    ...(nozzleRoom === undefined ? {} : { nozzleRoom }),
  };
}

/**
 * How much nearer than nominal the wall of a duct or conduit may stand, mm: half of what its
 * shorter axis may lack of the bore.
 */
function ovalAllowanceMm({ path, opening }: SealSubject, ovalRatio = 0): number {
  return path === 'bore' && opening?.type === 'circle' ? (opening.diameterMm * ovalRatio) / 2 : 0;
}

/** To whole millimetres: the drawing is no better, and seals that are alike stay alike. */
function atShownPlace(body: Body, shownAtMm: readonly [number, number] | null): Body {
  if (shownAtMm === null || body.fixedAt !== undefined) return body;
  return { ...body, fixedAt: { xMm: Math.round(shownAtMm[0]), yMm: Math.round(shownAtMm[1]) } };
}

function fillersFor(subject: SealSubject, range: Range): FillerSize[] {
  const freeMm2 =
    (subject.opening === null ? 0 : shapeAreaMm2(subject.opening)) -
    subject.passing.reduce((mm2, item) => mm2 + item.smallestAreaMm2, 0);
  const tubes = range.fillers.map(
    ({ name, outsideMm, boreMm, lengthMm, takesCableMm }): FillerSize => ({
      name,
      outsideMm,
      boreMm,
      lengthMm,
      takesCableMm,
    }),
  );
  const largestMm = Math.max(...tubes.map(({ outsideMm }) => outsideMm));
  return freeMm2 / largestMm ** 2 > MOST_TUBES ? [] : tubes;
}
