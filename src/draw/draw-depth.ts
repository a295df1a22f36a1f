import type { Penetration } from '../model/penetration.ts';
import type { Seal } from '../model/seal.ts';
import { depthField } from './depth-field.ts';
import { hollowOutside } from './hollow-outside.ts';
import { page, SLATE, type Svg, text } from './svg.ts';
import { fitText } from './text-width.ts';

const WIDTH_MM = 120;
const HEIGHT_MM = 80;

/**
 * Long section of a seal to scale, as a drawing of its own: host, set-back filled with sealant at
 * each sealed face, fillers behind, what passes. SVG; one user unit is a millimetre on paper.
 */
export function drawDepth(
  seal: Seal,
  options: { readonly tag: string; readonly penetration?: Penetration },
): Svg {
  return page(WIDTH_MM, HEIGHT_MM, `Long section of seal ${options.tag}`, [
    text(4, 7, fitText(options.tag, 4, WIDTH_MM - 8, true), { size: 4, bold: true }),
    text(WIDTH_MM - 4, HEIGHT_MM - 2.6, 'mm. Design aid, not a certificate.', {
      size: 2,
      anchor: 'end',
      fill: SLATE,
    }),
    depthField(
      {
        seal,
        thicknessMm: options.penetration?.thicknessMm ?? null,
        hollowWallMm: hollowWall(seal, options.penetration),
      },
      { x: 4, y: 11, width: WIDTH_MM - 8, height: HEIGHT_MM - 15 },
    ),
  ]);
}

/** Thickness of the hollow body's wall; null for an annulus or a size that is not known. */
export function hollowWall(seal: Seal, penetration: Penetration | undefined): number | null {
  const outsideMm = hollowOutside(seal, penetration);
  if (outsideMm === null || seal.opening?.type !== 'circle') return null;
  return (outsideMm - seal.opening.diameterMm) / 2;
}
