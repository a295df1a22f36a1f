import { shapeExtentMm } from '../../geometry/shape.ts';
import type { TestRecord } from '../../model/range.ts';
import type { Check, Duty } from '../../model/seal.ts';
import { answersFireRating, parseFireRating } from '../fire-rating.ts';
import { type CheckInput, judged, notAssessed } from './check-parts.ts';
import { atLeast, atMost, type Point } from './evidence-point.ts';
import { passingPoints } from './passing-points.ts';

const SOURCE = 'engineering rules §6: one record must cover every point, records are not combined';

/**
 * For each duty whether one record of the range, entered for that very duty, covers every point of
 * this seal. Fire evidence says nothing of gas or water, nor the other way round.
 * @source EN 1366-3 scope (no figure for smoke, gas or water tightness).
 */
export function evidenceChecks(input: CheckInput): Check[] {
  return input.seal.duties.map((duty) => evidenceCheck(input, duty));
}

function evidenceCheck(input: CheckInput, duty: Duty): Check {
  const name = `evidence for ${dutyText(duty)}`;
  const subject = subjectOf(duty);
  const records = input.range.records.filter((record) => record.duty === duty.kind);
  if (records.length === 0) {
    return notAssessed(name, subject, {
      missing: [`a test record for ${duty.kind}`],
      note: `no evidence entered; asked because: ${duty.reason}`,
      source: SOURCE,
    });
  }
  const judgedRecords = records
    .map((record) => ({ record, points: recordPoints(record, input, duty) }))
    .sort((a, b) => openPoints(a.points).length - openPoints(b.points).length);
  const [best] = judgedRecords;
  if (best === undefined) return notAssessed(name, subject, { missing: [], source: SOURCE });
  const open = openPoints(best.points);
  const title = `record "${best.record.name}" (${best.record.standard})`;
  const sample = input.range.sample ? ' — sample figures, not evidence' : '';
  if (open.length === 0) {
    return judged(name, subject, true, `within the evidence supplied: ${title}${sample}`, SOURCE);
  }
  const outside = open.filter(({ state }) => state === 'outside');
  if (outside.length === 0) {
    return notAssessed(name, subject, {
      missing: open.map(({ name: point, state }) =>
        state === 'not known' ? `${point} of this seal` : `${point} in the record`,
      ),
      note: `closest: ${title}${sample}`,
      source: SOURCE,
    });
  }
  const why = outside.map(({ text }) => text).join('; ');
  return judged(
    name,
    subject,
    false,
    `outside the evidence supplied, closest ${title}: ${why}${sample}`,
    SOURCE,
  );
}

/** A duty in a few words: "fire EI 120", "water 5.00 m". */
function dutyText(duty: Duty): string {
  if (duty.kind === 'fire' && duty.rating !== null) return `fire ${duty.rating}`;
  if (duty.kind === 'water' && duty.headM !== null) return `water ${duty.headM.toFixed(2)} m`;
  return duty.kind;
}

function openPoints(points: readonly Point[]): Point[] {
  return points.filter(({ state }) => state !== 'covered');
}

function subjectOf(duty: Duty): Check['subject'] {
  switch (duty.kind) {
    case 'water':
      return 'water';
    case 'gas':
    case 'hazardous area':
      return 'gas';
    case 'fire':
    case 'smoke':
      return 'fire';
    default:
      return 'air';
  }
}

function recordPoints(record: TestRecord, input: CheckInput, duty: Duty): Point[] {
  const { seal, subject } = input;
  return [
    ...(duty.kind === 'fire' ? [firePoint(record, duty)] : []),
    ...(duty.kind === 'water' ? [atMost('head', record.largestHeadM, duty.headM, 'm')] : []),
    openingPoint(record, input),
    atLeast('layer depth', record.smallestDepthMm, seal.setBackMm, 'mm'),
    atLeast('faces', record.faces, seal.faces, ''),
    hostPoint(record, input),
    atLeast('host thickness', record.hostThicknessMm?.smallest, subject.thicknessMm, 'mm'),
    ...(subject.passing.length > 0
      ? [atLeast('separation', record.smallestSeparationMm, separationOf(input), 'mm')]
      : []),
    ...passingPoints(record, subject.passing, duty),
    ...emptyTubePoints(record, input),
    ...orientationPoint(record, input),
    ...sitePoints(record, input, duty),
  ];
}

function emptyTubePoints(record: TestRecord, { seal }: CheckInput): Point[] {
  if ((seal.spare?.emptyTubes ?? 0) === 0 || record.emptyTubes === true) return [];
  const state = record.emptyTubes === false ? 'outside' : 'not stated';
  return [{ name: 'empty tubes', state, text: 'the seal has empty tubes, the record has none' }];
}

/**
 * Points that no model tells: they come from the project file, or stay open. A fire record must
 * speak of them; for other duties only what a record limits is asked.
 */
function sitePoints(record: TestRecord, input: CheckInput, { kind }: Duty): Point[] {
  const { design, subject, spacingMm = null } = input;
  // Where the penetration is known and none is listed as near, the next opening is out of reach.
  const clearMm = spacingMm ?? (subject.penetration === null ? null : Infinity);
  const points = [
    atLeast(
      'density of the host',
      record.hostDensityKgM3?.smallest,
      design.hostDensityKgM3 ?? null,
      'kg/m³',
    ),
    atLeast('distance to the next opening', record.spacingMm, clearMm, 'mm'),
    ...(subject.passing.length === 0
      ? []
      : [
          atMost(
            'distance to the support of the services',
            record.supportWithinMm,
            design.supportWithinMm ?? null,
            'mm',
          ),
        ]),
  ];
  const gap: Point[] =
    record.largestGapMm === undefined
      ? []
      : [{ name: 'widest gap round what passes', state: 'not known', text: '' }];
  return [...points.filter(({ state }) => kind === 'fire' || state !== 'not stated'), ...gap];
}

/** A wall stood upright in its test, a floor lay level; neither tells of the other. */
function orientationPoint(record: TestRecord, { subject }: CheckInput): Point[] {
  const tested = record.orientation;
  if (tested === undefined) return [];
  const name = 'orientation of the host';
  const stands = new Set(
    subject.hostKinds.map((kind) =>
      kind === 'wall' ? 'upright' : kind === 'slab' || kind === 'roof' ? 'level' : null,
    ),
  );
  const [only = null] = stands;
  if (stands.size !== 1 || only === null) return [{ name, state: 'not known', text: '' }];
  const text = `host stands ${only}, tested ${tested}`;
  return [{ name, state: only === tested ? 'covered' : 'outside', text }];
}

/** Separation as arranged: what was asked, or what was found where that is less. */
function separationOf({ seal }: CheckInput): number | null {
  const { arrangement } = seal;
  if (arrangement === null) return null;
  return arrangement.verdict === 'fits' ? arrangement.separationMm : arrangement.gapMm;
}

function firePoint(record: TestRecord, duty: Duty): Point {
  const name = 'rating';
  const asked = duty.rating === null ? null : parseFireRating(duty.rating);
  const tested = record.rating === undefined ? null : parseFireRating(record.rating);
  if (asked === null) return { name: 'rating asked', state: 'not known', text: '' };
  if (tested === null) return { name, state: 'not stated', text: 'no rating in the record' };
  return answersFireRating(tested, asked)
    ? { name, state: 'covered', text: '' }
    : { name, state: 'outside', text: `tested ${record.rating}, asked ${duty.rating}` };
}

function openingPoint(record: TestRecord, { seal }: CheckInput): Point {
  const name = 'largest opening';
  const tested = record.largestOpeningMm;
  if (tested === undefined || seal.opening === null) return { name, state: 'not stated', text: '' };
  const { widthMm, heightMm } = shapeExtentMm(seal.opening);
  const isInside = widthMm <= tested.widthMm + 1e-9 && heightMm <= tested.heightMm + 1e-9;
  return {
    name,
    state: isInside ? 'covered' : 'outside',
    text: `opening ${Math.round(widthMm)} × ${Math.round(heightMm)}, tested to ${tested.widthMm} × ${tested.heightMm} mm`,
  };
}

function hostPoint(record: TestRecord, { subject }: CheckInput): Point {
  const name = 'host kind';
  const kinds = record.hostKinds?.map((kind) => kind.toLowerCase());
  const hosts = subject.hostKinds;
  if (kinds === undefined) return { name, state: 'not stated', text: '' };
  if (hosts.length === 0) return { name, state: 'not known', text: '' };
  const outside = hosts.find((kind) => !kinds.includes(kind));
  return outside === undefined
    ? { name, state: 'covered', text: '' }
    : { name, state: 'outside', text: `host is a ${outside}, tested in ${kinds.join(', ')}` };
}
