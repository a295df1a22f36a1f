import type { Evidence } from '../basics/evidence.ts';
import type { Vec3 } from '../geometry/vec.ts';
import type { ElementRef } from './ids.ts';

/** A file that was read, as the output lists it. */
export interface SourceFile {
  readonly key: string;
  readonly name: string;
  readonly kind:
    | 'ifc'
    | 'drawing'
    | 'schedule'
    | 'range'
    | 'project'
    | 'workbook'
    | 'issues'
    | 'requirements';
  /** IFC schema, DXF version or sheet format. */
  readonly schema: string;
  readonly sizeBytes: number;
  readonly sha256: string;
}

/** A closed triangle mesh in the world frame, mm, 64-bit, with outward faces where the source has them. */
export interface Mesh {
  /** x, y, z of each vertex in turn. */
  readonly positionsMm: Float64Array;
  /** Three vertex numbers a triangle. */
  readonly triangles: Uint32Array;
}

export type HostKind = 'wall' | 'slab' | 'roof' | 'footing' | 'chamber' | 'other';
export type ServiceKind = 'cable' | 'conduit' | 'duct' | 'carrier' | 'pipe';
export type CarrierForm = 'tray' | 'ladder' | 'trunking';

/** What a size speaks of. Only `outside` and `bore` can be built on; the others raise a query. */
export type SizeBasis = 'outside' | 'bore' | 'nominal' | 'unknown';

/** Outside of a service across its axis. */
export type Section =
  | { readonly type: 'circle'; readonly diameterMm: number }
  | { readonly type: 'rectangle'; readonly widthMm: number; readonly heightMm: number };

/** A text that may name a thing in the cable schedule or on site. */
export interface Reference {
  readonly text: string;
  readonly evidence: Evidence;
}

export interface Storey {
  readonly id: string;
  readonly ref: ElementRef;
  readonly name: string;
  readonly elevationMm: number;
}

export interface GridAxis {
  readonly tag: string;
  readonly startMm: Vec3;
  readonly endMm: Vec3;
}

export interface Space {
  readonly id: string;
  readonly ref: ElementRef;
  readonly name: string;
  readonly longName: string | null;
  /** Names of the zones it is grouped into or lies in by word of the model. */
  readonly zones?: readonly string[];
  readonly mesh: Mesh | null;
}

/** A zone with a body of its own, as of fire safety: what lies in it belongs to it. */
export interface SpatialZone {
  readonly id: string;
  readonly ref: ElementRef;
  readonly name: string;
  readonly mesh: Mesh;
}

/** A wall, slab, roof, footing or chamber wall that may be crossed. */
export interface Host {
  readonly id: string;
  readonly ref: ElementRef;
  readonly kind: HostKind;
  /** Class name as the schema spells it, e.g. `IfcWallStandardCase`. */
  readonly ifcClass: string;
  readonly name: string;
  readonly tag: string | null;
  readonly storeyId: string | null;
  /** Gross mesh: openings not cut (rules §1.3). Null when the file gives no geometry. */
  readonly mesh: Mesh | null;
  /** Ids of the openings that void this host. */
  readonly openingIds: readonly string[];
  /** From layers or properties; the geometry decides where it disagrees. */
  readonly thicknessMm: number | null;
  readonly material: string | null;
  /** As written in the file. */
  readonly fireRating: string | null;
  readonly isExternal: boolean | null;
  readonly isLoadBearing: boolean | null;
  readonly isCompartment: boolean | null;
}

/** One element of a run: a segment or a fitting. */
export interface Service {
  readonly id: string;
  readonly ref: ElementRef;
  readonly kind: ServiceKind;
  readonly role: 'segment' | 'fitting';
  readonly carrierForm: CarrierForm | null;
  readonly ifcClass: string;
  readonly name: string;
  readonly tag: string | null;
  readonly storeyId: string | null;
  /** Centre line in the world frame, at least two points; null when nothing gives one. */
  readonly axisMm: readonly Vec3[] | null;
  /** Unit vector of the section's height at the axis' start, where the section is not round. */
  readonly upDirection: Vec3 | null;
  readonly section: Section | null;
  readonly sizeBasis: SizeBasis;
  /** Clear bore of a hollow round body, where the file gives it. */
  readonly boreMm: number | null;
  readonly material: string | null;
  readonly mesh: Mesh | null;
  /** Names, tags, marks and property texts that may name it. */
  readonly references: readonly Reference[];
  readonly systems: readonly string[];
  readonly evidence: readonly Evidence[];
}

/** An opening element or a provision for void. */
export interface Opening {
  readonly id: string;
  readonly ref: ElementRef;
  readonly kind: 'opening' | 'provision';
  /** As the file declares it; geometry may still show a recess. */
  readonly isRecess: boolean;
  readonly ifcClass: string;
  readonly name: string;
  readonly tag: string | null;
  readonly storeyId: string | null;
  readonly hostIds: readonly string[];
  /** Classes of what it voids that counts as no host: furniture, a beam. */
  readonly voidedClasses?: readonly string[];
  /** Classes of what fills it: doors, windows. Empty for a bare hole. */
  readonly fillingClasses: readonly string[];
  readonly mesh: Mesh | null;
  /** Exact profile where the file has one: read from an extrusion rather than from triangles. */
  readonly profile: OpeningProfile | null;
  readonly references: readonly Reference[];
  readonly evidence: readonly Evidence[];
}

/** A profile swept straight: centre line in the world frame and the outline across it. */
export interface OpeningProfile {
  readonly startMm: Vec3;
  readonly endMm: Vec3;
  /** Unit vector of the outline's x. */
  readonly right: Vec3;
  /** Unit vector of the outline's y. */
  readonly up: Vec3;
  readonly shape: import('../geometry/shape.ts').Shape;
}

/** A board, pump, terminal or device that cables begin or end at: its names and where it stands. */
export interface Equipment {
  readonly id: string;
  readonly ref: ElementRef;
  /** Name and tag as written, those that are given. */
  readonly names: readonly string[];
  /** Origin of its placement, world mm. */
  readonly positionMm: Vec3;
}

/** A plate, covering, member or proxy that counts as no host: what passes it is asked about. */
export interface OtherElement {
  readonly id: string;
  readonly ref: ElementRef;
  readonly ifcClass: string;
  readonly name: string;
  readonly mesh: Mesh;
}

/** Two services that the model says are joined (ports or relations). */
export interface Joint {
  readonly serviceIds: readonly [string, string];
}

/** All that the models hold, in one world frame: millimetres, right-handed, z up. */
export interface Building {
  readonly storeys: readonly Storey[];
  readonly grids: readonly GridAxis[];
  readonly spaces: readonly Space[];
  readonly hosts: readonly Host[];
  readonly services: readonly Service[];
  readonly openings: readonly Opening[];
  readonly joints: readonly Joint[];
  /** Sorted by id; absent where none was read. */
  readonly equipment?: readonly Equipment[];
  /** Sorted by id; absent where none was read. */
  readonly spatialZones?: readonly SpatialZone[];
  /** Elements that may separate spaces but count as no hosts by the settings, sorted by id; absent where none was read. */
  readonly others?: readonly OtherElement[];
}
