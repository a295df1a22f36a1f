import { z } from 'zod';
import type { QuerySeverity } from '../basics/query-codes.ts';

/** What one project of many came to, in counts and materials. */
export interface ProjectSummary {
  readonly name: string;
  readonly revision: string;
  readonly isSample: boolean;
  readonly penetrations: number;
  readonly seals: { readonly designed: number; readonly query: number; readonly none: number };
  /** Checks over all seals, by verdict. */
  readonly checks: { readonly met: number; readonly notMet: number; readonly notAssessed: number };
  readonly queries: Readonly<Record<QuerySeverity, number>>;
  /** Services, openings and cables of the inputs, each accounted for. */
  readonly counted: {
    readonly services: number;
    readonly openings: number;
    readonly cables: number;
  };
  readonly materials: readonly AreaMaterial[];
}

/** One material in one area of a project. */
export interface AreaMaterial {
  readonly area: string;
  readonly kind: 'sealant' | 'container' | 'filler';
  readonly material: string;
  readonly unit: 'ml' | 'pieces';
  readonly quantity: number;
}

/** One project of a portfolio: `done` with what it came to, or `dead` with the reason. */
export interface PortfolioProject {
  /** As the list names it. */
  readonly path: string;
  /** Folder of its outputs within the portfolio's. */
  readonly folder: string;
  readonly state: 'done' | 'dead' | 'waiting';
  readonly attempts: number;
  readonly reason: string | null;
  readonly summary: ProjectSummary | null;
}

/** One line of the record of a portfolio: what became of a project with just these inputs. */
export const ManyRecord = z.strictObject({
  /** SHA-256 over the project file and everything it reads. */
  key: z.string(),
  path: z.string(),
  folder: z.string(),
  state: z.enum(['done', 'dead']),
  attempts: z.number().int().positive(),
  reason: z.string().nullable(),
});
export type ManyRecord = z.infer<typeof ManyRecord>;
