import type { Check } from '../../model/seal.ts';
import {
  JAM_WINDOW,
  NEC_NIPPLE,
  necFillLimit,
  TRUNKING_SPACE_FACTOR,
} from '../tables/fill-limits.ts';
import { assessed, type CheckInput, judged, notAssessed } from './check-parts.ts';

/** Diameters closer than this count as one size; own choice, well below any cable tolerance. */
const SAME_SIZE_MM = 0.05;

/**
 * Fill of a raceway against the code chosen in the settings, only where the code's limit covers
 * it: NEC chapter 9 speaks of complete conduit and tubing, the 45 % space factor of trunking.
 * Openings and protective sleeves have no limit. None when no code is chosen.
 */
export function fillChecks(input: CheckInput): Check[] {
  const { seal, design, subject } = input;
  if (design.fillCode === 'none' || seal.opening === null || seal.fillRatio === null) return [];
  // Round a pipe or a duct there is no cable fill to speak of.
  const hasCables = subject.passing.some(
    ({ cable, crossing }) => cable !== null || (crossing?.kind ?? 'cable') === 'cable',
  );
  if (subject.path === 'annulus' && !hasCables) return [];
  return [fillCheck(input, seal.fillRatio), ...jamCheck(subject, seal.fillRatio)];
}

function fillCheck({ subject, design }: CheckInput, fillRatio: number): Check {
  const name = `fill, ${design.fillCode}`;
  const unit = '0–1';
  if (subject.passing.length === 0) {
    return notAssessed(name, 'fill', {
      unit,
      missing: ['cables'],
      note: 'nothing passes',
      source: design.fillCode,
    });
  }
  if (design.fillCode === 'NEC ch. 9') {
    const limit = necFillLimit(subject.passing.length);
    if (subject.raceway !== 'conduit') {
      return outOfScope(
        name,
        fillRatio,
        'the limit covers complete conduit and tubing',
        limit.source,
      );
    }
    return assessed(name, 'fill', {
      value: fillRatio,
      unit,
      limit: limit.ratio,
      limitIs: 'most',
      note: `${subject.passing.length} in a complete raceway; ${NEC_NIPPLE.ratio * 100} % holds for one of at most 24 in (${NEC_NIPPLE.source})`,
      source: limit.source,
    });
  }
  const limit = TRUNKING_SPACE_FACTOR;
  if (subject.raceway !== 'trunking') {
    return outOfScope(name, fillRatio, 'the space factor covers trunking', limit.source);
  }
  return assessed(name, 'fill', {
    value: fillRatio,
    unit,
    limit: limit.ratio,
    limitIs: 'most',
    source: limit.source,
  });
}

function outOfScope(name: string, fillRatio: number, scope: string, source: string): Check {
  return notAssessed(name, 'fill', {
    unit: '0–1',
    missing: ['a fill limit that covers this opening'],
    note: `filled to ${fillRatio.toFixed(4)}; ${scope}; an opening or a protective sleeve has no fill limit`,
    source,
  });
}

/** Three equal cables that may wedge side by side when pulled round a bend. */
function jamCheck(subject: CheckInput['subject'], fillRatio: number): Check[] {
  const { opening, passing, raceway } = subject;
  if (raceway !== 'conduit' && raceway !== 'duct') return [];
  if (opening?.type !== 'circle' || passing.length !== 3 || fillRatio <= 0) return [];
  const sizes = passing.map(({ largestSizeMm }) => largestSizeMm);
  const diameterMm = Math.max(...sizes);
  if (diameterMm - Math.min(...sizes) > SAME_SIZE_MM) return [];
  const ratio = opening.diameterMm / diameterMm;
  const wedges = ratio >= JAM_WINDOW.from && ratio <= JAM_WINDOW.to;
  const check = judged(
    'jam ratio',
    'fill',
    !wedges,
    `bore over cable ${ratio.toFixed(2)}; three equal cables may wedge between ${JAM_WINDOW.from} and ${JAM_WINDOW.to}`,
    JAM_WINDOW.source,
  );
  return [{ ...check, value: ratio, unit: '1', limit: wedges ? JAM_WINDOW.to : null }];
}
