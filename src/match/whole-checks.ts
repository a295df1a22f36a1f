import { groupBy } from '../basics/order.ts';
import { makeQuery, type Query } from '../basics/query.ts';
import { sizeText } from '../geometry/shape.ts';
import type { Cable, CableMatch, Schedule } from '../model/cable.ts';
import type { Crossing, Penetration } from '../model/penetration.ts';
import { expectsCables } from './expects-cables.ts';

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

/** A carrier or a modelled cable goes through, and no cable of the schedule does. */
function withoutCables(penetration: Penetration): readonly Query[] {
  const expecting = penetration.crossings.filter(expectsCables);
  if (expecting.length === 0) return [];
  const list = expecting.map(({ kind, references, id }) => {
    return `${kind} ${references[0]?.text ?? id}`;
  });
  return [
    makeQuery('penetration-without-cables', {
      about: penetration.id,
      penetrationId: penetration.id,
      text: `No cable of the schedule passes here, though this does: ${list.slice(0, 8).join(', ')}${list.length > 8 ? ' …' : ''}.`,
      why: 'The seal can only be designed for the cables it holds.',
      settles: 'The cables that pass, or that it stays empty.',
      evidence: penetration.evidence,
    }),
  ];
}

/** Cables whose own areas add up to more than the bore, or one wider than it: no arrangement fits. */
function contentsTooBig(
  penetration: Penetration,
  matches: readonly CableMatch[],
  cables: ReadonlyMap<string, Cable>,
): readonly Query[] {
  return penetration.crossings.flatMap((crossing) => {
    if (crossing.boreMm === null) return [];
    const inside = matches
      .filter(({ crossingId }) => crossingId === crossing.id)
      .flatMap(({ cableId }) => cables.get(cableId) ?? [])
      .filter(({ status }) => status !== 'to be removed');
    const known = inside.filter(({ diameterMm }) => diameterMm !== null);
    const areaMm2 = known.reduce(
      (total, { diameterMm, bodies }) => total + (bodies * Math.PI * (diameterMm ?? 0) ** 2) / 4,
      0,
    );
    const widest = Math.max(0, ...known.map(({ diameterMm }) => diameterMm ?? 0));
    const boreArea = (Math.PI * crossing.boreMm ** 2) / 4;
    if (areaMm2 <= boreArea && widest <= crossing.boreMm) return [];
    return [tooBig(penetration, crossing, crossing.boreMm, known, areaMm2 / boreArea)];
  });
}

function tooBig(
  penetration: Penetration,
  crossing: Crossing,
  boreMm: number,
  inside: readonly Cable[],
  areaRatio: number,
): Query {
  const list = inside.map(({ ref, bodies, diameterMm }) => {
    return `${ref} (${bodies > 1 ? `${bodies} × ` : ''}${sizeText(diameterMm ?? 0)} mm)`;
  });
  return makeQuery('contents-too-big', {
    about: crossing.id,
    penetrationId: penetration.id,
    text: `The cables of ${crossing.references[0]?.text ?? crossing.id} do not fit its bore of ${sizeText(boreMm)} mm: their areas are ${(areaRatio * 100).toFixed(0)} % of it. ${list.slice(0, 12).join(', ')}.`,
    why: 'Either a cable is placed wrongly or the body is too small.',
    settles: 'The right cables, diameters or bore.',
    evidence: crossing.evidence,
  });
}
