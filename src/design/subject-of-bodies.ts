import type { Shape } from '../geometry/shape.ts';
import type { ArrangementProblem, Body } from '../model/arrangement.ts';
import type { HostKind } from '../model/building.ts';
import type { Penetration } from '../model/penetration.ts';
import type { Raceway } from '../model/seal.ts';
import { bodyAreaMm2 } from './outline-measures.ts';
import { withUniqueRefs } from './passing.ts';
import type { SealSubject } from './seal-subject.ts';

/** What is known of a hole beyond its outline and contents; all of it may be left out. */
export interface HoleFacts {
  /** Depth of the host; unknown when absent. */
  readonly thicknessMm?: number | null;
  /** What the opening is, for limits that hold in some raceways only; an opening when absent. */
  readonly raceway?: Raceway;
  /** What the sealant bonds to: "concrete". */
  readonly substrate?: string | null;
  readonly penetration?: Penetration | null;
  readonly hostKinds?: readonly HostKind[];
  readonly classSeparations?: ArrangementProblem['classSeparations'];
}

/** A leak path from plain bodies, as `size` and later cables have it: no schedule behind them. */
export function subjectOfBodies(
  seal: Pick<SealSubject, 'id' | 'penetrationId' | 'path' | 'of' | 'openingBasis'>,
  opening: Shape | null,
  bodies: readonly Body[],
  facts: HoleFacts = {},
): SealSubject {
  return {
    ...seal,
    opening,
    passing: withUniqueRefs(
      bodies.map((body) => ({
        body,
        smallestAreaMm2: bodyAreaMm2(body.outline),
        largestSizeMm:
          body.outline.type === 'circle'
            ? body.outline.diameterMm
            : Math.max(body.outline.widthMm, body.outline.heightMm),
        cable: null,
        crossing: null,
        shownAtMm: null,
        comesAt: null,
        inside: [],
      })),
    ),
    wanderMm: 0,
    thicknessMm: facts.thicknessMm ?? null,
    raceway: facts.raceway ?? 'opening',
    substrate: facts.substrate ?? null,
    penetration: facts.penetration ?? null,
    hostKinds: facts.hostKinds ?? facts.penetration?.hosts.map(({ kind }) => kind) ?? [],
    hollow: null,
    classSeparations: facts.classSeparations ?? [],
    obstacles: [],
  };
}
