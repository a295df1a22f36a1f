import { z } from 'zod';
import type { QuerySeverity } from '../basics/query-codes.ts';
import type { Vec2 } from '../geometry/vec.ts';
import { Decision } from './decision.ts';
import type { ExtraCable } from './extra.ts';
import type { PenetrationKind } from './penetration.ts';
import type { SealbookResult } from './result.ts';
import type { CheckVerdict, Seal } from './seal.ts';

/** A decision as the page sends it: where and in which revision it was given is added to it. */
export const NewDecision = Decision.pick({
  about: true,
  subject: true,
  field: true,
  tag: true,
  value: true,
});
export type NewDecision = z.infer<typeof NewDecision>;

const name = z.string().min(1).max(300);
const millimetres = z.number().min(-1e7).max(1e7);

/** What is tried on one penetration without deciding it. */
export const Trial = z.strictObject({
  /** Opening in the words of a decision: "150" or "300x200". */
  opening: z.string().max(40).optional(),
  separationMm: z.number().min(0).max(1000).optional(),
  edgeMm: z.number().min(0).max(1000).optional(),
  setBackMm: z.number().positive().max(2000).optional(),
  faces: z.union([z.literal(1), z.literal(2)]).optional(),
  sealant: name.optional(),
  /** Sizes of fillers that are not used, by name. */
  withoutFillers: z.array(name).max(200).optional(),
  /** References of cables that are left out. */
  without: z.array(name).max(500).optional(),
  /** Cables that pass as well. */
  more: z
    .array(z.strictObject({ ref: name, diameterMm: z.number().positive().max(1000) }))
    .max(100)
    .optional(),
  /** Other outside diameters, by reference. */
  diametersMm: z.record(name, z.number().positive().max(1000)).optional(),
  /** Where bodies of one seal are put by hand. */
  places: z
    .strictObject({
      seal: name,
      items: z.array(z.strictObject({ ref: name, xMm: millimetres, yMm: millimetres })).max(2000),
    })
    .optional(),
});
export type Trial = z.infer<typeof Trial>;

/** All that can be asked of an open review. */
export const ReviewQuestion = z.discriminatedUnion('ask', [
  z.strictObject({ ask: z.literal('state') }),
  z.strictObject({
    ask: z.literal('decide'),
    version: z.number().int(),
    decisions: z.array(NewDecision).min(1).max(500),
  }),
  z.strictObject({ ask: z.literal('details'), tag: name }),
  z.strictObject({ ask: z.literal('section'), seal: z.string().min(1).max(2000) }),
  z.strictObject({ ask: z.literal('plan'), name: z.string().max(1000) }),
  z.strictObject({ ask: z.literal('scene'), tag: name }),
  z.strictObject({ ask: z.literal('trial'), tag: name, trial: Trial }),
  z.strictObject({
    ask: z.literal('spare'),
    tag: name,
    ref: name,
    diameterMm: z.number().positive().max(1000),
  }),
  z.strictObject({ ask: z.literal('takeOff') }),
  z.strictObject({ ask: z.literal('files') }),
]);
export type ReviewQuestion = z.infer<typeof ReviewQuestion>;

/** The answer to each question. */
export interface ReviewAnswers {
  readonly state: ReviewState;
  readonly decide: ReviewChange;
  readonly details: ReviewDetails | null;
  /** SVG; null where there is no such seal. */
  readonly section: string | null;
  readonly plan: PlanDrawing | null;
  readonly scene: Scene | null;
  readonly trial: readonly Seal[];
  readonly spare: SpareAnswer;
  readonly takeOff: object;
  readonly files: readonly ReviewFile[];
}

/** One line of the list: what is needed to find, sort and judge a penetration. */
export interface ReviewRow {
  readonly tag: string;
  readonly kind: PenetrationKind;
  readonly level: string | null;
  /** Grid and rooms in words. */
  readonly where: string;
  readonly host: string;
  /** Opening in words; null where nothing is provided. */
  readonly size: string | null;
  readonly services: number;
  /** References of the cables. */
  readonly cables: readonly string[];
  /** The verdict that needs most looking at among all checks. */
  readonly verdict: CheckVerdict | 'none';
  /** Name of the check that decides, with its ratio where it has one. */
  readonly worst: string | null;
  readonly queries: Readonly<Record<QuerySeverity, number>>;
}

export type ReviewQuery = SealbookResult['queries'][number];

export interface ReviewState {
  /** Grows with every change. */
  readonly version: number;
  readonly project: string;
  readonly revision: string;
  /** Made with a sample range: nothing may be built from it. */
  readonly isSample: boolean;
  readonly rows: readonly ReviewRow[];
  readonly queries: readonly ReviewQuery[];
  readonly decisions: readonly Decision[];
  /** Names of plans, sections and levels that can be shown. */
  readonly plans: readonly string[];
  /** Names of the sealants of the range. */
  readonly sealants: readonly string[];
  /** Names of the fillers of the range. */
  readonly fillers: readonly string[];
}

/** What is other than before a decision; `rows: null` stands for all as before. */
export interface ReviewChange {
  /** The decisions were made on an older state and none was kept. */
  readonly isRefused: boolean;
  readonly version: number;
  readonly decisions: readonly Decision[];
  /** Rows that changed, and in `order` the tags of all rows. */
  readonly rows: readonly ReviewRow[];
  readonly order: readonly string[];
  /** Null where they are as before. */
  readonly queries: readonly ReviewQuery[] | null;
}

export interface ReviewDetails {
  readonly tag: string;
  readonly facts: SealbookResult['penetrations'][number];
  /** As designed, whole: outlines, bodies, fillers and checks. */
  readonly seals: readonly Seal[];
  /** Why each thing is believed, with the place it was read at. */
  readonly evidence: readonly {
    readonly fact: string;
    readonly text: string;
    readonly place: string;
  }[];
  readonly history: readonly { readonly revision: string; readonly text: string }[];
  /** Names of the plans it is marked in. */
  readonly plans: readonly string[];
}

/** A plan, section or elevation: lines of the drawing, or a cut through the models. */
export interface PlanDrawing {
  readonly name: string;
  /** What it was made from, in words. */
  readonly source: string;
  readonly lines: readonly PlanLine[];
  readonly marks: readonly PlanMark[];
  /** Lines left out because there are too many to show. */
  readonly leftOut: number;
}

export interface PlanLine {
  readonly kind: 'host' | 'service' | 'other';
  /** x, y of each point in turn, mm. */
  readonly pointsMm: readonly number[];
}

export interface PlanMark {
  readonly tag: string;
  readonly atMm: Vec2;
}

/** Solids round one penetration, in its own frame: right, up, and along the axis away from the viewer. */
export interface Scene {
  readonly solids: readonly SceneSolid[];
  /** Half the size of what matters: opening and thickness. */
  readonly radiusMm: number;
  /** From models, or worked out from sizes where a drawing has no solids. */
  readonly source: 'models' | 'sizes';
}

export interface SceneSolid {
  readonly kind: 'host' | 'opening' | 'service';
  readonly name: string;
  /** x, y, z of each vertex in turn. */
  readonly positionsMm: readonly number[];
  readonly triangles: readonly number[];
}

export interface SpareAnswer {
  readonly tag: string;
  readonly ways: readonly {
    readonly sealId: string;
    readonly path: Seal['path'];
    readonly answer: Pick<ExtraCable, 'way' | 'reasons' | 'unverified' | 'checksAfter'>;
  }[];
}

/** A file the review can hand over: outputs of a run with the decisions taken so far, and the register. */
export interface ReviewFile {
  readonly name: string;
  readonly bytes: Uint8Array;
}
