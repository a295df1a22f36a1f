import type { Evidence } from '../../basics/evidence.ts';
import type { DrawnEntity, DrawnText, DrawnView } from '../../model/drawing.ts';

/** Heights of a section or elevation as its level marks give them. */
export interface MarkedDatum {
  readonly datum: NonNullable<DrawnView['datum']>;
  readonly evidence: readonly Evidence[];
}

/** "FFL +3.500", "-0.900", "TOS +0.600 m": a sign, metres, two decimals or three. */
const MARK = /^(?:[\p{L}./ ]{0,24}\s)?([+\-−–±])\s?(\d{1,3}[.,]\d{2,3})\s?m?$/u;
/** A mark's line lies no farther from its text than this many heights of the text. Our choice. */
const LINE_WITHIN_HEIGHTS = 2.5;
/** Marks agree when what they make of zero is as near as this, in heights of their text. */
const AGREE_HEIGHTS = 1.2;
/** Two marks nearer to each other than this are one level written twice. */
const LEAST_APART_MM = 100;

interface Mark {
  readonly text: DrawnText;
  readonly heightMm: number;
  readonly yMm: number;
  readonly hasLine: boolean;
}

/**
 * What height a section's y stands for, from at least two level marks that agree; null where there
 * are none, or they contradict each other. The line beside a mark is its level, else its text is.
 */
export function datumFromMarks(
  view: DrawnView,
  texts: readonly DrawnText[],
  entities: readonly DrawnEntity[],
): MarkedDatum | null {
  if (view.view === 'plan' || view.datum !== null || view.base !== null) return null;
  const marked = texts.flatMap((text) => {
    const heightMm = isInWindow(view, text.centreMm) ? markedHeightMm(text) : null;
    return heightMm === null ? [] : [{ text, heightMm }];
  });
  if (marked.length < 2) return null;
  const levels = horizontals(entities);
  const marks = marked.map((each): Mark => {
    const yMm = lineBeside(each.text, levels);
    return { ...each, yMm: yMm ?? each.text.centreMm[1], hasLine: yMm !== null };
  });
  const agreeing = largestAgreement(marks);
  const ys = agreeing.map(({ yMm }) => yMm);
  if (Math.max(...ys) - Math.min(...ys) < LEAST_APART_MM) return null;
  const [best] = [...agreeing].sort((a, b) => Number(b.hasLine) - Number(a.hasLine));
  // Half of the marks say otherwise: nobody could tell which are right.
  if (best === undefined || agreeing.length * 2 <= marks.length) return null;
  return {
    datum: { yMm: best.yMm, heightMm: best.heightMm },
    evidence: agreeing.map(({ text }) => ({
      fact: 'level',
      text: text.text.trim(),
      place: { fileKey: text.ref.fileKey, id: text.ref.id },
    })),
  };
}

function markedHeightMm({ text, rotationRad }: DrawnText): number | null {
  if (Math.abs(Math.sin(rotationRad)) > 0.02) return null;
  const match = MARK.exec(text.trim());
  if (match === null) return null;
  const metres = Number((match[2] ?? '').replace(',', '.'));
  return (/[-−–]/.test(match[1] ?? '') ? -1 : 1) * metres * 1000;
}

function isInWindow({ windowMm }: DrawnView, [x, y]: readonly [number, number]): boolean {
  if (windowMm === null) return true;
  const [x1, y1, x2, y2] = windowMm;
  return x >= x1 && x <= x2 && y >= y1 && y <= y2;
}

interface Horizontal {
  readonly fromMm: number;
  readonly toMm: number;
  readonly yMm: number;
}

function horizontals(entities: readonly DrawnEntity[]): Horizontal[] {
  return entities.flatMap(({ loops, form }) =>
    form === 'fill'
      ? []
      : loops.flatMap(({ pieces }) =>
          pieces.flatMap((piece): Horizontal[] => {
            if (piece.type !== 'line') return [];
            const [ax, ay] = piece.from;
            const [bx, by] = piece.to;
            if (Math.abs(ay - by) > 1e-3 * Math.abs(ax - bx)) return [];
            return [{ fromMm: Math.min(ax, bx), toMm: Math.max(ax, bx), yMm: (ay + by) / 2 }];
          }),
        ),
  );
}

/** The line nearest below or above a text and along it, longer than the text is high. */
function lineBeside(text: DrawnText, levels: readonly Horizontal[]): number | null {
  const [x, y] = text.centreMm;
  const reach = text.lengthMm / 2 + 2 * text.heightMm;
  let nearest: number | null = null;
  for (const { fromMm, toMm, yMm } of levels) {
    if (toMm < x - reach || fromMm > x + reach || toMm - fromMm < 2 * text.heightMm) continue;
    const distance = Math.abs(yMm - y);
    if (distance > LINE_WITHIN_HEIGHTS * text.heightMm) continue;
    if (nearest === null || distance < Math.abs(nearest - y)) nearest = yMm;
  }
  return nearest;
}

function largestAgreement(marks: readonly Mark[]): readonly Mark[] {
  let most: readonly Mark[] = [];
  for (const first of marks) {
    const zero = first.heightMm - first.yMm;
    const agreeing = marks.filter(
      ({ heightMm, yMm, text }) => Math.abs(heightMm - yMm - zero) <= AGREE_HEIGHTS * text.heightMm,
    );
    if (agreeing.length > most.length) most = agreeing;
  }
  return most;
}
