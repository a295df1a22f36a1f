import { shapeText } from '../geometry/shape.ts';
import type { Crossing, Penetration } from '../model/penetration.ts';
import type { Seal } from '../model/seal.ts';
import { crossingsAsFound } from './as-found.ts';
import { depthField } from './depth-field.ts';
import { hollowWall } from './draw-depth.ts';
import { hollowOutside } from './hollow-outside.ts';
import { sectionField } from './section-field.ts';
import { sectionPanel } from './section-panel.ts';
import { el, INK, line, page, SLATE, type Svg, text } from './svg.ts';
import { fitList, fitText } from './text-width.ts';

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
export const SECTION_WIDTH_MM = 204;
export const SECTION_HEIGHT_MM = 144;

const HEAD = 15;
const PANEL_WIDTH = 62;
/** Beneath the section: scale bar, up mark and long section. */
const STRIP = 41;
const SCALE_WIDTH = 46;

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
    height: SECTION_HEIGHT_MM - HEAD - 3 - STRIP,
  };
  const strip = { ...box, y: SECTION_HEIGHT_MM - STRIP - 1, height: STRIP - 1 };
  const crossing = penetration?.crossings.find(({ id }) => id === seal.of);
  const asFound = crossingsAsFound(seal, penetration);
  const field =
    seal.opening === null
      ? noOpening(box)
      : sectionField(
          {
            opening: seal.opening,
            seal,
            asFound,
            hollowOutsideMm: hollowOutside(seal, penetration),
            upWord: penetration !== undefined && isFloor(penetration) ? 'north' : 'up',
          },
          box,
          { ...strip, width: SCALE_WIDTH },
        );
  const panel = sectionPanel(
    seal,
    { host: hostText(penetration), hasFound: asFound.length > 0 },
    {
      x: SECTION_WIDTH_MM - PANEL_WIDTH - 4,
      y: HEAD,
      width: PANEL_WIDTH,
      height: SECTION_HEIGHT_MM - HEAD - 6,
    },
  );
  return page(SECTION_WIDTH_MM, SECTION_HEIGHT_MM, `Section of seal ${options.tag}`, [
    frame(),
    head(seal, options, crossing),
    field,
    depthField(
      {
        seal,
        thicknessMm: penetration?.thicknessMm ?? null,
        hollowWallMm: hollowWall(seal, penetration),
      },
      { ...strip, x: strip.x + SCALE_WIDTH, width: strip.width - SCALE_WIDTH },
    ),
    panel,
    text(SECTION_WIDTH_MM - 4, SECTION_HEIGHT_MM - 3, 'Design aid, not a certificate.', {
      size: 2,
      anchor: 'end',
      fill: SLATE,
    }),
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
  const others = tags.filter((each) => each !== tag);
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
    others.length === 0
      ? ''
      : text(98, 6.4, `also ${fitList(others.slice(0, 60), 2.2, 66)}`, { size: 2.2, fill: SLATE }),
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

/** "wall W-01, 200 mm, EI 120". */
function hostText(penetration: Penetration | undefined): string {
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
