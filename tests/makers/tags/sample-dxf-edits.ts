import type { Drawing } from '../../../src/model/drawing.ts';
import type { DxfTagEdit } from '../../../src/model/tag-edit.ts';

/** Edits spread over any drawing: on the ends of its lines, a query on every third. */
export function sampleDxfEdits(drawing: Drawing, most = 12): DxfTagEdit[] {
  const points = drawing.entities.flatMap(({ loops }) =>
    loops.flatMap(({ pieces }) =>
      pieces.flatMap((piece) => (piece.type === 'line' ? [piece.from] : [piece.centre])),
    ),
  );
  const step = Math.max(1, Math.floor(points.length / most));
  const chosen = points.filter((_, at) => at % step === 0).slice(0, most);
  const xs = chosen.map(([x]) => x);
  // Openings in proportion to the drawing, whatever its unit turns out to be.
  const sizeMm = (Math.max(...xs) - Math.min(...xs)) / 200;
  const [view] = drawing.views;
  const [px, py] = view?.base?.pointMm ?? [0, 0];
  const [ax, ay, az] = view?.base?.atMm ?? [0, 0, 0];
  const datumMm = view?.datum ?? null;
  return chosen.map(([x, y], at) => ({
    tag: `L01-${String(at + 1).padStart(4, '0')}`,
    atMm:
      view === undefined || view.view === 'plan'
        ? [x - px + ax, y - py + ay, view?.elevationMm ?? 0]
        : [x - px + ax, ay, datumMm === null ? y - py + az : y - datumMm.yMm + datumMm.heightMm],
    level: view?.level ?? null,
    sizeMm,
    hasQuery: at % 3 === 0,
    isSeen: true,
    texts: [
      { name: 'OPENING', text: 'Ø150 dia' },
      { name: 'SEAL', text: 'Wand Süd – sealant, 20 mm, 100%% ^ 墙\nnext' },
    ],
  }));
}
