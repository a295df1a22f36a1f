import type { HostDim, OpeningDim, RunDim, SectionDim, ShapeDim, V3 } from '../dimensions/types.ts';

/**
 * What a sample holds, worked out from its dimensions alone and never by the product.
 * Frame: millimetres, x east, y north, z up.
 */
export interface Truth {
  readonly penetrations: readonly TruePenetration[];
  readonly services: readonly TrueElement[];
  readonly openings: readonly TrueElement[];
  readonly cables: readonly TrueCable[];
  readonly queries: readonly TrueQuery[];
  readonly drawings: readonly TrueDrawing[];
}

export interface ElementInFile {
  readonly file: string;
  readonly id: string;
  readonly mark: string;
}

export interface TruePenetration {
  readonly name: string;
  readonly kind: 'opening' | 'provision' | 'unopened';
  readonly centreMm: V3;
  readonly toleranceMm: number;
  readonly axis: V3;
  readonly hosts: readonly (ElementInFile & {
    readonly thicknessMm: number;
    readonly fireRating: string | null;
  })[];
  readonly openings: readonly ElementInFile[];
  readonly services: readonly {
    readonly file: string;
    readonly ref: string;
    readonly ids: readonly string[];
    readonly kind: 'cable' | 'conduit' | 'duct' | 'carrier' | 'pipe';
    readonly sizeMm: readonly number[];
    /** Round bodies that the schedule lays in its bore; null for what is no conduit. */
    readonly bodiesInBore: number | null;
  }[];
  readonly shape: ShapeDim | null;
  /** Round bodies in the hole where nothing but cables passes: each cable once; else null. */
  readonly bareBodies: number | null;
  /** Cables that must be listed. */
  readonly cables: readonly string[];
  /** Cables that may be listed. */
  readonly cablesAllowed: readonly string[];
}

export interface TrueElement {
  readonly file: string;
  readonly id: string;
  readonly name: string;
  readonly outcome: string;
}

export interface TrueCable {
  readonly ref: string;
  readonly file: string;
  readonly sheet: string | null;
  readonly row: number;
  readonly outcome: 'matched' | 'queried' | 'noPenetration' | 'any';
  readonly why: string | null;
  /** Names of penetrations it passes. */
  readonly penetrations: readonly string[];
  readonly diameterMm: number | null;
  readonly bodies: number;
}

/** A question that has to be asked: one of the codes, about one thing. */
export interface TrueQuery {
  readonly codes: readonly string[];
  readonly penetration: string | null;
  /** Texts of which a query must hold one: a GlobalId, a mark, a cable's reference. */
  readonly about: readonly string[];
}

export interface TrueDrawing {
  readonly file: string;
  /** Entities on layers of services, by layer; frozen layers apart. */
  readonly services: Readonly<Record<string, number>>;
  readonly hidden: Readonly<Record<string, number>>;
}

export interface TrueModel {
  readonly architectureFile: string;
  readonly servicesFile: string;
  readonly hosts: readonly HostDim[];
  readonly openings: readonly OpeningDim[];
  readonly runs: readonly RunDim[];
}

export interface ScheduledCable {
  readonly ref: string;
  readonly file: string;
  readonly sheet: string | null;
  readonly row: number;
  /** References of the route, as the models write them. */
  readonly route: readonly string[];
  readonly outcome: TrueCable['outcome'];
  readonly why: string | null;
  readonly mustAsk: string | null;
  readonly diameterMm: number | null;
  readonly bodies: number;
}

export function hostIn(model: TrueModel, mark: string): HostDim {
  const host = model.hosts.find((candidate) => candidate.mark === mark);
  if (host === undefined) throw new Error(`No host ${mark}.`);
  return host;
}

export function runIn(model: TrueModel, ref: string): RunDim {
  const run = model.runs.find((candidate) => candidate.ref === ref);
  if (run === undefined) throw new Error(`No run ${ref}.`);
  return run;
}

/** Diameter, or width and height. */
export const sizeOf = (section: SectionDim): readonly number[] =>
  section.type === 'circle' ? [section.diameterMm] : [section.widthMm, section.heightMm];
