import type { Shape } from '../geometry/shape.ts';
import type { Vec3 } from '../geometry/vec.ts';
import type { SectionFrame } from './penetration.ts';

/** A value that a tag carries, with what it measures; writers turn it into the file's units. */
export type TagValue =
  | { readonly kind: 'label'; readonly text: string }
  | { readonly kind: 'text'; readonly text: string }
  | { readonly kind: 'identifier'; readonly text: string }
  | { readonly kind: 'labels'; readonly texts: readonly string[] }
  | { readonly kind: 'lengthMm'; readonly value: number }
  | { readonly kind: 'areaMm2'; readonly value: number }
  | { readonly kind: 'volumeMl'; readonly value: number }
  | { readonly kind: 'ratio'; readonly value: number }
  | { readonly kind: 'count'; readonly value: number };

export interface TagField {
  /** In the manner of IFC's own property names: `SetBack`. */
  readonly name: string;
  readonly value: TagValue;
}

/** What one penetration puts into one model. Ids are GlobalIds of that file. */
export interface IfcTagEdit {
  readonly tag: string;
  /** Openings and provisions; empty where nothing is provided, or it lies in another file. */
  readonly openingIds: readonly string[];
  /** Elements of the runs that pass. */
  readonly serviceIds: readonly string[];
  readonly hostIds: readonly string[];
  readonly fields: readonly TagField[];
  readonly quantities: readonly TagField[];
  /** Words on the seal; null where none is designed. */
  readonly seal: string | null;
  /** What to ask for where nothing is provided; null elsewhere. */
  readonly missing: {
    readonly shape: Shape;
    readonly frame: SectionFrame;
    readonly depthMm: number;
    readonly systems: readonly string[];
  } | null;
}

/** Something that could not be tagged, and why. */
export interface TagRefusal {
  /** Null where the whole file is refused. */
  readonly tag: string | null;
  /** GlobalId or handle. */
  readonly id: string | null;
  readonly reason: string;
}

/** What one penetration puts into one drawing. */
export interface DxfTagEdit {
  readonly tag: string;
  /** Centre, in the project's world frame. */
  readonly atMm: Vec3;
  readonly level: string | null;
  /** Widest side of the opening; the leader starts at its edge. */
  readonly sizeMm: number;
  /** Texts that travel with the symbol, by attribute name. */
  readonly texts: readonly { readonly name: string; readonly text: string }[];
  /** Whether a question waits for an answer: the place gets a cloud. */
  readonly hasQuery: boolean;
  /** Whether something of it was read in that drawing; else it is drawn where a plan shows its level. */
  readonly isSeen: boolean;
}
