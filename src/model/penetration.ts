import type { Evidence } from '../basics/evidence.ts';
import type { Shape } from '../geometry/shape.ts';
import type { Vec2, Vec3 } from '../geometry/vec.ts';
import type {
  CarrierForm,
  HostKind,
  Reference,
  Section,
  ServiceKind,
  SizeBasis,
} from './building.ts';
import type { ElementRef } from './ids.ts';

/**
 * `opening`: modelled or drawn · `provision`: asked for, not yet cut · `hole`: modelled into the
 * host without an opening element · `unopened`: a service crosses and nothing is provided.
 */
export type PenetrationKind = 'opening' | 'provision' | 'hole' | 'unopened';

/** The section plane of a penetration: what an installer sees when facing it. */
export interface SectionFrame {
  /** Centre of the opening, midway through the host, world mm. */
  readonly originMm: Vec3;
  /** Unit vector through the host, pointing away from the viewer. */
  readonly axis: Vec3;
  /** Unit vector to the viewer's right. */
  readonly right: Vec3;
  /** Unit vector up (through a slab: north, the world's y). */
  readonly up: Vec3;
}

export interface PenetrationHost {
  readonly id: string;
  readonly ref: ElementRef;
  readonly kind: HostKind;
  readonly name: string;
  /** Along the penetration's axis. */
  readonly thicknessMm: number;
  readonly material: string | null;
  readonly fireRating: string | null;
  readonly isExternal: boolean | null;
  readonly isLoadBearing: boolean | null;
  /**
   * From the centre of the opening to the host's own edges, along the section's axes; null where
   * the host goes on. Absent where its outline is not known (drawings).
   */
  readonly toEdgeMm?: {
    readonly left: number | null;
    readonly right: number | null;
    readonly below: number | null;
    readonly above: number | null;
  };
}

export interface PenetrationOpening {
  readonly id: string;
  readonly ref: ElementRef;
  readonly kind: 'opening' | 'provision';
  readonly name: string;
}

/** One run going through one host assembly. */
export interface Crossing {
  readonly id: string;
  /** Elements of the run inside this host, lowest id first. */
  readonly serviceIds: readonly string[];
  readonly refs: readonly ElementRef[];
  readonly kind: ServiceKind;
  readonly carrierForm: CarrierForm | null;
  /** Outside, across its own axis; null when nothing tells the size. */
  readonly section: Section | null;
  readonly sizeBasis: SizeBasis;
  /** Clear bore where this is a hollow body that cables pass (conduit, duct, pipe sleeve). */
  readonly boreMm: number | null;
  readonly material: string | null;
  readonly entryMm: Vec3;
  readonly exitMm: Vec3;
  /** Path length inside the host. */
  readonly lengthMm: number;
  /** Angle between the run and the host's normal; 0 is square on. */
  readonly skewRad: number;
  /** Centre in the section frame; null when only the count is known (a label such as "4 no."). */
  readonly offsetMm: Vec2 | null;
  /** Id of the crossing that carries this one (a cable in a tray or conduit); null when it lies bare. */
  readonly carriedBy: string | null;
  readonly references: readonly Reference[];
  readonly systems: readonly string[];
  readonly evidence: readonly Evidence[];
}

export interface Whereabouts {
  readonly level: string | null;
  readonly levelElevationMm: number | null;
  /** Height of the centre above the level's elevation. */
  readonly heightAboveLevelMm: number | null;
  /** Nearest grid intersection with offsets, as text: "B/3 +1200 −350". */
  readonly grid: string | null;
  /** Spaces before and behind the host, seen along the axis. */
  readonly spaces: { readonly near: string | null; readonly far: string | null };
  /** The side that is outside, where the model tells. */
  readonly outside: 'near' | 'far' | null;
  /** Zones (compartments, departments) that the model puts those spaces into. */
  readonly zones?: { readonly near: readonly string[]; readonly far: readonly string[] };
  /** How far the hole's lowest point lies below the ground; absent where it does not, or no level is given. */
  readonly belowGroundMm?: number;
  /** As for the ground, below the water level outside. */
  readonly belowWaterMm?: number;
  /** A face that can't be got at, and why; absent where nothing speaks against either. */
  readonly outOfReach?: { readonly side: 'near' | 'far'; readonly why: string };
}

/** One hole with all that passes through it: one row of the schedule. */
export interface Penetration {
  readonly id: string;
  readonly kind: PenetrationKind;
  readonly frame: SectionFrame;
  /** Host layers in order along the axis. */
  readonly hosts: readonly PenetrationHost[];
  /** Whole assembly along the axis, air gaps included. */
  readonly thicknessMm: number;
  readonly openings: readonly PenetrationOpening[];
  readonly crossings: readonly Crossing[];
  /** As found; null when nothing is provided. */
  readonly shape: Shape | null;
  readonly where: Whereabouts;
  /** Texts on the opening, its provision or beside it that may name it. */
  readonly references: readonly Reference[];
  readonly evidence: readonly Evidence[];
  /**
   * The kind of view of one that was found in drawings alone. A plan does not show heights and a
   * section not how deep it lies: there the centre has what settings and labels say, else 0.
   */
  readonly drawnIn?: 'plan' | 'section' | 'elevation';
}

export type ServiceOutcome =
  | 'through'
  | 'endsInside'
  | 'within'
  | 'touches'
  | 'clear'
  | 'noGeometry'
  | 'excluded';

export type OpeningOutcome =
  | 'inPenetration'
  | 'recess'
  | 'shaft'
  | 'doorsWindows'
  | 'noHost'
  | 'excluded';

/** What became of one service, opening or cable of the input. */
export interface LedgerEntry<Outcome extends string> {
  readonly id: string;
  readonly ref: ElementRef;
  readonly name: string;
  readonly outcome: Outcome;
  /** Why, in words, where it is part of no penetration. */
  readonly reason: string | null;
  readonly penetrationIds: readonly string[];
}

/** The account that nothing was lost in finding. One entry an element, sorted by id. */
export interface FindLedger {
  readonly services: readonly LedgerEntry<ServiceOutcome>[];
  readonly openings: readonly LedgerEntry<OpeningOutcome>[];
}

/** What finding gives: penetrations sorted by id, and the account of every element. */
export interface Findings {
  readonly penetrations: readonly Penetration[];
  readonly ledger: FindLedger;
}
