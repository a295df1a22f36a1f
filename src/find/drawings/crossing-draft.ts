import type { Evidence } from '../../basics/evidence.ts';
import type { Vec2 } from '../../geometry/vec.ts';
import type { Section, SizeBasis } from '../../model/building.ts';
import type { PenetrationHost } from '../../model/penetration.ts';
import type { Label } from './labels.ts';
import type { ServiceItem } from './sheet.ts';

/** A crossing in the drawing's plane, before crossings are gathered into penetrations. */
export interface CrossingDraft {
  /** Items that draw it inside the host, lowest id first. */
  readonly items: readonly ServiceItem[];
  /** Which passage along its run it is, from 0. */
  readonly count: number;
  readonly entry: Vec2;
  readonly exit: Vec2;
  readonly middle: Vec2;
  /** Unit vector through the host, one of the two ways. */
  readonly axis: Vec2;
  readonly lengthMm: number;
  readonly skewRad: number;
  readonly thicknessMm: number;
  readonly hosts: readonly PenetrationHost[];
  readonly labels: readonly Label[];
  /** Distance of the two edges it is drawn by. */
  readonly drawnWidthMm: number | null;
}

/** The size taken for a crossing, and what else was read. */
export interface SizeChoice {
  readonly section: Section | null;
  readonly basis: SizeBasis;
  readonly evidence: readonly Evidence[];
  /** A reading just as good that says something else. */
  readonly rival: { readonly section: Section; readonly label: Label } | null;
  /** How many the label with the size (or the nearest with a number) says there are. */
  readonly count: number;
  readonly label: Label | null;
}
