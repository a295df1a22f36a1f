import { sizeText } from '../../geometry/shape.ts';
import type { Section, ServiceKind } from '../../model/building.ts';
import { type ElementFacts, propertyLengthMm } from './element-facts.ts';
import { NOMINAL_NAMES, OUTSIDE_NAMES } from './make-service.ts';
import type { ServiceForm } from './service-form.ts';
import type { ModelUnits } from './units.ts';

const WIDTH_NAMES = ['NominalWidth', 'NominalWidthOrDiameter', 'NominalDiameterOrWidth'];
const HEIGHT_NAMES = ['NominalHeight'];

/** Rounding of sizes in catalogues and models: a fiftieth, and no less than a millimetre. */
const SAME_RATIO = 0.02;
const SAME_MM = 1;
/** Walls and flanges of ducts and trays beyond their nominal width. Our own choice. */
const BOX_RATIO = 0.2;
const BOX_MM = 10;

/**
 * What a service's properties say of its size against the body that is drawn for it: a sentence where
 * the two can't both be true, else null. A body with a jacket is compared with nothing.
 */
export function sizeConflict(
  form: ServiceForm,
  kind: ServiceKind,
  facts: ElementFacts,
  units: ModelUnits,
): string | null {
  const { section } = form;
  if (section === null || form.hasJacket) return null;
  if (section.type === 'rectangle') return boxConflict(section, facts, units);
  const drawn = section.diameterMm;
  const outside = propertyLengthMm(facts, OUTSIDE_NAMES, units);
  if (outside !== null) {
    const slackMm = Math.max(SAME_MM, SAME_RATIO * outside.valueMm);
    return Math.abs(drawn - outside.valueMm) > slackMm
      ? sentence(outside.name, outside.valueMm, drawn)
      : null;
  }
  const nominal = propertyLengthMm(facts, NOMINAL_NAMES, units);
  if (nominal === null) return null;
  const [least, most] = outsideOfNominal(nominal.valueMm, kind);
  return drawn < least || drawn > most ? sentence(nominal.name, nominal.valueMm, drawn) : null;
}

/**
 * Outsides that a nominal size may have. The steel series go from DN 10 at 17.2 mm to DN 100 at 114.3 mm;
 * plastics and copper are named after the outside; clay and concrete have thick walls.
 * @source EN 10255 and ISO 4200 outsides, from memory; the bounds are our own choice around them.
 */
function outsideOfNominal(nominalMm: number, kind: ServiceKind): readonly [number, number] {
  const thickest = kind === 'pipe' ? 1.5 : 1.25;
  return [0.9 * nominalMm - SAME_MM, thickest * nominalMm + 8];
}

function boxConflict(
  { widthMm, heightMm }: Extract<Section, { type: 'rectangle' }>,
  facts: ElementFacts,
  units: ModelUnits,
): string | null {
  const width = propertyLengthMm(facts, WIDTH_NAMES, units);
  const height = propertyLengthMm(facts, HEIGHT_NAMES, units);
  if (width === null || height === null) return null;
  const isNear = (a: number, b: number) => Math.abs(a - b) <= BOX_RATIO * b + BOX_MM;
  const fits = (w: number, h: number) => isNear(widthMm, w) && isNear(heightMm, h);
  if (fits(width.valueMm, height.valueMm) || fits(height.valueMm, width.valueMm)) return null;
  return `its properties say ${sizeText(width.valueMm)} × ${sizeText(height.valueMm)} mm, its body is ${sizeText(widthMm)} × ${sizeText(heightMm)} mm`;
}

function sentence(name: string, saidMm: number, drawnMm: number): string {
  return `its property ${name} says ${sizeText(saidMm)} mm, its body is ${sizeText(drawnMm)} mm`;
}
