import { shapeExtentMm } from '../../geometry/shape.ts';
import type { Check } from '../../model/seal.ts';
import { nearestEdge } from '../spacing.ts';
import { type CheckInput, notAssessed } from './check-parts.ts';

const SOURCE = 'engineering rules §6, structure: no verdict';
const WORD = 'the structural engineer’s word';

/**
 * Holes that must still be made, and those nearer to an edge of the host or to another opening
 * than they are wide: the structural engineer decides, so there is no verdict here.
 */
export function structureChecks(input: CheckInput): Check[] {
  if (input.subject.path !== 'annulus' || input.subject.penetration === null) return [];
  return [...makingChecks(input), ...edgeChecks(input), ...spacingChecks(input)];
}

function makingChecks({ subject: { penetration } }: CheckInput): Check[] {
  if (penetration?.kind !== 'unopened' && penetration?.kind !== 'provision') return [];
  const isBearing = penetration.hosts.some(({ isLoadBearing }) => isLoadBearing === true);
  return [
    notAssessed('hole still to be made', 'structure', {
      missing: [`${WORD}: reinforcement, edges, other openings`],
      note: isBearing ? 'a host is load bearing' : null,
      source: SOURCE,
    }),
  ];
}

function edgeChecks({ subject: { penetration }, seal: { opening } }: CheckInput): Check[] {
  if (penetration === null || opening === null) return [];
  const extent = shapeExtentMm(opening);
  const near = penetration.hosts
    .flatMap((host) => nearestEdge(host, extent) ?? [])
    .filter(({ clearMm }) => clearMm < Math.max(extent.widthMm, extent.heightMm))
    .sort((a, b) => a.clearMm - b.clearMm)[0];
  if (near === undefined) return [];
  return [
    notAssessed('nearness to an edge of the host', 'structure', {
      unit: 'mm',
      missing: [WORD],
      note: `${Math.round(near.clearMm)} mm to the edge ${edgeText(near.edge)}, less than the opening is wide`,
      source: SOURCE,
    }),
  ];
}

function edgeText(edge: 'left' | 'right' | 'below' | 'above'): string {
  return edge === 'left' || edge === 'right' ? `on the ${edge}` : edge;
}

function spacingChecks({ seal: { opening }, spacingMm = null }: CheckInput): Check[] {
  if (opening === null || spacingMm === null) return [];
  const { widthMm, heightMm } = shapeExtentMm(opening);
  if (spacingMm >= Math.max(widthMm, heightMm)) return [];
  return [
    notAssessed('nearness to another opening', 'structure', {
      unit: 'mm',
      missing: [WORD],
      note: `${Math.round(spacingMm)} mm to the next opening in this host, less than the opening is wide`,
      source: SOURCE,
    }),
  ];
}
