import type { BcfCamera, BcfPoint } from '../../formats/bcf/bcf-file.ts';
import { shapeExtentMm } from '../../geometry/shape.ts';
import { add3, cross3, dot3, scale3, sub3, unit3, type Vec3 } from '../../geometry/vec.ts';
import type { Penetration } from '../../model/penetration.ts';

const MM_PER_M = 1000;
const FIELD_OF_VIEW_DEG = 60;
const ASPECT_RATIO = 4 / 3;
/** Nearest the eye comes to the face; closer, the host alone fills the picture. */
const NEAREST_MM = 1500;

/**
 * A camera that shows a penetration from its near side: a little to the right and above, so that the
 * depth of the host can be seen, and far enough that the opening takes about a third of the picture.
 * World metres, as BCF has it.
 */
export function cameraFor(penetration: Penetration): BcfCamera {
  const { originMm, axis, right, up } = penetration.frame;
  const distanceMm = Math.max(NEAREST_MM, 4 * sizeMm(penetration)) + penetration.thicknessMm / 2;
  const aside = add3(scale3(right, 0.35 * distanceMm), scale3(up, 0.35 * distanceMm));
  const eyeMm = add3(sub3(originMm, scale3(axis, distanceMm)), aside);
  const direction = unit3(sub3(originMm, eyeMm)) ?? axis;
  return {
    at: metres(eyeMm),
    direction: tidy(direction),
    up: tidy(uprightTo(direction, up)),
    fieldOfViewDeg: FIELD_OF_VIEW_DEG,
    viewHeightM: null,
    aspectRatio: ASPECT_RATIO,
  };
}

function sizeMm({ shape, crossings }: Penetration): number {
  if (shape !== null) {
    const { widthMm, heightMm } = shapeExtentMm(shape);
    return Math.max(widthMm, heightMm);
  }
  const sections = crossings.flatMap(({ section }) => section ?? []);
  return Math.max(
    100,
    ...sections.map((section) =>
      section.type === 'circle' ? section.diameterMm : Math.max(section.widthMm, section.heightMm),
    ),
  );
}

/** The part of `up` square to the direction of view. */
function uprightTo(direction: Vec3, up: Vec3): Vec3 {
  const upright = unit3(sub3(up, scale3(direction, dot3(up, direction))));
  return upright ?? unit3(cross3(direction, [1, 0, 0])) ?? up;
}

const tidyNumber = (value: number): number => Number(value.toFixed(9)) + 0;
const tidy = ([x, y, z]: Vec3): BcfPoint => [tidyNumber(x), tidyNumber(y), tidyNumber(z)];
const metres = (point: Vec3): BcfPoint => tidy(scale3(point, 1 / MM_PER_M));
