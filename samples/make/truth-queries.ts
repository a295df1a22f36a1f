import type { OpeningDim, RunDim } from '../dimensions/types.ts';
import { axisInHosts, between } from './crossings.ts';
import { pieceName } from './ifc-runs.ts';
import { globalIdOf } from './step-writer.ts';
import {
  hostIn,
  runIn,
  type ScheduledCable,
  type TrueModel,
  type TrueQuery,
} from './truth-model.ts';

/** Questions that a model's openings and services have to raise. */
export function queriesOf(model: TrueModel): readonly TrueQuery[] {
  const ask = (codes: readonly string[], penetration: string | null, about: readonly string[]) => ({
    codes,
    penetration,
    about,
  });
  const openings = model.openings.flatMap((opening): readonly TrueQuery[] => {
    if (opening.outcome !== 'inPenetration') return [];
    const about = [opening.mark, globalIdOf(model.architectureFile, opening.mark)];
    const forms = new Set(opening.serves.map((ref) => tradeOf(runIn(model, ref))));
    return [
      ...(opening.serves.length === 0
        ? [ask(['opening-without-service'], opening.mark, about)]
        : []),
      ...(opening.declared === 'PROVISION'
        ? [ask(['provision-not-cut'], opening.mark, about)]
        : []),
      ...(forms.size > 1 ? [ask(['opening-shared-by-trades'], opening.mark, about)] : []),
      ...(standsOut(model, opening)
        ? [ask(['opening-too-small', 'opening-off-centre'], opening.mark, about)]
        : []),
    ];
  });
  const runs = model.runs.flatMap((run): readonly TrueQuery[] => {
    const ids = run.pieces.map((piece) => globalIdOf(model.servicesFile, pieceName(run, piece)));
    const outcomes = new Set(run.pieces.map((piece) => piece.outcome));
    const about = [run.ref, ...ids];
    return [
      ...run.unopenedIn.map((host) =>
        ask(['service-without-opening'], `${run.ref} in ${host}`, about),
      ),
      ...(outcomes.has('endsInside') ? [ask(['service-ends-inside'], null, about)] : []),
      ...(outcomes.has('within') ? [ask(['service-within-host'], null, about)] : []),
      ...(outcomes.has('noGeometry') ? [ask(['element-without-geometry'], null, about)] : []),
    ];
  });
  return [...openings, ...runs];
}

function tradeOf(run: RunDim): 'electrical' | 'mechanical' {
  return run.form === 'pipe' || run.form === 'duct' ? 'mechanical' : 'electrical';
}

/** A round service in a round hole that does not lie wholly inside it. */
function standsOut(model: TrueModel, opening: OpeningDim): boolean {
  const { shape } = opening;
  if (shape.type !== 'circle') return false;
  const host = hostIn(model, opening.host);
  return opening.serves.some((ref) => {
    const run = runIn(model, ref);
    if (run.section.type !== 'circle') return false;
    const reach = run.section.diameterMm / 2;
    return axisInHosts(run, [host]).some((stay) => {
      const middle = between(stay.entry, stay.exit, 0.5);
      const off = Math.hypot(
        middle[0] - opening.at[0],
        middle[1] - opening.at[1],
        middle[2] - opening.at[2],
      );
      return off + reach > shape.diameterMm / 2 + 1;
    });
  });
}

/** Questions that a row of the schedule has to raise. */
export function cableQueries(cable: ScheduledCable): readonly TrueQuery[] {
  if (cable.mustAsk !== null) {
    return [{ codes: [cable.mustAsk], penetration: null, about: [cable.ref] }];
  }
  if (cable.outcome !== 'queried') return [];
  return [
    {
      codes: [
        'cable-no-penetration',
        'cable-match-doubtful',
        'cable-route-gap',
        'reference-look-alike',
      ],
      penetration: null,
      about: [cable.ref],
    },
  ];
}
