import { CABLE, el, INK, line, PAPER, SLATE, type Svg, TUBE } from './svg.ts';

/** A cable, duct or pipe, cut through. */
export function cableMark(x: number, y: number, radius: number): Svg {
  return el('circle', {
    cx: x,
    cy: y,
    r: radius,
    fill: CABLE,
    stroke: INK,
    'stroke-width': 0.35,
  });
}

/** The tube over a cable, with the line where it is split; the cable is drawn after it. */
export function splitTubeMark(x: number, y: number, outside: number, cableRadius: number): Svg {
  const outer = Math.max(outside / 2, cableRadius + 0.25);
  return [
    el('circle', { cx: x, cy: y, r: outer, fill: TUBE, stroke: SLATE, 'stroke-width': 0.2 }),
    line(x, y - outer, x, y - cableRadius, { 'stroke-width': 0.35 }),
  ].join('');
}

/** An empty tube. The mark in its middle tells the sizes apart: none, dot, cross, bar. */
export function tubeMark(x: number, y: number, outside: number, bore: number, at: number): Svg {
  const size = Math.min(bore * 0.3, 0.9);
  const thin = { stroke: INK, 'stroke-width': 0.2 };
  const inner = [
    '',
    el('circle', { cx: x, cy: y, r: size * 0.6, fill: INK }),
    line(x - size, y - size, x + size, y + size, thin) +
      line(x - size, y + size, x + size, y - size, thin),
    line(x - size, y, x + size, y, thin),
  ];
  return [
    el('circle', {
      cx: x,
      cy: y,
      r: outside / 2,
      fill: TUBE,
      stroke: SLATE,
      'stroke-width': 0.2,
    }),
    el('circle', { cx: x, cy: y, r: bore / 2, fill: PAPER, stroke: SLATE, 'stroke-width': 0.15 }),
    inner[at % inner.length] ?? '',
  ].join('');
}
