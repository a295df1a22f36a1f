import { shapeText, sizeText } from '../geometry/shape.ts';
import type { PlacedBody } from '../model/arrangement.ts';
import type { Seal } from '../model/seal.ts';
import type { Box } from './box.ts';
import { cableMark, splitTubeMark, tubeMark } from './section-field.ts';
import { el, INK, line, SLATE, type Svg, text } from './svg.ts';
import { fitText, textWidth, wrapText } from './text-width.ts';

const SIZE = 2.2;
const ROW = 3.4;
/** Beyond this many, what passes is listed in narrow columns. */
const MOST_WIDE_ROWS = 9;
const MOST_NARROW_ROWS = 14;

/** The list of what passes, the legend, and the quantities, beside the section. */
export function sectionPanel(seal: Seal, hostText: string, box: Box): Svg {
  const column = new PanelColumn(box);
  bodyList(column, seal);
  legend(column, seal, hostText);
  quantities(column, seal);
  return column.svg;
}

/** Lines of a panel laid one under the other. */
class PanelColumn {
  private readonly parts: Svg[] = [];
  private y: number;
  private readonly box: Box;

  constructor(box: Box) {
    this.box = box;
    this.y = box.y;
  }

  get svg(): Svg {
    return this.parts.join('');
  }

  get x(): number {
    return this.box.x;
  }

  get width(): number {
    return this.box.width;
  }

  heading(title: string): void {
    this.y += 5.6;
    this.parts.push(
      text(this.x, this.y, title, { size: 2.4, bold: true }),
      line(this.x, this.y + 1, this.x + this.width, this.y + 1, { 'stroke-width': 0.25 }),
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

function bodyList(column: PanelColumn, seal: Seal): void {
  const items = seal.arrangement?.items ?? [];
  column.heading(items.length === 0 ? 'What passes' : `What passes (${items.length})`);
  if (items.length === 0) {
    const bodies = seal.bodies.length;
    const note = bodies === 0 ? 'nothing' : `${bodies} not arranged`;
    column.add(text(column.x, column.nextRow(), note, { size: SIZE, fill: SLATE }));
    return;
  }
  if (items.length <= MOST_WIDE_ROWS) {
    for (const [at, item] of items.entries()) wideRow(column, item, at + 1);
  } else narrowRows(column, items);
}

function wideRow(column: PanelColumn, item: PlacedBody, number: number): void {
  const y = column.nextRow();
  const { x, width } = column;
  const tube = item.tube === null ? '' : `in ${item.tube.name}`;
  column.add(
    text(x + 4, y, String(number), { size: SIZE, anchor: 'end', fill: SLATE }),
    text(x + 5.5, y, fitText(item.ref, SIZE, 21), { size: SIZE, bold: true }),
    text(x + 43, y, outlineText(item), { size: SIZE, anchor: 'end' }),
    text(x + 44.5, y, fitText(tube, SIZE, width - 44.5), { size: SIZE, fill: SLATE }),
  );
}

/** Columns of number, reference and size, read downwards. */
function narrowRows(column: PanelColumn, items: readonly PlacedBody[]): void {
  const columns = items.length <= 2 * MOST_NARROW_ROWS ? 2 : 3;
  const room = columns * MOST_NARROW_ROWS;
  const shown = items.length <= room ? items : items.slice(0, room - 1);
  const perColumn = Math.ceil((shown.length + (shown.length < items.length ? 1 : 0)) / columns);
  const size = 1.9;
  const width = column.width / columns;
  for (let row = 0; row < perColumn; row += 1) {
    const y = column.nextRow(2.9);
    for (let at = row; at < shown.length; at += perColumn) {
      const item = shown[at];
      if (item === undefined) continue;
      const x = column.x + Math.floor(at / perColumn) * width;
      const sizeLabel = outlineText(item).replace(' dia', '');
      const refRoom = width - 5.5 - textWidth(sizeLabel, size) - 1.5;
      column.add(
        text(x + 3, y, String(at + 1), { size, anchor: 'end', fill: SLATE }),
        text(x + 4, y, fitText(item.ref, size, refRoom, true), { size, bold: true }),
        text(x + width - 1.5, y, sizeLabel, { size, anchor: 'end' }),
      );
    }
  }
  if (shown.length < items.length) {
    const note = `and ${items.length - shown.length} more: see the list of cables`;
    column.add(text(column.x, column.nextRow(2.9), note, { size, fill: SLATE }));
  }
}

function outlineText({ outline }: PlacedBody): string {
  return outline.type === 'circle'
    ? `${sizeText(outline.diameterMm)} dia`
    : `${sizeText(outline.widthMm)} × ${sizeText(outline.heightMm)}`;
}

function legend(column: PanelColumn, seal: Seal, hostText: string): void {
  column.heading('Legend');
  swatch(column, hostText, (x, y) =>
    el('rect', {
      x,
      y: y - 1.2,
      width: 4.4,
      height: 2.4,
      fill: 'url(#host)',
      stroke: INK,
      'stroke-width': 0.2,
    }),
  );
  if (seal.path === 'bore') {
    swatch(column, 'hollow body whose bore is sealed', (x, y) =>
      el('rect', {
        x,
        y: y - 1.2,
        width: 4.4,
        height: 2.4,
        fill: 'url(#hollow)',
        stroke: INK,
        'stroke-width': 0.2,
      }),
    );
  }
  if (seal.state === 'designed') {
    swatch(column, `sealant layer, ${sizeText(seal.setBackMm)} deep`, (x, y) =>
      el('rect', { x, y: y - 1.2, width: 4.4, height: 2.4, fill: 'url(#sealant)' }),
    );
  }
  swatch(column, 'what passes: cable, duct, pipe', (x, y) => cableMark(x + 2.2, y, 1.1));
  if ((seal.arrangement?.items ?? []).some((item) => item.tube !== null)) {
    swatch(column, 'in a split tube', (x, y) => splitTubeMark(x + 2.2, y, 2.6, 0.75));
  }
  for (const [at, filler] of seal.fillers.entries()) {
    const counts = [
      filler.count > 0 ? `${filler.count} whole` : '',
      filler.split > 0 ? `${filler.split} split` : '',
    ].filter((part) => part !== '');
    const label = `${filler.name}: ${counts.join(', ') || 'none'}`;
    swatch(column, label, (x, y) => tubeMark(x + 2.2, y, 2.6, 1.7, at));
  }
}

function swatch(column: PanelColumn, label: string, mark: (x: number, y: number) => Svg): void {
  const y = column.nextRow();
  column.add(
    mark(column.x, y - 0.8),
    text(column.x + 6.2, y, fitText(label, SIZE, column.width - 6.2), { size: SIZE }),
  );
}

function quantities(column: PanelColumn, seal: Seal): void {
  column.heading('Seal');
  const rows: (readonly [string, string])[] = [];
  if (seal.opening !== null)
    rows.push(['opening', `${shapeText(seal.opening)}, ${seal.openingBasis}`]);
  if (seal.state === 'designed') {
    rows.push(['faces sealed', String(seal.faces)]);
  }
  if (seal.fillRatio !== null) rows.push(['fill', `${(seal.fillRatio * 100).toFixed(1)} %`]);
  if (seal.sealant !== null) {
    const { netMl, withAllowancesMl, containers, name } = seal.sealant;
    rows.push(
      ['sealant', name],
      ['net / with allowances', `${netMl.toFixed(0)} / ${withAllowancesMl.toFixed(0)} ml`],
      [
        'containers',
        containers.map(({ count, sizeMl }) => `${count} × ${sizeText(sizeMl)} ml`).join(', '),
      ],
    );
  }
  if (seal.spare !== null) rows.push(['spare tubes', String(seal.spare.emptyTubes)]);
  for (const [label, value] of rows) {
    const y = column.nextRow();
    column.add(
      text(column.x, y, label, { size: SIZE, fill: SLATE }),
      text(column.x + 27, y, fitText(value, SIZE, column.width - 27), { size: SIZE }),
    );
  }
  if (seal.state !== 'designed') {
    const word = seal.state === 'none' ? 'No seal: ' : 'Not designed: ';
    for (const part of wrapText(word + (seal.reason ?? 'see Queries'), SIZE, column.width, 4)) {
      column.add(text(column.x, column.nextRow(), part, { size: SIZE, bold: true }));
    }
  }
}
