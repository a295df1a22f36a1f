import { groupBy, sortedBy } from '../basics/order.ts';
import { makeQuery, type Query } from '../basics/query.ts';
import type { Check, Remedy, Seal } from '../model/seal.ts';
import type { Obstacle, SealSubject } from './seal-subject.ts';

const EVIDENCE_FOR = 'evidence for ';

/** What a person must answer before this seal can be issued. */
export function sealQueries(
  seal: Seal,
  subject: SealSubject,
  /** All leak paths of the penetration. */
  subjects: readonly SealSubject[],
): Query[] {
  return [
    ...subject.obstacles
      .filter((obstacle) => !isAskedForBore(obstacle, subjects))
      .map((obstacle) => obstacleQuery(seal, obstacle)),
    ...arrangementQueries(seal),
    ...senselessQueries(seal, subject),
    ...checkQueries(seal),
  ];
}

/** A nominal size is asked about once: with its bore, where the bore is asked for as well. */
function isAskedForBore(obstacle: Obstacle, subjects: readonly SealSubject[]): boolean {
  const about = obstacle.about.join('+');
  return (
    obstacle.kind === 'nominal size' &&
    subjects.some(({ obstacles }) =>
      obstacles.some((other) => other.kind === 'bore' && other.about.join('+') === about),
    )
  );
}

function obstacleQuery(seal: Seal, { kind, text, about, isProvisional }: Obstacle): Query {
  const parts = {
    about: `${seal.id}/${kind}/${about.join('+')}`,
    text: `${sealText(seal)}: ${text}.`,
    penetrationId: seal.penetrationId,
  };
  const why = isProvisional
    ? 'The seal is drawn and counted on the figure at hand, which may be wrong; it is kept out of the take-off.'
    : 'Without it the seal can be neither arranged nor counted.';
  switch (kind) {
    case 'cable diameter':
      return makeQuery('cable-diameter-unknown', {
        ...parts,
        why,
        settles:
          'The outside diameter as the answer, in mm; or in the schedule, or a row in the cable table.',
      });
    case 'place of cable':
      return makeQuery('cable-match-doubtful', {
        ...parts,
        why,
        settles: 'The reference of the conduit that takes the cable.',
      });
    case 'nominal size':
      return makeQuery('size-nominal', { ...parts, why, settles: 'The outside size in mm.' });
    case 'bore':
      return makeQuery(isProvisional ? 'size-nominal' : 'size-unknown', {
        ...parts,
        why,
        settles: 'Outside and clear bore in mm, or the series that the size belongs to.',
      });
    case 'large and empty':
      return makeQuery('opening-large-and-empty', {
        ...parts,
        why: 'A seal over a window, a doorway or a hole to be walled up would be sealant by the bucket.',
        settles:
          'What the opening is for; a service that passes, or design.largestBlankMm where it is to be sealed.',
      });
    case 'service size':
      return makeQuery('size-unknown', { ...parts, why, settles: 'The outside size in mm.' });
  }
}

function arrangementQueries(seal: Seal): Query[] {
  const { arrangement } = seal;
  if (arrangement === null || arrangement.verdict === 'fits') return [];
  const gap =
    arrangement.gapMm === null
      ? 'not even touching was an arrangement found'
      : `the largest common gap found is ${arrangement.gapMm.toFixed(1)} mm`;
  const code =
    arrangement.verdict === 'cannot fit' ? 'arrangement-cannot-fit' : 'arrangement-not-found';
  return [
    makeQuery(code, {
      about: seal.id,
      text: `${sealText(seal)}: ${arrangement.verdict} with ${arrangement.separationMm} mm between bodies and ${arrangement.edgeMm} mm to the wall; ${gap}. ${arrangement.proof}`,
      why: 'Sealant must reach round every body; where it does not, the seal leaks.',
      settles: settledBy(
        seal,
        ({ settles }) => settles === 'arrangement',
        'A larger or second opening, fewer bodies, or a smaller separation that is accepted.',
      ),
      penetrationId: seal.penetrationId,
    }),
  ];
}

/** Sizes or outlines that no arrangement can be made of. */
function senselessQueries(seal: Seal, subject: SealSubject): Query[] {
  if (seal.state !== 'query' || seal.arrangement !== null || subject.obstacles.length > 0)
    return [];
  return [
    makeQuery('size-unknown', {
      about: seal.id,
      text: `${sealText(seal)}: ${seal.reason ?? 'not designed'}.`,
      why: 'Without it the seal can be neither arranged nor counted.',
      settles: 'The size of the hole, and of what passes it.',
      penetrationId: seal.penetrationId,
    }),
  ];
}

/** One query for all checks of a seal that are not met; evidence is asked for project-wide. */
function checkQueries(seal: Seal): Query[] {
  const unmet = seal.checks.filter((check) => check.verdict === 'not met' && !isEvidence(check));
  if (unmet.length === 0) return [];
  return [
    makeQuery('check-not-met', {
      about: seal.id,
      text: `${sealText(seal)}: not met: ${unmet.map(unmetText).join('; ')}.`,
      why: 'The seal as designed is not within the limits it was checked against.',
      settles: settledBy(
        seal,
        ({ settles }) => unmet.some(({ name }) => name === settles),
        'A change to the design, or a decision that the limit does not apply here.',
      ),
      penetrationId: seal.penetrationId,
    }),
  ];
}

/** Evidence that is missing or does not reach, one query a duty and reason, however many seals. */
export function evidenceQueries(seals: readonly Seal[]): Query[] {
  const open = seals.flatMap((seal) =>
    seal.checks
      .filter((check) => isEvidence(check) && check.verdict !== 'met')
      .map((check) => ({ seal, check })),
  );
  const groups = groupBy(open, ({ check }) => `${dutyName(check)}/${check.verdict}`);
  return sortedBy([...groups.keys()], (key) => key).flatMap((key) => {
    const group = groups.get(key) ?? [];
    const [first] = group;
    if (first === undefined) return [];
    const holes = new Set(group.map(({ seal }) => seal.penetrationId));
    const [onlyHole] = holes;
    const isOne = group.length === 1;
    const found =
      first.check.verdict === 'not met'
        ? `${isOne ? 'is' : 'are'} outside the evidence supplied`
        : `${isOne ? 'has' : 'have'} no evidence that covers ${isOne ? 'it' : 'them'}`;
    return [
      makeQuery('duty-evidence-missing', {
        about: key,
        text: `Duty ${dutyName(first.check)}: ${plural(group.length, 'seal')} in ${plural(holes.size, 'penetration')} ${found}${detailText(first.check)}.`,
        why: 'A duty is answered only by one record, tested for that duty, that covers every point of the seal.',
        settles:
          'A test record in the range file that covers these seals, or another way of closing them.',
        penetrationId: holes.size === 1 ? (onlyHole ?? null) : null,
      }),
    ];
  });
}

function detailText({ note, missing }: Check): string {
  const parts = [
    ...(note === null ? [] : [note]),
    ...(missing.length === 0 ? [] : [`missing: ${missing.join(', ')}`]),
  ];
  return parts.length === 0 ? '' : ` (first: ${parts.join('; ')})`;
}

/** The changes that were tried and work, else what could settle it in general. */
function settledBy(seal: Seal, isOne: (remedy: Remedy) => boolean, otherwise: string): string {
  const texts = [...new Set((seal.remedies ?? []).filter(isOne).map(({ text }) => text))];
  return texts.length === 0 ? otherwise : `One of: ${texts.join('; or ')}.`;
}

/** The duty without its head, which differs from hole to hole. */
function dutyName(check: Check): string {
  return check.name.replace(EVIDENCE_FOR, '').replace(/^water .*$/, 'water');
}

function isEvidence(check: Check): boolean {
  return check.name.startsWith(EVIDENCE_FOR);
}

function unmetText(check: Check): string {
  const figures =
    check.value === null || check.limit === null
      ? ''
      : ` ${short(check.value)} against ${short(check.limit)}${unitText(check.unit)}`;
  return `${check.name}${figures}${check.value === null && check.note !== null ? ` (${check.note})` : ''}`;
}

/** Ratios and counts are told without a unit. */
function unitText(unit: string): string {
  return unit === '1' || unit === '0–1' || unit === '' ? '' : ` ${unit}`;
}

function sealText(seal: Seal): string {
  return seal.path === 'annulus' ? 'The seal round what passes' : 'The seal inside the hollow body';
}

function plural(count: number, noun: string): string {
  return count === 1 ? `1 ${noun}` : `${count} ${noun}s`;
}

function short(value: number): string {
  return String(Math.round(value * 1000) / 1000);
}
