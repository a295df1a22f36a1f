import { groupBy } from '../../basics/order.ts';
import type { DrawnText } from '../../model/drawing.ts';

/** Share of texts of one or two letters from which on a drawing's texts count as broken. */
const BROKEN_RATIO = 0.6;
const FEWEST_TEXTS = 8;
/** Letters of a word lie no farther apart than this, in text heights; words a little farther. */
const LETTER_GAP = 0.6;
const WORD_GAP = 1.4;

/** Texts that were broken into letters, put together again; others as they are. */
export function joinLetters(texts: readonly DrawnText[]): readonly DrawnText[] {
  const short = texts.filter(isShort).length;
  if (texts.length < FEWEST_TEXTS || short < BROKEN_RATIO * texts.length) return texts;
  const lines = groupBy(texts, lineKey);
  return [...lines.values()].flatMap(joinLine);
}

const isShort = ({ text }: DrawnText): boolean => text.trim().length <= 2;

/** Along a text's own direction, and across it. */
function alongAcross({ centreMm, rotationRad }: DrawnText): { along: number; across: number } {
  const [c, s] = [Math.cos(rotationRad), Math.sin(rotationRad)];
  return {
    along: centreMm[0] * c + centreMm[1] * s,
    across: centreMm[1] * c - centreMm[0] * s,
  };
}

/** Letters of one line share layer, height, direction and the place across it. */
function lineKey(text: DrawnText): string {
  const height = Math.max(text.heightMm, 1e-6);
  const { across } = alongAcross(text);
  const turn = Math.round((text.rotationRad * 180) / Math.PI);
  return [text.layer, height.toFixed(2), turn, Math.round(across / (height * 0.5))].join('\n');
}

function joinLine(texts: readonly DrawnText[]): DrawnText[] {
  const placed = texts
    .map((text) => ({ text, ...alongAcross(text) }))
    .sort((a, b) => a.along - b.along);
  const joined: (typeof placed)[] = [];
  for (const each of placed) {
    const run = joined[joined.length - 1];
    const last = run?.[run.length - 1];
    if (run !== undefined && last !== undefined && gapBetween(last, each) <= WORD_GAP)
      run.push(each);
    else joined.push([each]);
  }
  return joined.map((run) => oneText(run));
}

interface Placed {
  readonly text: DrawnText;
  readonly along: number;
}

/** Clear distance in text heights. */
function gapBetween(a: Placed, b: Placed): number {
  const clear = b.along - b.text.lengthMm / 2 - (a.along + a.text.lengthMm / 2);
  return clear / Math.max(a.text.heightMm, 1e-6);
}

function oneText(run: readonly Placed[]): DrawnText {
  const [first] = run;
  const last = run[run.length - 1];
  if (first === undefined || last === undefined) throw new RangeError('a run has a letter');
  if (run.length === 1) return first.text;
  let text = '';
  run.forEach((each, i) => {
    const before = run[i - 1];
    const isApart = before !== undefined && gapBetween(before, each) > LETTER_GAP;
    text += (isApart ? ' ' : '') + each.text.text.trim();
  });
  const start = first.along - first.text.lengthMm / 2;
  const end = last.along + last.text.lengthMm / 2;
  const shift = (start + end) / 2 - first.along;
  const { rotationRad, centreMm } = first.text;
  return {
    ...first.text,
    text,
    lengthMm: end - start,
    centreMm: [
      centreMm[0] + Math.cos(rotationRad) * shift,
      centreMm[1] + Math.sin(rotationRad) * shift,
    ],
  };
}
