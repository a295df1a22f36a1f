import { sizeOne } from '../design/size-one.ts';
import { takeOff } from '../design/take-off.ts';
import { drawSection } from '../draw/draw-section.ts';
import type { Shape } from '../geometry/shape.ts';
import { shapeText } from '../geometry/shape.ts';
import type { ArrangementProblem, Body, Effort } from '../model/arrangement.ts';
import type { Range } from '../model/range.ts';
import type { Duty, Seal, SealHole } from '../model/seal.ts';
import { Settings } from '../model/settings.ts';
import type { TakeOff } from '../model/take-off.ts';
import { RESULT_CAUTION } from '../write/result/build-result.ts';
import { sealJson } from '../write/result/seal-json.ts';
import { takeOffJson } from '../write/result/take-off-json.ts';

/** One opening and its contents, without a project. */
export interface SizeTask {
  readonly opening: Shape;
  readonly bodies: readonly Body[];
  readonly range: Range;
  /** Between the cables' own surfaces; null for the default. */
  readonly separationMm: number | null;
  /** From the cables to the wall; null for the default. */
  readonly edgeMm: number | null;
  /** Pairs of classes that must stand further apart. */
  readonly classSeparations?: ArrangementProblem['classSeparations'];
  readonly duties?: readonly Duty[];
  readonly hole?: Partial<SealHole>;
  /** Settings of its own; null or absent for the defaults of a project. */
  readonly design?: Settings['design'] | null;
  /** Leave the split tubes off. */
  readonly bare: boolean;
  readonly effort: Effort;
}

/** Designs one seal, on the defaults of a project where the task has none. Throws `usage` for sizes that can't be. */
export function sizeOpening(task: SizeTask): Seal {
  const design = designOf(task);
  return sizeOne({
    opening: task.opening,
    bodies: task.bodies,
    range: task.range,
    ...(task.classSeparations === undefined ? {} : { classSeparations: task.classSeparations }),
    ...(task.duties === undefined ? {} : { duties: task.duties }),
    ...task.hole,
    design: {
      ...design,
      separationMm: task.separationMm ?? design.separationMm,
      edgeMm: task.edgeMm ?? design.edgeMm,
      splitTubes: design.splitTubes && !task.bare,
      effort: task.effort,
    },
  });
}

function designOf({ design }: SizeTask): Settings['design'] {
  return design ?? Settings.parse({}).design;
}

/** What one seal takes: as the take-off of a project that has no other. */
export function sizeTakeOff(seal: Seal, range: Range): TakeOff {
  return takeOff([seal], [], range, Settings.parse({}));
}

/** What `size --json` prints: the seal, what it takes, and the cautions that go with it. */
export function sizeJson(seal: Seal, range: Range): object {
  return {
    ...sealJson(seal),
    takeOff: takeOffJson(sizeTakeOff(seal, range)),
    caution: RESULT_CAUTION,
    sample: range.sample,
  };
}

/** The cross-section as SVG, titled by the opening's size. */
export function sizeSvg(seal: Seal): string {
  const title = seal.opening === null ? 'opening' : shapeText(seal.opening);
  return drawSection(seal, { tag: title, tags: [title] });
}
