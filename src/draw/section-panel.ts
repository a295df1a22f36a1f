import { sizeText } from '../geometry/shape.ts';
import type { PlacedBody } from '../model/arrangement.ts';
import type { Seal } from '../model/seal.ts';
import type { Box } from './box.ts';
import { notDesignedText, sealFacts } from './seal-facts.ts';
import { legendEntries } from './section-legend.ts';
import { line, SLATE, type Svg, text } from './svg.ts';
import { fitText, textWidth, wrapText } from './text-width.ts';

const SIZE = 2.2;
const ROW = 3.4;
const HEADING = 7;
/** Beyond this many, what passes is listed in narrow columns. */
const MOST_WIDE_ROWS = 9;
const NARROW_SIZE = 1.9;
const NARROW_ROW = 2.9;
const FOOT = 6;

export interface PanelWords {
  /** The host in words. */
  readonly host: string;
  /** Whether something is drawn where it was found. */
  readonly hasFound: boolean;
}

/** The list of what passes, the legend, and the facts of the seal, beside the section. */
export function sectionPanel(seal: Seal, words: PanelWords, box: Box): Svg {
  const column = new PanelColumn(box);
  const entries = legendEntries(seal, words.host, words.hasFound);
  const facts = sealFacts(seal);
  const reason = wrapText(notDesignedText(seal) ?? '', SIZE, box.width, 6, true).filter(
    (part) => part !== '',
  );
  const below = 2 * HEADING + (entries.length + facts.length + reason.length) * ROW + FOOT;
  bodyList(column, seal, box.height - HEADING - below);
  column.heading('Legend');
  for (const { label, mark } of entries) {
    const y = column.nextRow();
    column.add(
      mark(box.x, y - 0.8),
      text(box.x + 6.2, y, fitText(label, SIZE, box.width - 6.2), { size: SIZE }),
    );
  }
  column.heading('Seal');
  for (const [label, value] of facts) {
    const y = column.nextRow();
    column.add(
      text(box.x, y, label, { size: SIZE, fill: SLATE }),
      text(box.x + 26, y, fitText(value, SIZE, box.width - 26), { size: SIZE }),
    );
  }
  for (const part of reason) {
    column.add(text(box.x, column.nextRow(), part, { size: SIZE, bold: true }));
  }
  return column.svg;
}

/** Lines of a panel laid one under the other. */
class PanelColumn {
  private readonly parts: Svg[] = [];
  private y: number;
  readonly box: Box;

  constructor(box: Box) {
    this.box = box;
    this.y = box.y;
  }

  get svg(): Svg {
    return this.parts.join('');
  }

  heading(title: string): void {
    this.y += HEADING - 1.4;
    const { x, width } = this.box;
    this.parts.push(
      text(x, this.y, title, { size: 2.4, bold: true }),
      line(x, this.y + 1, x + width, this.y + 1, { 'stroke-width': 0.25 }),
    );
    this.y += 1.4;
  }

  /** Base line of the next row. */
  nextRow(height: number = ROW): number {
    this.y += height;
    return this.y;
  }

  add(...parts: readonly Svg[]): void {
    this.parts.push(...parts);
  }
}

/** A line of the list: placed, or only known. */
type Listed = Pick<PlacedBody, 'ref' | 'outline'> & Partial<Pick<PlacedBody, 'tube'>>;

function bodyList(column: PanelColumn, seal: Seal, height: number): void {
  const placed = seal.arrangement?.items ?? [];
  const listed: readonly Listed[] = placed.length > 0 ? placed : seal.bodies;
  const count = listed.length === 0 ? '' : ` (${listed.length})`;
  const state = placed.length === 0 && listed.length > 0 ? ', not arranged' : '';
  column.heading(`What passes${count}${state}`);
  if (listed.length === 0) {
    const note = seal.state === 'designed' ? 'nothing' : 'nothing known';
    column.add(text(column.box.x, column.nextRow(), note, { size: SIZE, fill: SLATE }));
  } else if (listed.length <= MOST_WIDE_ROWS) {
    for (const [at, item] of listed.entries()) wideRow(column, item, at + 1);
  } else narrowRows(column, listed, Math.max(3, Math.floor(height / NARROW_ROW)));
}

function wideRow(column: PanelColumn, item: Listed, number: number): void {
  const y = column.nextRow();
  const { x, width } = column.box;
  const tube = item.tube ? `in ${item.tube.name}` : '';
  column.add(
    text(x + 4, y, String(number), { size: SIZE, anchor: 'end', fill: SLATE }),
    text(x + 5.5, y, fitText(item.ref, SIZE, 21, true), { size: SIZE, bold: true }),
    text(x + 43, y, outlineText(item), { size: SIZE, anchor: 'end' }),
    text(x + 44.5, y, fitText(tube, SIZE, width - 44.5), { size: SIZE, fill: SLATE }),
  );
}

/** Two or three columns of number, reference and size, read downwards; what has no room is counted. */
function narrowRows(column: PanelColumn, items: readonly Listed[], mostRows: number): void {
  const columns = items.length <= 2 * mostRows ? 2 : 3;
  const fits = items.length <= columns * mostRows;
  const shown = fits ? items : items.slice(0, columns * (mostRows - 1));
  const perColumn = Math.ceil(shown.length / columns);
  const width = column.box.width / columns;
  for (let row = 0; row < perColumn; row += 1) {
    const y = column.nextRow(NARROW_ROW);
    for (let at = row; at < shown.length; at += perColumn) {
      const item = shown[at];
      if (item === undefined) continue;
      const x = column.box.x + Math.floor(at / perColumn) * width;
      column.add(...narrowCell(item, at + 1, x, y, width));
    }
  }
  if (fits) return;
  const note = `and ${items.length - shown.length} more: see the list of cables`;
  const y = column.nextRow(NARROW_ROW);
  column.add(text(column.box.x, y, note, { size: NARROW_SIZE, fill: SLATE }));
}

function narrowCell(item: Listed, number: number, x: number, y: number, width: number): Svg[] {
  const size = NARROW_SIZE;
  const outline = outlineText(item).replace(' dia', '');
  const room = width - 5.5 - textWidth(outline, size) - 1.5;
  return [
    text(x + 3.4, y, String(number), { size, anchor: 'end', fill: SLATE }),
    text(x + 4.2, y, fitText(item.ref, size, room, true), { size, bold: true }),
    text(x + width - 1.5, y, outline, { size, anchor: 'end' }),
  ];
}

function outlineText({ outline }: Listed): string {
  return outline.type === 'circle'
    ? `${sizeText(outline.diameterMm)} dia`
    : `${sizeText(outline.widthMm)} × ${sizeText(outline.heightMm)}`;
}
