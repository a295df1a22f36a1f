import { designSeals } from '../../design/design-seals.ts';
import type { Vec2 } from '../../geometry/vec.ts';
import type { Arrangement, ArrangementProblem } from '../../model/arrangement.ts';
import type { Cable, CableMatch } from '../../model/cable.ts';
import type { Issue } from '../../model/issue.ts';
import type { Range } from '../../model/range.ts';
import type { Trial } from '../../model/review.ts';
import type { Seal } from '../../model/seal.ts';
import type { SealChoice } from '../../model/seal-choice.ts';
import { sealChoices } from '../apply-decisions.ts';
import { parseOpening } from '../size-words.ts';

/**
 * The seals of one penetration as they would be with other cables, sizes or places. Nothing is kept.
 * An unknown tag has none. Throws `usage` for an opening that can't be.
 */
export function tryChange(
  issue: Issue,
  tag: string,
  trial: Trial,
  arrange: (problem: ArrangementProblem) => Arrangement,
): readonly Seal[] {
  const penetration = issue.penetrations.find(({ id }) => issue.tags.get(id) === tag);
  if (penetration === undefined) return [];
  const without = new Set(trial.without ?? []);
  const cables = new Map(issue.schedule.cables.map((cable) => [cable.id, cable]));
  const here = issue.matches.matches.filter(
    ({ penetrationId, cableId }) =>
      penetrationId === penetration.id && !without.has(cables.get(cableId)?.ref ?? ''),
  );
  const extra = (trial.more ?? []).map((each, at) => extraCable(each, at));
  const { result } = designSeals(
    {
      penetrations: [penetration],
      schedule: {
        ...issue.schedule,
        cables: [
          ...here.flatMap(({ cableId }) => {
            const cable = cables.get(cableId);
            return cable === undefined ? [] : [resized(cable, trial.diametersMm?.[cable.ref])];
          }),
          ...extra,
        ],
      },
      matches: {
        ...issue.matches,
        matches: [...here, ...extra.map((cable) => extraMatch(cable, penetration.id))],
      },
      range: withoutFillers(issue.range, trial.withoutFillers ?? []),
      settings: issue.settings,
      choices: new Map([[penetration.id, choiceOf(issue, penetration.id, trial)]]),
    },
    { arrange },
  );
  return result;
}

function withoutFillers(range: Range, without: readonly string[]): Range {
  return { ...range, fillers: range.fillers.filter(({ name }) => !without.includes(name)) };
}

/** What is decided already, with what is tried on top. */
function choiceOf(issue: Issue, id: string, trial: Trial): SealChoice {
  const decided = sealChoices(issue.decisions ?? [], issue.tags).get(id);
  const { separationMm, edgeMm, setBackMm, faces, sealant } = trial;
  return {
    excluded: null,
    opening: trial.opening === undefined ? (decided?.opening ?? null) : parseOpening(trial.opening),
    design: {
      ...decided?.design,
      ...(separationMm === undefined ? {} : { separationMm }),
      ...(edgeMm === undefined ? {} : { edgeMm }),
      ...(setBackMm === undefined ? {} : { setBackMm }),
      ...(faces === undefined ? {} : { faces }),
      ...(sealant === undefined ? {} : { sealant }),
    },
    ...(trial.places === undefined
      ? {}
      : {
          places: new Map([
            [
              trial.places.seal,
              new Map(
                trial.places.items.map(({ ref, xMm, yMm }): [string, Vec2] => [ref, [xMm, yMm]]),
              ),
            ],
          ]),
        }),
  };
}

function resized(cable: Cable, diameterMm: number | undefined): Cable {
  return diameterMm === undefined
    ? cable
    : { ...cable, diameterMm, smallestDiameterMm: diameterMm, largestDiameterMm: diameterMm };
}

/** Where a cable that is only tried comes from. */
const TRIED = 'trial';

function extraCable(
  { ref, diameterMm }: { readonly ref: string; readonly diameterMm: number },
  at: number,
): Cable {
  return {
    id: `${TRIED}:${at}:${ref}`,
    ref,
    place: { fileKey: TRIED, sheet: '', row: at + 1 },
    status: 'now',
    stage: null,
    type: null,
    construction: null,
    cores: null,
    sizeMm2: null,
    bodies: 1,
    bundle: null,
    diameterMm,
    smallestDiameterMm: diameterMm,
    largestDiameterMm: diameterMm,
    massKgPerM: null,
    from: null,
    to: null,
    route: [],
    circuit: null,
    current: null,
    circuitRef: null,
    phase: null,
    remarks: null,
    evidence: [],
  };
}

function extraMatch(cable: Cable, penetrationId: string): CableMatch {
  return {
    cableId: cable.id,
    penetrationId,
    crossingId: null,
    confidence: 1,
    reasons: ['tried on the review page'],
  };
}
