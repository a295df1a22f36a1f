import type { Shape } from '../geometry/shape.ts';
import type { Arrangement, ArrangementProblem, Body } from '../model/arrangement.ts';
import type { Range } from '../model/range.ts';
import type { Duty, Seal } from '../model/seal.ts';
import { arrange as arrangeBodies } from './arrange/arrange.ts';
import { arrangeOnce } from './arrange-once.ts';
import type { DesignContext } from './design-context.ts';
import { sealOf } from './seal-of.ts';
import { type HoleFacts, subjectOfBodies } from './subject-of-bodies.ts';

/** One opening without files. */
export interface SizeInput extends HoleFacts {
  readonly opening: Shape;
  readonly bodies: readonly Body[];
  readonly range: Range;
  /** As in the project file; `effort` may be thorough here. */
  readonly design: DesignContext['design'];
  readonly duties?: readonly Duty[];
}

/**
 * The seal of one opening, by the same rules as the seals of a project. Throws `usage` for sizes
 * that make no sense.
 */
export function sizeOne(
  input: SizeInput,
  options: { readonly arrange?: (problem: ArrangementProblem) => Arrangement } = {},
): Seal {
  const { opening, bodies, range, design, duties = [], ...facts } = input;
  const place = { id: 'size/annulus', penetrationId: 'size', path: 'annulus', of: null } as const;
  const subject = subjectOfBodies({ ...place, openingBasis: 'as found' }, opening, bodies, facts);
  const arrange = arrangeOnce(options.arrange ?? arrangeBodies);
  return sealOf(subject, duties, { range, design, arrange, circuits: new Map() });
}
