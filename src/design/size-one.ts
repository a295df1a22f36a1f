import type { Shape } from '../geometry/shape.ts';
import type { Arrangement, ArrangementProblem, Body } from '../model/arrangement.ts';
import type { Range } from '../model/range.ts';
import type { Duty, Seal } from '../model/seal.ts';
import { arrange as arrangeBodies } from './arrange/arrange.ts';
import { bodyAreaMm2 } from './outline-measures.ts';
import { withUniqueRefs } from './passing.ts';
import { type DesignContext, sealOf } from './seal-of.ts';
import type { Raceway } from './seal-subject.ts';

/** One opening without files. */
export interface SizeInput {
  readonly opening: Shape;
  readonly bodies: readonly Body[];
  readonly range: Range;
  /** As in the project file; `effort` may be thorough here. */
  readonly design: DesignContext['design'];
  readonly duties?: readonly Duty[];
  readonly classSeparations?: ArrangementProblem['classSeparations'];
  /** Depth of the host; unknown when absent. */
  readonly thicknessMm?: number;
  /** What the opening is, for limits that hold in some raceways only; an opening when absent. */
  readonly raceway?: Raceway;
  /** What the sealant bonds to: "concrete". */
  readonly substrate?: string;
}

/** The seal of one opening, by the same rules as the seals of a project. */
export function sizeOne(
  input: SizeInput,
  options: { readonly arrange?: (problem: ArrangementProblem) => Arrangement } = {},
): Seal {
  return sealOf(
    {
      id: 'size/annulus',
      penetrationId: 'size',
      path: 'annulus',
      of: null,
      opening: input.opening,
      openingBasis: 'as found',
      passing: withUniqueRefs(
        input.bodies.map((body) => ({
          body,
          smallestAreaMm2: bodyAreaMm2(body.outline),
          largestSizeMm:
            body.outline.type === 'circle'
              ? body.outline.diameterMm
              : Math.max(body.outline.widthMm, body.outline.heightMm),
          cable: null,
          crossing: null,
          shownAtMm: null,
        })),
      ),
      wanderMm: 0,
      thicknessMm: input.thicknessMm ?? null,
      raceway: input.raceway ?? 'opening',
      substrate: input.substrate ?? null,
      penetration: null,
      hollow: null,
      obstacles: [],
      classSeparations: input.classSeparations ?? [],
    },
    input.duties ?? [],
    {
      range: input.range,
      design: input.design,
      arrange: options.arrange ?? arrangeBodies,
      circuits: new Map(),
    },
  );
}
