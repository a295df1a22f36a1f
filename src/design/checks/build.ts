import type { Check } from '../../model/seal.ts';
import { assessed, type CheckInput, judged, notAssessed } from './check-parts.ts';

const OWN = 'engineering rules §6, buildability';

/** Whether the seal can be made as drawn: depth of the host, gaps, separation. */
export function buildChecks(input: CheckInput): Check[] {
  return [depthCheck(input), ...gapChecks(input)];
}

/** The host must hold the layer of each sealed face and a filler behind it. */
function depthCheck({ seal, subject, range }: CheckInput): Check {
  const name = 'depth of host';
  const shortestMm = Math.min(...range.fillers.map(({ lengthMm }) => lengthMm));
  if (subject.thicknessMm === null) {
    return notAssessed(name, 'build', {
      unit: 'mm',
      missing: ['thickness of the host'],
      source: OWN,
    });
  }
  const neededMm = seal.faces * seal.setBackMm + shortestMm;
  return assessed(name, 'build', {
    value: subject.thicknessMm,
    unit: 'mm',
    limit: neededMm,
    limitIs: 'least',
    note: `${seal.faces} × set-back ${seal.setBackMm} + shortest filler ${shortestMm} mm; a filler may be cut where the sealant has other support`,
    source: OWN,
  });
}

function gapChecks({ seal, subject, range }: CheckInput): Check[] {
  const { arrangement } = seal;
  if (arrangement === null || subject.passing.length === 0) return [];
  const name = 'gap for a nozzle';
  if (arrangement.gapMm === null) {
    return [
      judged(name, 'build', false, 'no arrangement found, not even with cables touching', OWN),
    ];
  }
  const nozzleMm = range.nozzleMm;
  if (nozzleMm === undefined) {
    return [
      notAssessed(name, 'build', {
        unit: 'mm',
        missing: ['smallest gap the nozzle reaches into (range: nozzleMm)'],
        note: `largest common gap found ${arrangement.gapMm.toFixed(1)} mm`,
        source: OWN,
      }),
    ];
  }
  return [
    assessed(name, 'build', {
      value: arrangement.gapMm,
      unit: 'mm',
      limit: nozzleMm,
      limitIs: 'least',
      note: 'largest common gap found between bodies and to the wall',
      source: OWN,
    }),
  ];
}
