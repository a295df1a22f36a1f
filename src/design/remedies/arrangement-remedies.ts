import { type Shape, shapeText } from '../../geometry/shape.ts';
import type { Arrangement, ArrangementProblem, Body } from '../../model/arrangement.ts';
import type { Remedy } from '../../model/seal.ts';
import { bodyAreaMm2 } from '../outline-measures.ts';
import { smallestOpening, smallestThatWorks } from './larger-opening.ts';

/** With more bodies than this no search for a remedy is made: each step is a search of its own. */
const MOST_BODIES = 60;

export type Arrange = (problem: ArrangementProblem) => Arrangement;

/**
 * What would make an arrangement fit: a larger opening, fewer bodies, two openings, or less
 * separation. Each was arranged before it is offered.
 */
export function arrangementRemedies(
  problem: ArrangementProblem,
  found: Arrangement,
  arrange: Arrange,
): Remedy[] {
  const settles = 'arrangement';
  const closer = closerRemedy(found, settles);
  if (problem.bodies.length > MOST_BODIES) return closer;
  const quick: ArrangementProblem = { ...problem, effort: 'quick', fillers: problem.fillers };
  const fits = (changed: Partial<ArrangementProblem>) =>
    arrange({ ...quick, ...changed }).verdict === 'fits';
  return [
    ...largerRemedy(problem.opening, settles, (opening) => fits({ opening })),
    ...fewerRemedy(problem.bodies, settles, (bodies) => fits({ bodies })),
    ...splitRemedy(problem.bodies, settles, (bodies) => fits({ bodies })),
    ...closer,
  ];
}

/** The smallest opening for which something holds, as a remedy. */
export function largerRemedy(
  opening: Shape,
  settles: string,
  works: (opening: Shape) => boolean,
): Remedy[] {
  const shape = smallestOpening(opening, works);
  return shape === null
    ? []
    : [
        {
          settles,
          kind: 'larger opening',
          text: `an opening of ${shapeText(shape)} (mm) works`,
          change: { opening: shape },
        },
      ];
}

/** Taking out the largest first leaves the most in. */
export function fewerRemedy(
  bodies: readonly Body[],
  settles: string,
  works: (bodies: readonly Body[]) => boolean,
): Remedy[] {
  if (bodies.length < 2) return [];
  const bySize = largestFirst(bodies);
  const counts = Array.from({ length: bodies.length - 1 }, (_, at) => at + 1);
  const out = smallestThatWorks(counts, (count) => works(bySize.slice(count)));
  if (out === null) return [];
  const refs = bySize.slice(0, out).map(({ ref }) => ref);
  const text = `${bodies.length - out} of ${bodies.length} fit; take elsewhere: ${refs.join(', ')}`;
  return [{ settles, kind: 'fewer bodies', text, change: { without: refs } }];
}

function splitRemedy(
  bodies: readonly Body[],
  settles: string,
  works: (bodies: readonly Body[]) => boolean,
): Remedy[] {
  if (bodies.length < 2) return [];
  const bySize = largestFirst(bodies);
  const halves = [0, 1].map((half) => bySize.filter((_, at) => at % 2 === half));
  if (!halves.every((half) => works(half))) return [];
  const text = `two openings of this size work: ${halves
    .map((half) => half.map(({ ref }) => ref).join(', '))
    .join(' | ')}`;
  const split = halves.map((half) => half.map(({ ref }) => ref));
  return [{ settles, kind: 'split over two', text, change: { split } }];
}

function closerRemedy(found: Arrangement, settles: string): Remedy[] {
  if (found.gapMm === null) return [];
  const gapMm = Math.floor(found.gapMm * 10) / 10;
  if (gapMm >= Math.max(found.separationMm, found.edgeMm)) return [];
  const text = `with ${gapMm} mm between bodies and to the wall it fits (asked: ${found.separationMm} and ${found.edgeMm} mm); sealant must still reach round each body`;
  const change = { separationMm: gapMm, edgeMm: gapMm };
  return [{ settles, kind: 'smaller separation', text, change }];
}

function largestFirst(bodies: readonly Body[]): Body[] {
  return bodies
    .map((body, at) => ({ body, at }))
    .sort((a, b) => bodyAreaMm2(b.body.outline) - bodyAreaMm2(a.body.outline) || a.at - b.at)
    .map(({ body }) => body);
}
