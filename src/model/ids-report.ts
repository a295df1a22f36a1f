/** What came of checking a model against requirements (IDS). */
export type IdsVerdict = 'pass' | 'fail' | 'invalid';

/** An element that doesn't meet a requirement. */
export interface IdsFailure {
  /** Record number in the file. */
  readonly stepId: number;
  readonly globalId: string | null;
  readonly ifcClass: string;
  readonly name: string | null;
  /** What was found instead. */
  readonly reason: string;
}

export interface RequirementReport {
  /** The requirement in words. */
  readonly text: string;
  readonly verdict: IdsVerdict;
  readonly checked: number;
  readonly passed: number;
  readonly failed: number;
  /** The first ones, in file order; `failed` counts all. */
  readonly failures: readonly IdsFailure[];
}

export interface SpecificationReport {
  readonly name: string;
  readonly identifier: string | null;
  readonly verdict: IdsVerdict;
  /** Whether the specification names the model's schema; it is checked either way. */
  readonly namesSchema: boolean;
  readonly applicable: number;
  /** Why the specification itself is wrong, or why it failed as a whole. */
  readonly problems: readonly string[];
  readonly requirements: readonly RequirementReport[];
}

/** One model checked against one file of requirements. */
export interface ModelRequirements {
  readonly modelKey: string;
  readonly model: string;
  /** Name of the IDS file. */
  readonly requirements: string;
  readonly report: IdsReport;
}

export interface IdsReport {
  readonly title: string;
  /** As the model's header names it. */
  readonly schema: string;
  /** `invalid` where any specification is; `fail` where any fails; else `pass`. */
  readonly verdict: IdsVerdict;
  readonly specifications: readonly SpecificationReport[];
}
