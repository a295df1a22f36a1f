import { pathOf } from '../../draw/outline.ts';
import { CABLE, el, FAINT, INK, line, PAPER, page, SLATE, type Svg, text } from '../../draw/svg.ts';
import { fitText, wrapText } from '../../draw/text-width.ts';
import { rectangleCorners, shapePolygon } from '../../geometry/outline-polygon.ts';
import { shapeText } from '../../geometry/shape.ts';
import type { Vec2 } from '../../geometry/vec.ts';
import type { Crossing, Penetration } from '../../model/penetration.ts';

const WIDTH = 120;
const HEIGHT = 90;
const FIELD = { x: 4, y: 12, width: 112, height: 58 } as const;
/** How much of the host is shown round what matters. */
const ROOM = 2.2;

/** The place seen square on from its near side, with the question under it. Millimetres on paper. */
export function snapshotSvg(penetration: Penetration, tag: string, question: string): string {
  const outline = penetration.shape === null ? [] : shapePolygon(penetration.shape);
  const services = penetration.crossings.map(serviceOutline).filter((points) => points !== null);
  const extent = Math.max(
    100,
    ...[...outline, ...services.flat()].flatMap(([x, y]) => [Math.abs(x) * 2, Math.abs(y) * 2]),
  );
  const scale = Math.min(FIELD.width, FIELD.height) / (extent * ROOM);
  const toPaper = ([x, y]: Vec2): Vec2 => [
    FIELD.x + FIELD.width / 2 + x * scale,
    FIELD.y + FIELD.height / 2 - y * scale,
  ];
  return page(WIDTH, HEIGHT, `${tag}: ${question}`, [
    text(4, 8, tag, { size: 5, bold: true }),
    text(WIDTH - 4, 8, fitText(whereText(penetration), 2.6, 70), {
      size: 2.6,
      anchor: 'end',
      fill: SLATE,
    }),
    host(),
    opening(outline, toPaper),
    ...services.map((points) =>
      el('path', { d: pathOf(points, toPaper), fill: CABLE, stroke: INK, 'stroke-width': 0.3 }),
    ),
    ...(outline.length === 0 ? [cross(toPaper([0, 0]))] : []),
    text(FIELD.x + 1.5, FIELD.y + FIELD.height - 1.8, sizeWords(penetration), {
      size: 2.6,
      halo: PAPER,
    }),
    ...wrapText(question, 2.8, WIDTH - 8, 4).map((part, at) =>
      text(4, FIELD.y + FIELD.height + 5 + at * 3.8, part, { size: 2.8 }),
    ),
  ]);
}

function host(): Svg {
  return el('rect', { ...FIELD, fill: 'url(#host)', stroke: FAINT, 'stroke-width': 0.3 });
}

function opening(outline: readonly Vec2[], toPaper: (point: Vec2) => Vec2): Svg {
  if (outline.length === 0) return '';
  return el('path', {
    d: pathOf(outline, toPaper),
    fill: PAPER,
    stroke: INK,
    'stroke-width': 0.5,
  });
}

/** Where nothing is provided, a cross marks the place. */
function cross([x, y]: Vec2): Svg {
  return [line(x - 5, y, x + 5, y), line(x, y - 5, x, y + 5)].join('');
}

function serviceOutline({ section, offsetMm }: Crossing): readonly Vec2[] | null {
  if (section === null || offsetMm === null) return null;
  if (section.type === 'rectangle') {
    return rectangleCorners(offsetMm, section.widthMm, section.heightMm, 0);
  }
  const [x, y] = offsetMm;
  return shapePolygon(section).map(([dx, dy]): Vec2 => [x + dx, y + dy]);
}

function whereText({ where, hosts }: Penetration): string {
  const [host] = hosts;
  return [where.level, where.grid, host === undefined ? null : `${host.kind} ${host.name}`]
    .filter((part) => part !== null)
    .join(' · ');
}

function sizeWords({ shape, thicknessMm, crossings }: Penetration): string {
  const opening = shape === null ? 'no opening' : `opening ${shapeText(shape)}`;
  const passing = crossings.length === 1 ? '1 service' : `${crossings.length} services`;
  return `${opening} · host ${Math.round(thicknessMm)} mm · ${passing}`;
}
