import { compareText, groupBy } from '../../basics/order.ts';
import { bandLengthMm, bandThicknessMm } from '../../geometry/band.ts';
import { findBands } from '../../geometry/plane-band.ts';
import { BandIndex, planePath } from '../../geometry/plane-cross.ts';
import {
  type PlanePiece,
  pathPoints,
  pieceLengthMm,
  pieceMiddle,
} from '../../geometry/plane-curve.ts';
import type { ServiceKind } from '../../model/building.ts';
import type { DrawnEntity, DrawnText } from '../../model/drawing.ts';
import { elementId } from '../../model/ids.ts';
import type { Settings } from '../../model/settings.ts';
import { type LabelSources, labelsOf } from './labels.ts';
import type { ServiceItem } from './sheet.ts';

/*
 * Drawings whose layers tell nothing, as those that came out of PDFs: lines of one colour, weight and
 * pattern are one group. A group is taken for walls when nearly all of it runs in pairs a wall's
 * thickness apart; a line for a service when a text with a size stands on it, with the others of its
 * group. Whatever is guessed so is asked about.
 */

export interface GuessedRoles {
  readonly walls: readonly DrawnEntity[];
  readonly services: readonly ServiceItem[];
  /** What was taken for what, as sentences. */
  readonly reasons: readonly string[];
}

/** A group of lines as walls: enough of it in pairs, long enough, and slender. Our own choice. */
const PAIRED_RATIO = 0.6;
const SHORTEST_WALLS_MM = 3000;
const SLENDER = 4;
const FEWEST_LINES = 4;

export function guessWalls(
  entities: readonly DrawnEntity[],
  settings: Settings,
): Pick<GuessedRoles, 'walls' | 'reasons'> {
  const groups = groupBy(entities.filter(isLine), styleKey);
  const walls: DrawnEntity[] = [];
  const reasons: string[] = [];
  for (const [key, members] of [...groups].sort(([a], [b]) => compareText(a, b))) {
    const reason = wallReason(members, settings);
    if (reason === null) continue;
    walls.push(...members);
    reasons.push(`${styleText(key)} for walls (${reason})`);
  }
  return { walls, reasons };
}

const isLine = ({ form, loops }: DrawnEntity): boolean =>
  form === 'curve' && loops.some(({ pieces }) => pieces.some(({ type }) => type === 'line'));

const styleKey = ({ layer, style }: DrawnEntity): string =>
  [layer, style.colour, style.lineweight, style.linetype].join('\n');

function styleText(key: string): string {
  const [layer, colour, weight, linetype] = key.split('\n');
  return `lines on layer ${layer} in colour ${colour}, weight ${weight}, pattern ${linetype}`;
}

function wallReason(members: readonly DrawnEntity[], settings: Settings): string | null {
  const pieces = members.flatMap(({ loops }) => loops.flatMap((loop) => loop.pieces));
  if (pieces.length < FEWEST_LINES) return null;
  const { thinnestWallMm, thickestWallMm, leafGapMm } = settings.find;
  const bands = findBands(
    pieces.map((piece, source) => ({ piece, source, left: 'unknown', right: 'unknown' })),
    { thinnest: thinnestWallMm, thickest: thickestWallMm, layer: leafGapMm },
  );
  const slender = bands.filter((band) => bandLengthMm(band) >= SLENDER * bandThicknessMm(band));
  const index = new BandIndex(slender);
  const paired = sumLength(pieces.filter((piece) => index.holds(pieceMiddle(piece))));
  const total = sumLength(pieces);
  const long = slender.reduce((sum, band) => sum + bandLengthMm(band), 0);
  if (paired < PAIRED_RATIO * total || long < SHORTEST_WALLS_MM) return null;
  return `${Math.round((100 * paired) / total)} % of their length runs in pairs`;
}

const sumLength = (pieces: readonly PlanePiece[]): number =>
  pieces.reduce((sum, piece) => sum + pieceLengthMm(piece), 0);

/** Lines with a size on them, and all others drawn alike. */
export function guessServices(
  entities: readonly DrawnEntity[],
  texts: readonly DrawnText[],
  read: LabelSources['read'],
  settings: Settings,
): Pick<GuessedRoles, 'services' | 'reasons'> {
  const lines = entities.filter(isLine);
  const labels = labelsOf(
    lines.map(({ loops }) => ({
      path: planePath(pathPoints(loops.flatMap(({ pieces }) => pieces))),
      halfWidthMm: 0,
      drawnMm: [],
      isOpening: false,
    })),
    { texts, leaders: [], tags: [], read },
    settings.find.labelReachMm / 3,
  );
  const kinds = new Map<string, ServiceKind>();
  lines.forEach((line, i) => {
    const sized = labels[i]?.find(({ reading }) => reading.sizes.length > 0);
    if (sized === undefined) return;
    kinds.set(styleKey(line), sized.reading.kind ?? kinds.get(styleKey(line)) ?? 'conduit');
  });
  const services = lines.flatMap((entity): ServiceItem[] => {
    const kind = kinds.get(styleKey(entity));
    if (kind === undefined) return [];
    const { ref, layer, type } = entity;
    return [
      {
        id: elementId(ref),
        ref,
        layer,
        type,
        symbol: null,
        entities: [entity],
        kind,
        carrierForm: null,
      },
    ];
  });
  const reasons = [...kinds.keys()]
    .sort(compareText)
    .map((key) => `${styleText(key)} for services (a text with a size stands on them)`);
  return { services, reasons };
}
