import type { Shape } from '../geometry/shape.ts';
import type { Vec2 } from '../geometry/vec.ts';

export type Effort = 'quick' | 'normal' | 'thorough';

/** Something that passes the opening and must be placed or stays where it is. */
export interface Body {
  /** Shown on the drawing; unique within a problem. */
  readonly ref: string;
  readonly outline:
    | { readonly type: 'circle'; readonly diameterMm: number }
    | {
        readonly type: 'rectangle';
        readonly widthMm: number;
        readonly heightMm: number;
        /** How it may be turned: not at all, by quarters, or freely. */
        readonly turns: 'none' | 'quarter' | 'free';
      };
  /** Bodies of one bundle keep together (`trefoil`, `flat`) or, spread, are placed one by one. */
  readonly bundle?: { readonly id: string; readonly form: 'trefoil' | 'flat' | 'spread' };
  /** Where it stands already and may not be moved; section frame. */
  readonly fixedAt?: { readonly xMm: number; readonly yMm: number; readonly angleRad?: number };
  /** Heavy bodies are laid low where nothing else decides. */
  readonly massKgPerM?: number;
  /** Class for pairs that must stand further apart (power from data). */
  readonly separationClass?: string;
  /** A draw cord: it gets a tube of its own, which is no spare. */
  readonly isDrawCord?: boolean;
}

/** A filler tube of the range. */
export interface FillerSize {
  readonly name: string;
  readonly outsideMm: number;
  readonly boreMm: number;
  readonly lengthMm: number;
  /** Cable diameters the tube takes when split over one; null when it is only used whole. */
  readonly takesCableMm: { readonly smallestMm: number; readonly largestMm: number } | null;
}

export interface ArrangementProblem {
  readonly opening: Shape;
  readonly bodies: readonly Body[];
  /** Between the bodies' own surfaces, as asked for; 0 allowed. */
  readonly separationMm: number;
  /** From the bodies to the wall, as asked for; 0 allowed. */
  readonly edgeMm: number;
  /** Pairs of classes that must stand further apart than `separationMm`. */
  readonly classSeparations?: readonly {
    readonly classes: readonly [string, string];
    readonly separationMm: number;
  }[];
  /**
   * Bare bodies are kept at least this far from each other and from the wall, by a tube between them
   * (rules 4.2); absent: only where it costs nothing.
   */
  readonly bareApartMm?: number;
  /** What is liked among equals; absent: the engine's own weights. */
  readonly preferences?: Partial<PreferenceWeights>;
  /** Empty for no fillers. */
  readonly fillers: readonly FillerSize[];
  /** Whether cables that a tube takes are packed as the tube's outside (rules 4.2). */
  readonly splitTubes: boolean;
  /** Share of a tube's outside that may be lost to tight packing, 0–1. */
  readonly packingAllowanceRatio: number;
  /** What a cable needs beyond its own diameter to pass an empty tube. */
  readonly tubeClearanceMm: number;
  /** Spare policy: cables that must still come without moving others. */
  readonly policy: { readonly count: number; readonly diameterMm: number } | null;
  readonly effort: Effort;
  readonly seed: number;
}

/** Weights of what an installer would choose among layouts that are otherwise equal. */
export interface PreferenceWeights {
  /** Covered share of the opening. */
  readonly cover: number;
  /** Heavy cables low. */
  readonly heavyLow: number;
  /** The same in a mirror. */
  readonly symmetry: number;
  /** Few sizes of tubes. */
  readonly fewSizes: number;
  /** Room for hand and nozzle between the bodies. */
  readonly nozzleRoom: number;
}

export type Verdict = 'fits' | 'cannot fit' | 'not found';

export interface PlacedBody {
  readonly ref: string;
  readonly xMm: number;
  readonly yMm: number;
  readonly outline: Body['outline'];
  /** Turn of a rectangle from its own axes. */
  readonly angleRad: number;
  /** Outside of the split tube round it; null when it lies bare. */
  readonly tube: { readonly name: string; readonly outsideMm: number } | null;
}

export interface PlacedFiller {
  readonly name: string;
  readonly outsideMm: number;
  readonly boreMm: number;
  /** Whole, empty tubes. */
  readonly count: number;
  /** Tubes split over a cable. */
  readonly split: number;
  /** Centres of the whole tubes. */
  readonly positionsMm: readonly Vec2[];
}

export interface Spare {
  readonly emptyTubes: number;
  /** Largest cable through an empty tube: bore less clearance; null without empty tubes. */
  readonly largestThroughTubeMm: number | null;
  /** Largest extra cable when nothing moves and tubes come out; 0 when none. */
  readonly largestExtraFixedMm: number;
  /** Largest extra cable when cables may move; at least the fixed one. */
  readonly largestExtraMovableMm: number;
  /** How many more of the policy's cables can come without moving others; null without a policy. */
  readonly policyMore: number | null;
}

export interface Arrangement {
  readonly verdict: Verdict;
  /** The proof of a `cannot fit`, named with its numbers so that it can be recomputed; for `fits` how it was checked; for `not found` the effort spent. */
  readonly proof: string;
  readonly separationMm: number;
  readonly edgeMm: number;
  /** Largest common gap found between bodies and to the wall; null when not even touching was found. */
  readonly gapMm: number | null;
  /** No arrangement can have a common gap larger than this. */
  readonly gapBoundMm: number | null;
  readonly items: readonly PlacedBody[];
  /** Coordinates that keep the largest common gap; absent where `items` do. */
  readonly gapItems?: readonly PlacedBody[];
  readonly fillers: readonly PlacedFiller[];
  readonly spare: Spare;
  /** Share of the opening covered by bodies and tubes, 0–1. */
  readonly coveredRatio: number;
}
