import { sizeOne } from '../design/size-one.ts';
import { drawSection } from '../draw/draw-section.ts';
import type { Shape } from '../geometry/shape.ts';
import { shapeText } from '../geometry/shape.ts';
import type { ArrangementProblem, Body, Effort } from '../model/arrangement.ts';
import type { Range } from '../model/range.ts';
import type { Seal } from '../model/seal.ts';
import { Settings } from '../model/settings.ts';
import { sealJson } from '../write/result/seal-json.ts';

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
  /** Leave the split tubes off. */
  readonly bare: boolean;
  readonly effort: Effort;
}

/** Designs one seal on the defaults of a project. Throws `usage` for sizes that can't be. */
export function sizeOpening(task: SizeTask): Seal {
  const { design } = Settings.parse({});
  return sizeOne({
    opening: task.opening,
    bodies: task.bodies,
    range: task.range,
    ...(task.classSeparations === undefined ? {} : { classSeparations: task.classSeparations }),
    design: {
      ...design,
      separationMm: task.separationMm ?? design.separationMm,
      edgeMm: task.edgeMm ?? design.edgeMm,
      splitTubes: !task.bare,
      effort: task.effort,
    },
  });
}

/** What `size --json` prints. */
export function sizeJson(seal: Seal): object {
  return sealJson(seal);
}

/** The cross-section as SVG, titled by the opening's size. */
export function sizeSvg(seal: Seal): string {
  const title = seal.opening === null ? 'opening' : shapeText(seal.opening);
  return drawSection(seal, { tag: title, tags: [title] });
}
