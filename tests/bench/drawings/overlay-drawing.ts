import { doorSwings } from '../../../src/find/drawings/door-swings.ts';
import { hostBands } from '../../../src/find/drawings/host-bands.ts';
import { makeSheet } from '../../../src/find/drawings/sheet.ts';
import { bandPoint } from '../../../src/geometry/band.ts';
import { pathPoints } from '../../../src/geometry/plane-curve.ts';
import type { Vec2 } from '../../../src/geometry/vec.ts';
import type { Drawing } from '../../../src/model/drawing.ts';
import type { Penetration } from '../../../src/model/penetration.ts';
import type { Settings } from '../../../src/model/settings.ts';

/** A picture of a drawing's first view: its lines, the walls found in them, and the crossings. */
export function overlaySvg(
  drawing: Drawing,
  penetrations: readonly Penetration[],
  settings: Settings,
  widthPx = 1400,
): string {
  const [view] = drawing.views;
  if (view === undefined) return '';
  const sheet = makeSheet(drawing, view, settings);
  const hosts = hostBands(sheet.walls, sheet.slabs, settings, {
    masks: drawing.masks,
    swings: doorSwings(drawing.entities),
  });
  const lines = drawing.entities.map((entity) => ({
    role: roleOf(entity, sheet),
    points: entity.loops.map(({ pieces }) => pathPoints(pieces)),
  }));
  const box = boxOf(lines.flatMap(({ points }) => points.flat()));
  const scale = widthPx / Math.max(box[2] - box[0], 1);
  const x = (value: number) => ((value - box[0]) * scale).toFixed(1);
  const y = (value: number) => ((box[3] - value) * scale).toFixed(1);
  const path = (points: readonly Vec2[]) =>
    points.map(([px, py], i) => `${i === 0 ? 'M' : 'L'}${x(px)} ${y(py)}`).join('');
  const bands = hosts.bands.map((band) => {
    const steps = band.type === 'curved' ? 24 : 1;
    const edge = (v: number, back: boolean): Vec2[] =>
      Array.from({ length: steps + 1 }, (_, i) => {
        const t = (back ? steps - i : i) / steps;
        return bandPoint(band, band.u0 + (band.u1 - band.u0) * t, v);
      });
    return `<path d="${path([...edge(band.v0, false), ...edge(band.v1, true)])}Z" fill="#f2a65a" fill-opacity="0.55" stroke="none"/>`;
  });
  const drawn = lines.map(({ role, points }) =>
    points.map((each) => `<path d="${path(each)}" fill="none" ${STROKES[role]}/>`).join(''),
  );
  const marks = penetrations.map(({ frame: { originMm }, crossings }) => {
    const [px, py] = [originMm[0], view.view === 'plan' ? originMm[1] : originMm[2]];
    return `<circle cx="${x(px)}" cy="${y(py)}" r="9" fill="none" stroke="#c1121f" stroke-width="2.5"/><text x="${x(px)}" y="${y(py)}" dx="11" font-size="13" font-family="sans-serif" fill="#c1121f">${crossings.length}</text>`;
  });
  const height = Math.max(200, (box[3] - box[1]) * scale);
  return `<svg xmlns="http://www.w3.org/2000/svg" width="${widthPx + 40}" height="${(height + 40).toFixed(0)}" viewBox="-20 -20 ${widthPx + 40} ${(height + 40).toFixed(0)}"><rect x="-20" y="-20" width="100%" height="100%" fill="#fff"/>${bands.join('')}${drawn.join('')}${marks.join('')}</svg>`;
}

const STROKES = {
  host: 'stroke="#1b263b" stroke-width="1"',
  service: 'stroke="#1d7874" stroke-width="1.6"',
  opening: 'stroke="#7b2cbf" stroke-width="1.2"',
  other: 'stroke="#b8bdc6" stroke-width="0.6"',
} as const;

function roleOf(
  entity: Drawing['entities'][number],
  sheet: ReturnType<typeof makeSheet>,
): keyof typeof STROKES {
  if (sheet.walls.includes(entity) || sheet.slabs.includes(entity)) return 'host';
  if (sheet.services.some(({ entities }) => entities.includes(entity))) return 'service';
  if (sheet.openings.some(({ entities }) => entities.includes(entity))) return 'opening';
  return 'other';
}

/** The box round most of the points: a stray line far away must not shrink the rest to a dot. */
function boxOf(points: readonly Vec2[]): [number, number, number, number] {
  const xs = points.map(([px]) => px).sort((a, b) => a - b);
  const ys = points.map(([, py]) => py).sort((a, b) => a - b);
  const at = (values: readonly number[], ratio: number) =>
    values[Math.min(values.length - 1, Math.floor(values.length * ratio))] ?? 0;
  return [at(xs, 0.002), at(ys, 0.002), at(xs, 0.998), at(ys, 0.998)];
}
