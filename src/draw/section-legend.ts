import { sizeText } from '../geometry/shape.ts';
import type { Seal } from '../model/seal.ts';
import { asFoundSwatch } from './as-found.ts';
import { cableMark, splitTubeMark, tubeMark } from './marks.ts';
import { el, INK, type Svg } from './svg.ts';

/** A line of the legend: the mark as it is drawn, and what it stands for. */
export interface LegendEntry {
  readonly label: string;
  /** Drawn from x to the right, about y. */
  readonly mark: (x: number, y: number) => Svg;
}

/** More sizes of tube than this are counted. */
const MOST_FILLERS = 8;
const MIDDLE = 2.2;

/** What the marks of a section stand for; only marks that are in it. */
export function legendEntries(
  seal: Seal,
  hostText: string,
  hasFound: boolean,
): readonly LegendEntry[] {
  const items = seal.arrangement?.items ?? [];
  const hasItems = items.length > 0;
  const hasTube = items.some((item) => item.tube !== null);
  return [
    { label: hostText, mark: swatch('url(#host)') },
    ...(seal.path === 'bore'
      ? [{ label: 'hollow body whose bore is sealed', mark: swatch('url(#hollow)') }]
      : []),
    ...(seal.state === 'designed'
      ? [
          {
            label: `sealant layer, ${sizeText(seal.setBackMm)} deep`,
            mark: swatch('url(#sealant)'),
          },
        ]
      : []),
    ...(hasItems
      ? [
          {
            label: 'what passes: cable, duct, pipe',
            mark: (x: number, y: number) => cableMark(x + MIDDLE, y, 1.1),
          },
        ]
      : []),
    ...(hasFound
      ? [
          {
            label: 'where it was found, not arranged',
            mark: (x: number, y: number) => asFoundSwatch(x + MIDDLE, y),
          },
        ]
      : []),
    ...(hasTube
      ? [
          {
            label: 'in a split tube',
            mark: (x: number, y: number) =>
              splitTubeMark(x + MIDDLE, y, 2.6, 0.75) + cableMark(x + MIDDLE, y, 0.75),
          },
        ]
      : []),
    ...fillerEntries(seal),
  ];
}

function fillerEntries(seal: Seal): LegendEntry[] {
  const entries = seal.fillers.flatMap((filler, at): LegendEntry[] => {
    const counts = [
      ...(filler.count > 0 ? [`${filler.count} whole`] : []),
      ...(filler.split > 0 ? [`${filler.split} split`] : []),
    ];
    if (counts.length === 0) return [];
    return [
      {
        label: `${filler.name}: ${counts.join(', ')}`,
        mark: (x, y) => tubeMark(x + MIDDLE, y, 2.6, 1.7, at),
      },
    ];
  });
  if (entries.length <= MOST_FILLERS) return entries;
  const left = entries.length - (MOST_FILLERS - 1);
  return [
    ...entries.slice(0, MOST_FILLERS - 1),
    { label: `and ${left} more sizes`, mark: () => '' },
  ];
}

function swatch(fill: string): LegendEntry['mark'] {
  return (x, y) =>
    el('rect', {
      x,
      y: y - 1.2,
      width: 2 * MIDDLE,
      height: 2.4,
      fill,
      stroke: INK,
      'stroke-width': 0.2,
    });
}
