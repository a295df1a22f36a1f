import type { ArrangementProblem, Body } from '../../model/arrangement.ts';
import type { Range } from '../../model/range.ts';
import type { Seal } from '../../model/seal.ts';
import type { Settings } from '../../model/settings.ts';
import { problemOf } from '../arrange-subject.ts';
import { type HoleFacts, subjectOfBodies } from '../subject-of-bodies.ts';

/** What was recorded on site of one seal; null for what nobody recorded. */
export interface AsBuiltState {
  /** Sealed at all. */
  readonly isSealed: boolean | null;
  /** Cables and tubes stand where the drawing shows them. */
  readonly isAsDrawn: boolean | null;
  /** Depth of the layer as measured. */
  readonly depthMm: number | null;
  /** The opening measures what the seal was designed for. */
  readonly isOpeningAsDesigned: boolean | null;
  /** Defects that are still open, in words. */
  readonly openDefects: string | null;
}

export interface ExtraInput extends HoleFacts {
  readonly seal: Seal;
  readonly ref: string;
  readonly diameterMm: number;
  readonly range: Range;
  readonly design: Settings['design'];
  /** Null where the register holds no site record. */
  readonly asBuilt: AsBuiltState | null;
}

/** The register holds no site record. */
export const NOTHING_RECORDED: AsBuiltState = {
  isSealed: null,
  isAsDrawn: null,
  depthMm: null,
  isOpeningAsDesigned: null,
  openDefects: null,
};

/** The question with the new cable among the bodies given. */
export function problemWith(input: ExtraInput, bodies: readonly Body[]): ArrangementProblem {
  const outline = { type: 'circle', diameterMm: input.diameterMm } as const;
  const all = [...bodies, { ref: input.ref, outline }];
  return problemOf(subjectOf(input, all), input);
}

/** The leak path with other bodies in it. */
export function subjectOf({ seal, ...facts }: ExtraInput, bodies: readonly Body[]) {
  return subjectOfBodies(seal, seal.opening, bodies, facts);
}
