import { groupBy, sum } from '../basics/order.ts';
import { makeQuery, type Query } from '../basics/query.ts';
import { writtenForm } from '../basics/reference-key.ts';
import { sizeText } from '../geometry/shape.ts';
import type { Cable, CableMatch, Schedule } from '../model/cable.ts';
import type { Crossing, Penetration } from '../model/penetration.ts';
import { expectsCables } from './expects-cables.ts';
import { penetrationText } from './penetration-text.ts';

/** What only shows when all matches are looked at together. */
export function checkWhole(
  penetrations: readonly Penetration[],
  schedule: Schedule,
  matches: readonly CableMatch[],
): readonly Query[] {
  if (schedule.cables.length === 0) return [];
  const cables = new Map(schedule.cables.map((cable) => [cable.id, cable]));
  const byPenetration = groupBy(matches, ({ penetrationId }) => penetrationId);
  return penetrations.flatMap((penetration) => {
    const here = byPenetration.get(penetration.id) ?? [];
    if (here.length === 0) return withoutCables(penetration);
    return contentsTooBig(penetration, here, cables);
  });
}

/** One question for each reference that several rows have. */
export function repeatedReferences(
  cables: readonly Cable[],
  repeated: ReadonlySet<string>,
): readonly Query[] {
  const rows = cables.filter(({ id }) => repeated.has(id));
  return [...groupBy(rows, ({ ref }) => writtenForm(ref)).values()].flatMap((same) => {
    const [first] = same;
    if (first === undefined) return [];
    const list = same.map(
      ({ place }) => `${place.fileKey}, sheet ${place.sheet}, row ${place.row}`,
    );
    return [
      makeQuery('cable-duplicate', {
        about: first.id,
        text: `${same.length} rows have the reference ${first.ref}: ${list.slice(0, 10).join('; ')}.`,
        why: 'One cable listed twice takes room twice; two cables of one name cannot be told apart.',
        settles: 'The row that counts, or a reference of its own for each.',
        evidence: same.flatMap(({ evidence }) => evidence).slice(0, 20),
      }),
    ];
  });
}

/** A carrier or a modelled cable goes through, and no cable of the schedule does. */
function withoutCables(penetration: Penetration): readonly Query[] {
  const expecting = penetration.crossings.filter(expectsCables);
  if (expecting.length === 0) return [];
  const list = expecting.map(({ kind, references, id }) => {
    return `${kind} ${nameOf({ references, id })}`;
  });
  return [
    makeQuery('penetration-without-cables', {
      about: penetration.id,
      penetrationId: penetration.id,
      text: `No cable of the schedule passes ${penetrationText(penetration)}, though this does: ${list.slice(0, 8).join(', ')}${list.length > 8 ? ' …' : ''}.`,
      why: 'The seal can only be designed for the cables it holds.',
      settles: 'The cables that pass, or that it stays empty.',
      evidence: penetration.evidence,
    }),
  ];
}

/** The text most likely to be a name: the first with a digit. */
function nameOf({ references, id }: Pick<Crossing, 'references' | 'id'>): string {
  const named = references.find(({ text }) => /\d/u.test(text)) ?? references[0];
  return named?.text ?? id;
}

interface Hollow {
  readonly areaMm2: number;
  /** The widest cable that goes in. */
  readonly widestMm: number;
  /** For people. */
  readonly text: string;
}

/** The room inside a body: its bore, or for a tray or trunking the area within its outline. */
function hollowOf({ boreMm, section, kind }: Crossing): Hollow | null {
  if (boreMm !== null) {
    const areaMm2 = (Math.PI * boreMm ** 2) / 4;
    return { areaMm2, widestMm: boreMm, text: `bore of ${sizeText(boreMm)} mm` };
  }
  if (kind !== 'carrier' || section === null || section.type === 'circle') return null;
  const { widthMm, heightMm } = section;
  // Cables may stand above a tray's edge: only its width bounds them.
  const text = `width of ${sizeText(widthMm)} mm`;
  return { areaMm2: widthMm * Math.max(widthMm, heightMm), widestMm: widthMm, text };
}

/** Cables whose own areas add up to more than the body holds, or one wider than it. */
function contentsTooBig(
  penetration: Penetration,
  matches: readonly CableMatch[],
  cables: ReadonlyMap<string, Cable>,
): readonly Query[] {
  return penetration.crossings.flatMap((crossing) => {
    const hollow = hollowOf(crossing);
    if (hollow === null) return [];
    const inside = matches
      .filter(({ crossingId }) => crossingId === crossing.id)
      .flatMap(({ cableId }) => cables.get(cableId) ?? [])
      .filter(({ status, diameterMm }) => status !== 'to be removed' && diameterMm !== null);
    const areaMm2 = sum(
      inside.map(({ diameterMm, bodies }) => (bodies * Math.PI * (diameterMm ?? 0) ** 2) / 4),
    );
    const widest = Math.max(0, ...inside.map(({ diameterMm }) => diameterMm ?? 0));
    if (areaMm2 <= hollow.areaMm2 && widest <= hollow.widestMm) return [];
    return [tooBig(penetration, crossing, hollow, inside, areaMm2 / hollow.areaMm2)];
  });
}

function tooBig(
  penetration: Penetration,
  crossing: Crossing,
  hollow: Hollow,
  inside: readonly Cable[],
  areaRatio: number,
): Query {
  const list = inside.map(({ ref, bodies, diameterMm }) => {
    return `${ref} (${bodies > 1 ? `${bodies} × ` : ''}${sizeText(diameterMm ?? 0)} mm)`;
  });
  return makeQuery('contents-too-big', {
    about: crossing.id,
    penetrationId: penetration.id,
    text: `The cables of ${nameOf(crossing)} do not fit its ${hollow.text}: their areas are ${(areaRatio * 100).toFixed(0)} % of it. ${list.slice(0, 12).join(', ')}.`,
    why: 'Either a cable is placed wrongly or the body is too small.',
    settles: 'The right cables, diameters or size of the body.',
    evidence: crossing.evidence,
  });
}
