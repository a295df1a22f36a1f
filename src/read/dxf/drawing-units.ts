import { makeQuery, type Query } from '../../basics/query.ts';
import { remembering } from '../../basics/remember.ts';
import { bandLengthMm, bandThicknessMm } from '../../geometry/band.ts';
import { findBands } from '../../geometry/plane-band.ts';
import { boxOfLoops } from '../../geometry/plane-box.ts';
import { BandIndex } from '../../geometry/plane-cross.ts';
import { type PlanePiece, pieceLengthMm, pieceMiddle } from '../../geometry/plane-curve.ts';
import { sizeText } from '../../geometry/shape.ts';
import type { Vec2 } from '../../geometry/vec.ts';
import type { DrawingUnit, DrawingUnits, DrawnEntity, DrawnText } from '../../model/drawing.ts';
import { layerRole } from '../../model/layer-role.ts';
import type { Settings } from '../../model/settings.ts';

export const MM_PER_UNIT: Readonly<Record<DrawingUnit, number>> = {
  mm: 1,
  cm: 10,
  m: 1000,
  in: 25.4,
  ft: 304.8,
};

/** @source DXF reference, header variable $INSUNITS (from memory) */
const INS_UNITS: Readonly<Record<number, DrawingUnit>> = {
  1: 'in',
  2: 'ft',
  4: 'mm',
  5: 'cm',
  6: 'm',
};

const UNITS: readonly DrawingUnit[] = ['mm', 'cm', 'm', 'in', 'ft'];

/** Usual scales of plans. @source ISO 5455 (from memory) */
const PAPER_SCALES: readonly number[] = [20, 50, 100, 200];

export const saidUnit = (insUnits: number | null): DrawingUnit | null =>
  insUnits === null ? null : (INS_UNITS[insUnits] ?? null);

/** How well the content fits one unit. */
export interface UnitFit {
  readonly unit: DrawingUnit;
  /** Share of the length on wall layers that lies beside a parallel line at a wall's distance. */
  readonly wallRatio: number;
  /** Wall thicknesses found, most length first, mm; at most three. */
  readonly thicknessesMm: readonly number[];
  /** Quarter circles with the radius of a door leaf. */
  readonly doors: number;
  /** Share of texts with a height that plans have. */
  readonly textRatio: number;
  /** Height of the middle one of all texts, mm; 0 without texts. */
  readonly textHeightMm: number;
  /** That height is far from what a drawing at full size has, and no wall speaks for the unit. */
  readonly isTextOdd: boolean;
  /** Share of the walls' length whose thickness and slenderness are those of walls. */
  readonly commonRatio: number;
  readonly extentMm: number;
  readonly score: number;
}

/** Walls are judged on so many lines at most: enough to tell, and quick on any drawing. */
export const MOST_LINES = 1500;

/** Thickness of common walls. Our own choice, narrower than what finding accepts. */
const COMMON_WALL_MM = { from: 70, to: 460 };
/** Width of a door leaf. Common practice, no source. */
const DOOR_MM = { from: 550, to: 1250 };
/** Heights of text in plans: 1.8 to 5 mm on paper at 1:20 to 1:200. Common practice, no source. */
const TEXT_MM = { from: 36, to: 1000 };
/** Texts of a drawing at full size are not smaller or larger than this at any usual scale. */
const POSSIBLE_TEXT_MM = { from: 8, to: 6000 };
const FEWEST_TEXTS = 10;
/** A wall is this many times longer than thick. Our own choice. */
const SLENDER = 8;
const EXTENT_MM = { from: 500, to: 3e6 };

/** The fit of every unit, best first. Coordinates are in drawing units × `mmPerUnit`. */
export function unitFits(
  drawing: {
    readonly entities: readonly DrawnEntity[];
    readonly texts: readonly DrawnText[];
  },
  mmPerUnit: number,
  settings: Settings,
): UnitFit[] {
  const { wallPieces, doorRadii } = tellingPieces(
    drawing.entities,
    remembering((layer) => layerRole(layer, settings).role === 'wall'),
  );
  const heights = drawing.texts.map(({ heightMm }) => heightMm).sort((a, b) => a - b);
  const extent = extentOf(drawing.entities);
  const fits = UNITS.map((unit): UnitFit => {
    // What is one millimetre now would be `scale` millimetres in this unit.
    const scale = MM_PER_UNIT[unit] / mmPerUnit;
    const walls = wallFit(wallPieces, scale, settings);
    const doors = doorRadii.filter((radius) => isWithin(radius * scale, DOOR_MM)).length;
    const texts = heights.filter((height) => isWithin(height * scale, TEXT_MM)).length;
    const textRatio = heights.length > 0 ? texts / heights.length : 0;
    const textHeightMm = (heights[Math.floor(heights.length / 2)] ?? 0) * scale;
    const extentMm = extent * scale;
    const doorPart = Math.min(doors, 4) / 4;
    const score =
      walls.ratio * walls.commonRatio * 4 +
      doorPart * 1.5 +
      textRatio * 0.5 +
      (isWithin(extentMm, EXTENT_MM) ? 0.5 : 0);
    return {
      unit,
      wallRatio: walls.ratio,
      thicknessesMm: walls.thicknessesMm,
      doors,
      textRatio,
      textHeightMm,
      isTextOdd:
        heights.length >= FEWEST_TEXTS &&
        walls.ratio * walls.commonRatio < 0.2 &&
        !isWithin(textHeightMm, POSSIBLE_TEXT_MM),
      commonRatio: walls.commonRatio,
      extentMm,
      score,
    };
  });
  return fits.sort((a, b) => b.score - a.score);
}

/** Lines on wall layers, and radii of quarter circles on any layer. */
function tellingPieces(
  entities: readonly DrawnEntity[],
  isWall: (layer: string) => boolean,
): { readonly wallPieces: readonly PlanePiece[]; readonly doorRadii: readonly number[] } {
  const wallPieces: PlanePiece[] = [];
  const doorRadii: number[] = [];
  for (const { layer, loops } of entities) {
    const isOnWall = isWall(layer);
    for (const { pieces } of loops) {
      for (const piece of pieces) {
        if (isOnWall && wallPieces.length < MOST_LINES) wallPieces.push(piece);
        if (piece.type !== 'arc') continue;
        const degrees = (Math.abs(piece.sweepRad) * 180) / Math.PI;
        if (degrees > 80 && degrees < 100) doorRadii.push(piece.radiusMm);
      }
    }
  }
  return { wallPieces, doorRadii };
}

const isWithin = (value: number, { from, to }: { from: number; to: number }): boolean =>
  value >= from && value <= to;

/** How much of these lines are faces of walls when they are scaled by `scale` to millimetres. */
export function wallFit(
  drawn: readonly PlanePiece[],
  scale: number,
  settings: Settings,
): { ratio: number; commonRatio: number; thicknessesMm: number[] } {
  const { thinnestWallMm, thickestWallMm, leafGapMm } = settings.find;
  // The lines are scaled, not the limits: tolerances are millimetres too.
  const pieces = drawn.map((piece) => scaledPiece(piece, scale));
  const bands = findBands(
    pieces.map((piece, source) => ({ piece, source, left: 'unknown', right: 'unknown' })),
    { thinnest: thinnestWallMm, thickest: thickestWallMm, layer: leafGapMm },
  );
  const total = lengthOf(pieces);
  const lengths = new Map<number, number>();
  const index = new BandIndex(bands);
  const explained = pieces.filter((piece) => index.holds(pieceMiddle(piece)));
  let inBands = 0;
  let common = 0;
  for (const band of bands) {
    const length = bandLengthMm(band);
    const thickness = Math.round(bandThicknessMm(band));
    // Strips as wide as they are long are rooms, steps or columns in the wrong unit, not walls.
    const slender = Math.min(1, length / (SLENDER * Math.max(thickness, 1)));
    inBands += length;
    if (isWithin(thickness, COMMON_WALL_MM)) common += length * slender;
    lengths.set(thickness, (lengths.get(thickness) ?? 0) + length);
  }
  const thicknessesMm = [...lengths]
    .sort(([, a], [, b]) => b - a)
    .slice(0, 3)
    .map(([thickness]) => thickness);
  return {
    ratio: total > 0 ? lengthOf(explained) / total : 0,
    commonRatio: inBands > 0 ? common / inBands : 0,
    thicknessesMm,
  };
}

function scaledPiece(piece: PlanePiece, scale: number): PlanePiece {
  const at = ([x, y]: Vec2): Vec2 => [x * scale, y * scale];
  return piece.type === 'line'
    ? { type: 'line', from: at(piece.from), to: at(piece.to) }
    : { ...piece, centre: at(piece.centre), radiusMm: piece.radiusMm * scale };
}

const lengthOf = (pieces: readonly PlanePiece[]): number =>
  pieces.reduce((sum, piece) => sum + pieceLengthMm(piece), 0);

/** Width of all that is drawn. */
function extentOf(entities: readonly DrawnEntity[]): number {
  let x1 = Number.POSITIVE_INFINITY;
  let x2 = Number.NEGATIVE_INFINITY;
  for (const { loops } of entities) {
    const box = boxOfLoops(loops);
    if (box === null) continue;
    x1 = Math.min(x1, box[0]);
    x2 = Math.max(x2, box[2]);
  }
  return x2 > x1 ? x2 - x1 : 0;
}

/** The best fit must be this much better than what the drawing says before the drawing is doubted. */
const CLEARLY_BETTER = 1.2;
/** Walls found for this share of the lines in the drawing's own unit leave no doubt about it. */
const GOOD_WALLS = 0.5;

/**
 * The unit to work in, and a query where there is doubt. A unit given in the project file is taken
 * as it is; a drawing's own word is doubted only where its content clearly says something else.
 */
export function chooseUnits(
  given: DrawingUnit | undefined,
  paperScale: number | undefined,
  insUnits: number | null,
  measurement: number | null,
  fits: readonly UnitFit[],
  file: { readonly key: string; readonly name: string },
): { readonly units: DrawingUnits; readonly query: Query | null } {
  const units = (unit: DrawingUnit, from: DrawingUnits['from']): DrawingUnits => ({
    unit,
    mmPerUnit: MM_PER_UNIT[unit] * (paperScale ?? 1),
    from,
  });
  const said = saidUnit(insUnits);
  if (given !== undefined || paperScale !== undefined) {
    return { units: units(given ?? said ?? 'mm', 'given'), query: null };
  }
  const [best] = fits;
  const saidFit = fits.find(({ unit }) => unit === said);
  if (said !== null && saidFit !== undefined && best !== undefined) {
    const hasWalls = saidFit.wallRatio * saidFit.commonRatio > GOOD_WALLS;
    const isDoubtful =
      best.unit !== said && !hasWalls && best.score - saidFit.score > CLEARLY_BETTER;
    if (!isDoubtful) {
      const query = saidFit.isTextOdd
        ? unitsQuery(
            file,
            `says that it is drawn in ${said}, in which its texts would be ${sizeText(saidFit.textHeightMm)} mm high`,
            said,
            fits,
            'ask',
          )
        : null;
      return { units: units(said, 'said'), query };
    }
    return {
      units: units(best.unit, 'likely'),
      query: unitsQuery(file, `says that it is drawn in ${said}`, best.unit, fits, 'stop'),
    };
  }
  const fallback: DrawingUnit = measurement === 0 ? 'in' : 'mm';
  const usual = fits.find((fit) => fit.unit === fallback);
  const isUsualPossible = usual !== undefined && isWithin(usual.extentMm, EXTENT_MM);
  const isBestTold = best !== undefined && best.score >= CLEARLY_BETTER;
  const unit = best !== undefined && (isBestTold || !isUsualPossible) ? best.unit : fallback;
  return {
    units: units(unit, 'likely'),
    query: unitsQuery(file, 'does not say in which unit it is drawn', unit, fits, 'ask'),
  };
}

/** A question about the scale where walls appear only when the drawing is taken as paper size. */
export function paperScaleQuery(
  wallPieces: readonly PlanePiece[],
  mmPerUnit: number,
  file: { readonly key: string; readonly name: string },
  settings: Settings,
): Query | null {
  const pieces = wallPieces.slice(0, MOST_LINES);
  const fitAt = (scale: number) => wallFit(pieces, scale / mmPerUnit, settings);
  const good = (scale: number) => {
    const { ratio, commonRatio } = fitAt(scale);
    return ratio * commonRatio > GOOD_WALLS;
  };
  if (pieces.length < FEWEST_LINES || good(mmPerUnit)) return null;
  const candidates = PAPER_SCALES.filter(good);
  if (candidates.length === 0) return null;
  const meaning = PAPER_SCALES.map((scale) => {
    const { thicknessesMm } = fitAt(scale);
    return `1:${scale}: ${thicknessesMm.length > 0 ? `walls ${thicknessesMm.join(', ')} mm thick` : 'no walls'}.`;
  });
  return makeQuery('drawing-units-doubtful', {
    about: `${file.key}/scale`,
    severity: 'stop',
    text: `${file.name} seems to be drawn at paper size. ${meaning.join(' ')}`,
    why: 'Nothing can be measured before the scale is known.',
    settles: `The scale: put "paperScale: ${candidates[0]}" (the number after 1:) under files.${file.key} in the project file.`,
    evidence: [{ fact: 'scale', text: meaning.join(' '), place: { fileKey: file.key } }],
  });
}

const FEWEST_LINES = 8;

function unitsQuery(
  file: { readonly key: string; readonly name: string },
  says: string,
  taken: DrawingUnit,
  fits: readonly UnitFit[],
  severity: 'ask' | 'stop',
): Query {
  return makeQuery('drawing-units-doubtful', {
    about: file.key,
    severity,
    text: `${file.name} ${says}; for now it is read as ${taken}. ${fits.map(consequence).join(' ')}`,
    why: 'Every size and place in this drawing hangs on it: a wrong unit makes all of them wrong by the same factor.',
    settles: `The unit: put "units: ${taken}" (or mm, cm, m, in, ft) under files.${file.key} in the project file.`,
    evidence: fits.slice(0, 2).map((fit) => ({
      fact: 'units',
      text: consequence(fit),
      place: { fileKey: file.key },
    })),
  });
}

/** What the drawing would be in this unit, as a sentence. */
export function consequence(fit: UnitFit): string {
  const walls =
    fit.thicknessesMm.length === 0
      ? 'no walls'
      : `walls ${fit.thicknessesMm.map(sizeText).join(', ')} mm thick`;
  const doors = fit.doors > 0 ? `, ${fit.doors} door leaves` : '';
  return `As ${fit.unit}: ${walls}${doors}, ${lengthText(fit.extentMm)} wide.`;
}

function lengthText(valueMm: number): string {
  return valueMm >= 1000 ? `${sizeText(valueMm / 1000)} m` : `${sizeText(valueMm)} mm`;
}
