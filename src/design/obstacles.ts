import { shapeExtentMm, shapeText, sizeText } from '../geometry/shape.ts';
import type { Cable } from '../model/cable.ts';
import type { Crossing, Penetration } from '../model/penetration.ts';
import { largestCableDiameterMm, serviceName } from './passing.ts';
import type { Obstacle } from './seal-subject.ts';

/** A hole that nothing passes is closed by a blank seal, unless it is more likely a window or a door. */
export function blankObstacles({ id, shape }: Penetration, largestMm: number): Obstacle[] {
  if (shape === null) return [];
  const { widthMm, heightMm } = shapeExtentMm(shape);
  if (Math.max(widthMm, heightMm) <= largestMm) return [];
  return [
    {
      kind: 'large and empty',
      text: `nothing passes, and at ${shapeText(shape)} mm the opening is larger than the ${sizeText(largestMm)} mm up to which a blank seal is designed: a window, a doorway or a hole to be walled up`,
      about: [id],
      isProvisional: false,
    },
  ];
}

export function cableObstacles(
  cables: readonly { readonly cable: Cable; readonly line: Crossing | null }[],
): Obstacle[] {
  const unknown = cables.filter(({ cable, line }) => largestCableDiameterMm(cable, line) === null);
  if (unknown.length === 0) return [];
  const refs = unknown.map(({ cable }) => cable.ref);
  return [
    {
      kind: 'cable diameter',
      text: `the outside diameter of ${refs.length === 1 ? 'cable' : 'cables'} ${refs.join(', ')} is not known`,
      about: unknown.map(({ cable }) => cable.id),
      isProvisional: false,
    },
  ];
}

export function sizeObstacles(run: Crossing): Obstacle[] {
  const about = run.serviceIds;
  if (run.section === null) {
    const text = `the size of ${serviceName(run)} is not known`;
    return [{ kind: 'service size', text, about, isProvisional: false }];
  }
  if (run.sizeBasis === 'outside') return [];
  const what =
    run.sizeBasis === 'bore'
      ? 'only the bore is given, the outside is larger'
      : 'whether this is its outside is not known';
  const text = `the size of ${serviceName(run)} is ${run.sizeBasis}: ${what}`;
  return [{ kind: 'nominal size', text, about, isProvisional: true }];
}

export function unplacedObstacle(cable: Cable): Obstacle {
  return {
    kind: 'place of cable',
    text: `cable ${cable.ref} passes here, but through which conduit is not known`,
    about: [cable.id],
    isProvisional: true,
  };
}
