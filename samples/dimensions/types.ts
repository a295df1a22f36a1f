/** World frame of the sample: millimetres, x east, y north, z up, zero at the finished ground floor. */
export type V2 = readonly [number, number];
export type V3 = readonly [number, number, number];

type StoreyMark = 'B1' | '00' | 'RF';

export interface StoreyDim {
  readonly mark: StoreyMark;
  readonly name: string;
  readonly elevationMm: number;
}

interface HostProperties {
  readonly mark: string;
  readonly name: string;
  readonly storey: StoreyMark;
  readonly material: string;
  readonly fireRating: string | null;
  readonly isExternal: boolean;
  readonly isLoadBearing: boolean;
  readonly isCompartment: boolean;
  /** Lowest point. */
  readonly baseMm: number;
  readonly heightMm: number;
}

/** A straight wall along its centre line. */
export interface WallDim extends HostProperties {
  readonly form: 'straight';
  readonly from: V2;
  readonly to: V2;
  readonly thicknessMm: number;
  /** Where the ends are not square: outline in plan. */
  readonly footprint?: readonly V2[];
}

/** A round chamber: a ring in plan. */
interface RingDim extends HostProperties {
  readonly form: 'ring';
  readonly centre: V2;
  readonly outerRadiusMm: number;
  readonly thicknessMm: number;
}

interface SlabDim extends HostProperties {
  readonly form: 'slab';
  readonly predefined: 'FLOOR' | 'BASESLAB' | 'ROOF';
  readonly x: V2;
  readonly y: V2;
}

export type HostDim = WallDim | RingDim | SlabDim;

/** Sizes across the axis; width is horizontal (through slabs: along x). */
export type ShapeDim =
  | { readonly type: 'circle'; readonly diameterMm: number }
  | { readonly type: 'rectangle'; readonly widthMm: number; readonly heightMm: number }
  | { readonly type: 'slot'; readonly lengthMm: number; readonly widthMm: number };

export interface OpeningDim {
  readonly mark: string;
  readonly name: string;
  /** The host that the file says it voids, or is asked for in. */
  readonly host: string;
  /** A second leaf that its volume also goes through, without a relation. */
  readonly alsoThrough?: string;
  /** A point of the centre line, within the host; walls: on the centre line of the wall. */
  readonly at: V3;
  readonly shape: ShapeDim;
  /** How far the volume stands out of each face. */
  readonly overshootMm: number;
  readonly declared: 'OPENING' | 'RECESS' | 'PROVISION';
  /** Depth from the face at `from` where it does not go through. */
  readonly blind?: { readonly depthMm: number; readonly from: 'left' | 'right' | 'top' };
  /** Through a ring: direction of the hole in plan; else square to the wall. */
  readonly along?: V2;
  readonly filledBy?: 'DOOR' | 'WINDOW';
  /** What has to become of it. */
  readonly outcome: 'inPenetration' | 'recess' | 'shaft' | 'doorsWindows';
  /** Runs that go through it. */
  readonly serves: readonly string[];
}

export type SectionDim =
  | { readonly type: 'circle'; readonly diameterMm: number; readonly boreMm?: number }
  | { readonly type: 'rectangle'; readonly widthMm: number; readonly heightMm: number };

export type ServiceForm = 'tray' | 'ladder' | 'trunking' | 'conduit' | 'cable' | 'duct' | 'pipe';

export type ServiceOutcome =
  | 'through'
  | 'endsInside'
  | 'within'
  | 'touches'
  | 'clear'
  | 'noGeometry';

export interface PieceDim {
  readonly key: string;
  readonly role: 'segment' | 'fitting';
  readonly from: V3;
  readonly to: V3;
  /** Bends of a cable on the way. */
  readonly via?: readonly V3[];
  readonly outcome: ServiceOutcome;
}

export interface RunDim {
  /** The reference in the cable schedule and on the drawings. */
  readonly ref: string;
  readonly name: string;
  readonly form: ServiceForm;
  readonly section: SectionDim;
  /** Where the model carries the reference. */
  readonly refIn: 'name' | 'tag' | 'property set';
  /** A tray folded from sheet (U) rather than a solid block. */
  readonly folded?: boolean;
  /** Direction of the section's width. */
  readonly widthDirection: V3;
  readonly system: string;
  readonly storey: StoreyMark;
  readonly pieces: readonly PieceDim[];
  /** Hosts it goes through with nothing provided. */
  readonly unopenedIn: readonly string[];
  /** Pieces are joined by ports. */
  readonly ports?: boolean;
  readonly withoutBody?: boolean;
}
