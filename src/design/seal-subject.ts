import type { Shape } from '../geometry/shape.ts';
import type { ArrangementProblem, Body } from '../model/arrangement.ts';
import type { HostKind } from '../model/building.ts';
import type { Cable } from '../model/cable.ts';
import type { Crossing, Penetration } from '../model/penetration.ts';
import type { Raceway, Seal } from '../model/seal.ts';

/** One thing that passes a seal, as it is arranged and as it is counted. */
export interface Passing {
  /** As arranged: the largest it may be, stretched where it crosses askew. */
  readonly body: Body;
  /** What it takes of the opening at the least, mm²: quantities are counted with this. */
  readonly smallestAreaMm2: number;
  /** Largest size across its own axis, mm, whether or not it crosses askew. */
  readonly largestSizeMm: number;
  /** Row of the schedule, where it is a scheduled cable. */
  readonly cable: Cable | null;
  /** Run of the model or drawing it was found as. */
  readonly crossing: Crossing | null;
  /** Where the model shows it, section frame of this opening; a wish, not a must. */
  readonly shownAtMm: readonly [number, number] | null;
  /** Stage it comes at, where that is later than now: it has its place, and is not there yet. */
  readonly comesAt: string | null;
  /** Cables inside it, where it is a hollow body. */
  readonly inside: readonly Cable[];
}

/** One leak path with all that is known of it, before it is designed. */
export interface SealSubject {
  readonly id: string;
  readonly penetrationId: string;
  readonly path: Seal['path'];
  readonly of: string | null;
  readonly opening: Shape | null;
  readonly openingBasis: Seal['openingBasis'];
  readonly passing: readonly Passing[];
  /** How far the bodies wander across the opening from face to face, t · tan θ, mm. */
  readonly wanderMm: number;
  /** Depth of the host; null where it is not known. */
  readonly thicknessMm: number | null;
  readonly raceway: Raceway;
  /** What the sealant bonds to, as written: the host's material, or the hollow body's. */
  readonly substrate: string | null;
  readonly penetration: Penetration | null;
  /** Kinds of the hosts, where they are known without the penetration. */
  readonly hostKinds: readonly HostKind[];
  /** The hollow body whose bore this is. */
  readonly hollow: Crossing | null;
  /** Pairs of classes among the bodies that must stand further apart than the rest. */
  readonly classSeparations: NonNullable<ArrangementProblem['classSeparations']>;
  /** Why it can't be designed, most important first; empty when it can. */
  readonly obstacles: readonly Obstacle[];
}

/** Something that is missing before a seal can be designed. */
export interface Obstacle {
  readonly kind:
    | 'cable diameter'
    | 'service size'
    | 'nominal size'
    | 'place of cable'
    | 'bore'
    | 'large and empty';
  readonly text: string;
  /** Ids of the cables or services concerned. */
  readonly about: readonly string[];
  /** True where a provisional design on the figure at hand can still be shown. */
  readonly isProvisional: boolean;
}
