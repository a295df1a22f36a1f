import { shapeText } from '../geometry/shape.ts';
import type { Crossing, Penetration } from '../model/penetration.ts';
import type { Seal } from '../model/seal.ts';
import { sectionField } from './section-field.ts';
import { sectionPanel } from './section-panel.ts';
import { el, INK, line, page, SLATE, type Svg, text } from './svg.ts';
import { fitText } from './text-width.ts';

export interface SectionOptions {
  /** Tag that stands largest. */
  readonly tag: string;
  /** All tags that share this drawing, in order. */
  readonly tags: readonly string[];
  /** Gives host, level and orientation; without it they are left out. */
  readonly penetration?: Penetration;
  /** Number of the drawing: "D-001". */
  readonly number?: string;
}

/** Size of the drawing on paper, mm: it fits a sheet of A4 with a caption. */
export const SECTION_WIDTH_MM = 200;
export const SECTION_HEIGHT_MM = 138;

const HEAD = 15;
const PANEL_WIDTH = 62;

/**
 * Cross-section of a seal to scale, as a finished drawing: opening, host, what passes with its
 * references, fillers by size, the closest distances measured, overall sizes, scale bar, up mark,
 * legend and quantities. SVG; one user unit is a millimetre on paper. A seal without an opening
 * gives a drawing that says so.
 */
export function drawSection(seal: Seal, options: SectionOptions): Svg {
  const { penetration } = options;
  const box = {
    x: 4,
    y: HEAD + 2,
    width: SECTION_WIDTH_MM - PANEL_WIDTH - 14,
    height: SECTION_HEIGHT_MM - HEAD - 8,
  };
  const crossing = penetration?.crossings.find(({ id }) => id === seal.of);
  const field =
    seal.opening === null
      ? noOpening(box)
      : sectionField(
          {
            opening: seal.opening,
            seal,
            hollowOutsideMm: hollowOutside(seal, crossing),
            upWord: penetration !== undefined && isFloor(penetration) ? 'north' : 'up',
          },
          box,
        ).svg;
  const panel = sectionPanel(seal, hostText(penetration), {
    x: SECTION_WIDTH_MM - PANEL_WIDTH - 4,
    y: HEAD,
    width: PANEL_WIDTH,
    height: SECTION_HEIGHT_MM - HEAD - 6,
  });
  return page(SECTION_WIDTH_MM, SECTION_HEIGHT_MM, `Section of seal ${options.tag}`, [
    frame(),
    head(seal, options, crossing),
    field,
    panel,
    text(
      SECTION_WIDTH_MM - 4,
      SECTION_HEIGHT_MM - 2.6,
      'mm · seen from the near side, sealant layer not shown · design aid, not a certificate',
      { size: 1.9, anchor: 'end', fill: SLATE },
    ),
  ]);
}

function frame(): Svg {
  return [
    el('rect', {
      x: 0.5,
      y: 0.5,
      width: SECTION_WIDTH_MM - 1,
      height: SECTION_HEIGHT_MM - 1,
      fill: 'none',
      stroke: SLATE,
      'stroke-width': 0.2,
    }),
    line(0.5, HEAD - 1, SECTION_WIDTH_MM - 0.5, HEAD - 1, { 'stroke-width': 0.35 }),
    line(
      SECTION_WIDTH_MM - PANEL_WIDTH - 7,
      HEAD - 1,
      SECTION_WIDTH_MM - PANEL_WIDTH - 7,
      SECTION_HEIGHT_MM - 0.5,
      { stroke: SLATE },
    ),
  ].join('');
}

function head(seal: Seal, options: SectionOptions, crossing: Crossing | undefined): Svg {
  const { number, tag, tags, penetration } = options;
  const others = tags.length > 1 ? `also ${tags.filter((each) => each !== tag).join(', ')}` : '';
  const what =
    seal.path === 'annulus'
      ? 'Seal round the services'
      : `Seal in the bore of ${crossing === undefined ? 'a hollow body' : crossing.kind}`;
  const parts = [
    what,
    seal.opening === null ? '' : shapeText(seal.opening),
    hostText(penetration),
    penetration?.where.level ?? '',
  ].filter((part) => part !== '');
  const width = SECTION_WIDTH_MM - 10;
  return [
    text(4, 6.6, fitText(tag, 4.4, 90, true), { size: 4.4, bold: true }),
    text(SECTION_WIDTH_MM - 4, 6.4, number ?? '', { size: 3.6, anchor: 'end', fill: INK }),
    text(98, 6.4, fitText(others, 2.3, 72), { size: 2.3, fill: SLATE }),
    text(4, 11.4, fitText(parts.join(' · '), 2.4, width), { size: 2.4 }),
  ].join('');
}

function noOpening(box: { x: number; y: number; width: number; height: number }): Svg {
  return text(box.x + box.width / 2, box.y + box.height / 2, 'No opening is known to draw.', {
    size: 3,
    anchor: 'middle',
    fill: SLATE,
  });
}

/** Outside of the hollow body round the bore; null for an annulus or a size that is not known. */
function hollowOutside(seal: Seal, crossing: Crossing | undefined): number | null {
  if (seal.path !== 'bore' || seal.opening?.type !== 'circle') return null;
  const section = crossing?.section;
  if (section?.type !== 'circle' || section.diameterMm <= seal.opening.diameterMm) return null;
  return section.diameterMm;
}

/** "wall W-01, 200 mm, EI 120". */
export function hostText(penetration: Penetration | undefined): string {
  const host = penetration?.hosts[0];
  if (penetration === undefined || host === undefined) return 'host';
  const more = penetration.hosts.length > 1 ? ` and ${penetration.hosts.length - 1} more` : '';
  return [
    `${host.kind}${host.name === '' ? '' : ` ${host.name}`}${more}`,
    host.material ?? '',
    `${Math.round(penetration.thicknessMm)} mm`,
    host.fireRating ?? '',
  ]
    .filter((part) => part !== '')
    .join(', ');
}

/** Whether one looks along the penetration's axis up or down. */
function isFloor(penetration: Penetration): boolean {
  return Math.abs(penetration.frame.axis[2]) > 0.7;
}
