import { RUNS } from '../dimensions/services.ts';
import type { PieceDim, RunDim, V2, V3 } from '../dimensions/types.ts';
import type { DxfWriter } from './dxf-writer.ts';
import { onSheet, SMALL } from './plan-sheet.ts';

/** Runs that lie level, and marks where others go through the floor or the roof. */
export function drawServices(dxf: DxfWriter): void {
  for (const run of RUNS) drawRun(dxf, run);
  drawRisers(dxf);
}

const isLevel = (piece: PieceDim): boolean => piece.from[2] === piece.to[2];

/** What a plan of the ground floor shows of the runs: those that lie level above the slab. */
export function drawnInPlan(run: RunDim): boolean {
  return (
    run.storey === '00' &&
    run.withoutBody !== true &&
    run.pieces.some((piece) => isLevel(piece) || piece.via !== undefined) &&
    run.pieces.every((piece) => piece.from[2] > 0)
  );
}

function drawRun(dxf: DxfWriter, run: RunDim): void {
  if (!drawnInPlan(run)) return;
  const [first] = run.pieces;
  const last = run.pieces.at(-1);
  if (first === undefined || last === undefined) return;
  if (run.form === 'cable') {
    for (const piece of run.pieces) {
      const path = [piece.from, ...(piece.via ?? [])];
      dxf.polyline(
        'E-CABL-WIRE',
        (piece.via === undefined ? [...path, piece.to] : path).map(onSheet),
      );
    }
  } else if (run.section.type === 'rectangle') {
    drawDoubleLine(dxf, run, first.from, last.to);
  } else {
    const layer = run.form === 'pipe' ? 'P-PIPE' : 'E-CABL-COND';
    dxf.line(layer, onSheet(first.from), onSheet(last.to));
  }
  // Cables side by side have one label, beside the last.
  labelRun(dxf, run, run.form === 'cable' ? last.from : first.from, last.to);
}

/** Trays and ducts by both edges; the tray through line 2 by its centre line alone. */
function drawDoubleLine(dxf: DxfWriter, run: RunDim, from: V3, to: V3): void {
  if (run.section.type !== 'rectangle') return;
  const layer = run.form === 'duct' ? 'M-DUCT' : 'E-CABL-TRAY';
  if (run.ref === 'R-03') {
    dxf.polyline(layer, [onSheet(from), onSheet(to)]);
    return;
  }
  const length = Math.hypot(to[0] - from[0], to[1] - from[1]);
  const nx = (-(to[1] - from[1]) / length) * (run.section.widthMm / 2);
  const ny = ((to[0] - from[0]) / length) * (run.section.widthMm / 2);
  for (const side of [1, -1]) {
    dxf.line(
      layer,
      onSheet([from[0] + side * nx, from[1] + side * ny]),
      onSheet([to[0] + side * nx, to[1] + side * ny]),
    );
  }
}

/** The trade's ways of writing sizes, each used somewhere. */
function labelText(run: RunDim): string {
  if (run.section.type === 'circle') {
    const size = String(run.section.diameterMm);
    if (run.form === 'pipe') return `${run.ref} Ø${size}`;
    if (run.pieces.length > 1 && run.form === 'cable') {
      return `${run.ref} ${run.pieces.length} No. ${size} dia`;
    }
    if (run.form === 'cable') return `${run.ref} %%c${size}`;
    return run.ref === 'C-08' ? `${run.ref} 1 No. 110 duct` : `${run.ref} ${size} dia`;
  }
  const { widthMm, heightMm } = run.section;
  return `${run.ref} ${run.form.toUpperCase()} ${widthMm}x${heightMm}`;
}

/** Where along a run its label starts, where the usual place is taken. */
const LABEL_AT: Readonly<Record<string, number>> = {
  'VD-01': 0.27,
  'VD-02': 1.02,
  'VP-01': 0.86,
  'C-08': 0.33,
  'C-09': 0.45,
  'C-12': 0.3,
  'R-04': 0.55,
  'R-06': 0.75,
  'TR1-LV': 0.65,
  'TK-02': 0.65,
  'FA-01': 0.15,
  'C-20': 0.55,
  'C-11': 0.02,
};

/** Conduits close together have smaller labels, so that each stands between its own line and the next. */
function labelSpace(run: RunDim): { readonly beside: number; readonly height: number } {
  if (run.section.type === 'rectangle') {
    return { beside: run.section.widthMm / 2 + 50, height: SMALL };
  }
  return ['C-05', 'C-06', 'C-07'].includes(run.ref)
    ? { beside: 18, height: 65 }
    : { beside: 40, height: SMALL };
}

function labelRun(dxf: DxfWriter, run: RunDim, from: V3, to: V3): void {
  const isUpright = Math.abs(to[0] - from[0]) < Math.abs(to[1] - from[1]);
  const { beside, height } = labelSpace(run);
  const share = LABEL_AT[run.ref] ?? 0.08;
  const at: V2 = [from[0] + (to[0] - from[0]) * share, from[1] + (to[1] - from[1]) * share];
  const place: V2 = isUpright ? [at[0] - beside, at[1]] : [at[0], at[1] + beside];
  const layer = run.form === 'duct' || run.form === 'pipe' ? 'M-ANNO-TEXT' : 'E-ANNO-TEXT';
  dxf.text(layer, onSheet(place), height, labelText(run), isUpright ? { turnDeg: 90 } : {});
}

function drawRisers(dxf: DxfWriter): void {
  for (const run of RUNS) {
    const [piece] = run.pieces;
    if (piece === undefined || isLevel(piece) || run.form === 'cable') continue;
    if (Math.max(piece.from[2], piece.to[2]) <= 0) continue;
    if (run.section.type === 'circle') {
      dxf.insert('E-DETL-RISR', 'RISER', onSheet(piece.from), {
        REF: run.ref,
        SIZE: `%%c${run.section.diameterMm}`,
      });
      continue;
    }
    const { widthMm, heightMm } = run.section;
    const [x, y] = piece.from;
    dxf.polyline(
      'E-DETL-RISR',
      [
        onSheet([x - widthMm / 2, y - heightMm / 2]),
        onSheet([x + widthMm / 2, y - heightMm / 2]),
        onSheet([x + widthMm / 2, y + heightMm / 2]),
        onSheet([x - widthMm / 2, y + heightMm / 2]),
      ],
      true,
    );
    dxf.text(
      'E-ANNO-TEXT',
      onSheet([x - widthMm / 2, y + heightMm / 2 + 140]),
      SMALL,
      `${run.ref} DOWN ${widthMm}x${heightMm}`,
    );
  }
}
