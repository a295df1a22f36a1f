import { shapeText, sizeText } from '../geometry/shape.ts';
import type { Arrangement } from '../model/arrangement.ts';
import type { Seal } from '../model/seal.ts';

/** What a drawing says of its seal, label and value, in the order of reading. */
export function sealFacts(seal: Seal): readonly (readonly [string, string])[] {
  const { opening, arrangement, fillRatio, sealant, spare } = seal;
  const facts: (readonly [string, string])[] = [];
  if (opening !== null) facts.push(['opening', `${shapeText(opening)}, ${seal.openingBasis}`]);
  if (arrangement !== null) {
    facts.push(['arrangement', arrangement.verdict]);
    if (seal.bodies.length > 0) facts.push(['apart', apartText(arrangement)]);
  }
  if (seal.state === 'designed') facts.push(['faces sealed', String(seal.faces)]);
  if (fillRatio !== null) facts.push(['fill', `${(fillRatio * 100).toFixed(1)} %`]);
  if (sealant !== null) {
    const { netMl, withAllowancesMl, containers, name } = sealant;
    facts.push(
      ['sealant', name],
      ['net / with allowances', `${netMl.toFixed(0)} / ${withAllowancesMl.toFixed(0)} ml`],
      [
        'containers',
        containers.map(({ count, sizeMl }) => `${count} × ${sizeText(sizeMl)} ml`).join(', '),
      ],
    );
  }
  if (spare !== null) facts.push(['spare tubes', String(spare.emptyTubes)]);
  return facts;
}

function apartText({ separationMm, gapMm }: Arrangement): string {
  const most = gapMm === null ? 'none found' : `up to ${sizeText(gapMm)} possible`;
  return `asked ${sizeText(separationMm)}, ${most}`;
}

/** Why there is no designed seal, as a sentence; null where there is one. */
export function notDesignedText(seal: Seal): string | null {
  if (seal.state === 'designed') return null;
  const word = seal.state === 'none' ? 'No seal' : 'Not designed';
  return `${word}: ${seal.reason ?? 'see the queries.'}`;
}
