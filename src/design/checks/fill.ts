import { greatestOf, leastOf } from '../../basics/extremes.ts';
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
  return [
    fillCheck(input, seal.fillRatio),
    ...jamCheck(subject, seal.fillRatio),
    ...pullingCheck(subject),
  ];
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
    const limit = necFillLimit(conductorsOf(subject.passing).length);
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
      note: `${conductorsOf(subject.passing).length} in a complete raceway; ${NEC_NIPPLE.ratio * 100} % holds for one of at most 24 in (${NEC_NIPPLE.source})`,
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
  const bore = pulledBore(subject);
  const sizes = pulledSizes(subject);
  const diameterMm = equalSize(sizes);
  if (bore === null || sizes.length !== 3 || diameterMm === null || fillRatio <= 0) return [];
  const ratio = bore / diameterMm;
  const wedges = ratio >= JAM_WINDOW.from && ratio <= JAM_WINDOW.to;
  const check = judged(
    'jam ratio',
    'fill',
    !wedges,
    `bore over cable ${ratio.toFixed(2)}; three equal cables may wedge between ${JAM_WINDOW.from} and ${JAM_WINDOW.to}; with 5 % for the bend, which some count, ${(1.05 * ratio).toFixed(2)}`,
    JAM_WINDOW.source,
  );
  // Below the window more is worse, in it and above it less is.
  const isBelow = ratio < JAM_WINDOW.from;
  const limit = isBelow ? JAM_WINDOW.from : JAM_WINDOW.to;
  return [
    { ...check, value: ratio, unit: '1', limit, ratio: isBelow ? ratio / limit : limit / ratio },
  ];
}

/** Least clearance over cables that are pulled in. @source Cable makers' handbooks, from memory. */
const PULLING_ROOM_MM = 6;

/**
 * Clearance above one cable, or above three equal ones that ride as a triangle, mm.
 * @source Cable makers' pulling handbooks, from memory: D − d, and
 * D/2 − 1.366 d + (D − d)/2 · √(1 − (d/(D − d))²).
 */
function pullingRoomMm(boreMm: number, diameterMm: number, count: 1 | 3): number {
  const playMm = boreMm - diameterMm;
  if (count === 1) return playMm;
  const lean = playMm > 0 ? Math.sqrt(Math.max(0, 1 - (diameterMm / playMm) ** 2)) : 0;
  return boreMm / 2 - 1.366 * diameterMm + (playMm / 2) * lean;
}

function pullingCheck(subject: CheckInput['subject']): Check[] {
  const bore = pulledBore(subject);
  const sizes = pulledSizes(subject);
  if (bore === null || sizes.length === 0) return [];
  const name = 'pulling room';
  const source = 'cable makers’ pulling handbooks, from memory';
  const diameterMm = equalSize(sizes);
  const count = sizes.length;
  if (diameterMm === null || (count !== 1 && count !== 3)) {
    return [
      notAssessed(name, 'fill', {
        unit: 'mm',
        missing: ['how the cables are pulled: one by one or together, length, bends, tension'],
        source,
      }),
    ];
  }
  return [
    assessed(name, 'fill', {
      value: pullingRoomMm(bore, diameterMm, count),
      unit: 'mm',
      limit: PULLING_ROOM_MM,
      limitIs: 'least',
      note: count === 1 ? 'above one cable' : 'above three equal cables that ride as a triangle',
      source,
    }),
  ];
}

/** Bore that cables are pulled through; null for what is none. */
function pulledBore({ opening, raceway }: CheckInput['subject']): number | null {
  if (raceway !== 'conduit' && raceway !== 'duct') return null;
  return opening?.type === 'circle' ? opening.diameterMm : null;
}

/** A draw cord wedges nothing. */
function pulledSizes({ passing }: CheckInput['subject']): number[] {
  return conductorsOf(passing).map(({ largestSizeMm }) => largestSizeMm);
}

/** The size of bodies that are all alike; null where they differ. */
function equalSize(sizes: readonly number[]): number | null {
  const largest = greatestOf(sizes);
  return largest - leastOf(sizes) > SAME_SIZE_MM || sizes.length === 0 ? null : largest;
}

/** What a fill limit counts: a draw cord is no conductor. */
function conductorsOf(passing: CheckInput['subject']['passing']) {
  return passing.filter(({ body }) => body.isDrawCord !== true);
}
