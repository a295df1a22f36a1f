import { greatestOf } from '../basics/extremes.ts';
import { groupBy } from '../basics/order.ts';
import type { OnProgress } from '../basics/progress.ts';
import type { Query, WithQueries } from '../basics/query.ts';
import type { Vec2 } from '../geometry/vec.ts';
import type { Arrangement, ArrangementProblem } from '../model/arrangement.ts';
import type { Cable, Matches, Schedule } from '../model/cable.ts';
import type { Penetration } from '../model/penetration.ts';
import type { Range } from '../model/range.ts';
import type { Seal } from '../model/seal.ts';
import type { SealChoice } from '../model/seal-choice.ts';
import type { Settings } from '../model/settings.ts';
import { arrange as arrangeBodies } from './arrange/arrange.ts';
import { arrangeOnce } from './arrange-once.ts';
import { damperQueries } from './damper-queries.ts';
import { evidenceQueries, sealQueries } from './design-queries.ts';
import { dutiesOf } from './duties.ts';
import { reachQueries } from './reach-queries.ts';
import { sealLeftOut, sealOrQuery } from './seal-of.ts';
import type { SealSubject } from './seal-subject.ts';
import { sealSubjects } from './seal-subjects.ts';
import { spacingFinder } from './spacing.ts';
import { structureQueries } from './structure-queries.ts';

export interface DesignInput {
  readonly penetrations: readonly Penetration[];
  readonly schedule: Schedule;
  readonly matches: Matches;
  readonly range: Range;
  readonly settings: Settings;
  /** What people chose, by penetration id. */
  readonly choices?: ReadonlyMap<string, SealChoice>;
}

export interface DesignOptions {
  /** How bodies are arranged; the search of `arrange/` unless a caller has its own. */
  readonly arrange?: (problem: ArrangementProblem) => Arrangement;
  readonly onProgress?: OnProgress;
}

/** Penetrations between two reports of progress; own choice. */
const REPORT_EVERY = 50;

/**
 * The seals of all penetrations: for each the annulus, then a bore for each hollow body that
 * cables pass. Every leak path ends as designed, as a query with its reason, or as none with its
 * reason. Equal arrangements are worked out once. In the order of the penetrations given.
 */
export function designSeals(
  input: DesignInput,
  options: DesignOptions = {},
): WithQueries<readonly Seal[]> {
  const { penetrations, schedule, matches, range, settings } = input;
  const cables = new Map(schedule.cables.map((cable) => [cable.id, cable]));
  const byPenetration = groupBy(matches.matches, ({ penetrationId }) => penetrationId);
  const context = {
    range,
    design: settings.design,
    arrange: arrangeOnce(options.arrange ?? arrangeBodies),
    circuits: circuitsOf(schedule.cables),
    spacingMm: spacingFinder(penetrations, greatestOf(testedSpacings(range), 0)),
  };
  const seals: Seal[] = [];
  const queries: Query[] = [];
  penetrations.forEach((penetration, at) => {
    if (at % REPORT_EVERY === 0) {
      options.onProgress?.({ step: 'designing seals', done: at, total: penetrations.length });
    }
    const cablesHere = (byPenetration.get(penetration.id) ?? []).flatMap((match) => {
      const cable = cables.get(match.cableId);
      return cable === undefined ? [] : [{ cable, match }];
    });
    const choice = input.choices?.get(penetration.id);
    const design = { ...settings.design, ...choice?.design };
    const subjects = subjectsOf(penetration, cablesHere, design, choice);
    const duties = dutiesOf(penetration, settings, subjects[0]?.opening);
    const excluded = choice?.excluded ?? null;
    const here = subjects.map((subject) =>
      excluded === null
        ? sealOrQuery(subject, duties, { ...context, design })
        : sealLeftOut(subject, duties, context, excluded),
    );
    seals.push(...here);
    queries.push(
      ...subjects.flatMap((subject, number) => {
        const seal = here[number];
        return seal === undefined ? [] : sealQueries(seal, subject, subjects);
      }),
      ...damperQueries(penetration, here),
    );
  });
  queries.push(
    ...evidenceQueries(seals),
    ...structureQueries(penetrations, seals),
    ...reachQueries(penetrations, seals),
  );
  return { result: seals, queries };
}

/** The leak paths, with the opening that people chose in place of the one found. */
function subjectsOf(
  penetration: Penetration,
  cablesHere: Parameters<typeof sealSubjects>[1],
  design: Settings['design'],
  choice: SealChoice | undefined,
): SealSubject[] {
  const opening = choice?.opening ?? null;
  const subjects =
    opening === null
      ? sealSubjects(penetration, cablesHere, design)
      : sealSubjects({ ...penetration, shape: opening }, cablesHere, design).map((subject) =>
          subject.path === 'annulus' ? { ...subject, openingBasis: 'decided' as const } : subject,
        );
  return subjects.map((subject) => laidByHand(subject, choice?.places?.get(subject.id)));
}

/** With the bodies that people put somewhere held there; the others are arranged round them. */
function laidByHand(
  subject: SealSubject,
  places: ReadonlyMap<string, Vec2> | undefined,
): SealSubject {
  if (places === undefined) return subject;
  return {
    ...subject,
    passing: subject.passing.map((item) => {
      const at = places.get(item.body.ref);
      if (at === undefined) return item;
      const { bundle: _bundle, ...body } = item.body;
      return { ...item, body: { ...body, fixedAt: { xMm: at[0], yMm: at[1] } } };
    }),
  };
}

/** Distances to the next opening that records of the range speak of, mm. */
function testedSpacings({ records }: Range): number[] {
  return records.flatMap(({ spacingMm }) => spacingMm ?? []);
}

function circuitsOf(cables: readonly Cable[]): Map<string, Cable[]> {
  const inCircuits = cables.filter(
    ({ circuitRef, status }) => circuitRef !== null && status !== 'to be removed',
  );
  return groupBy(inCircuits, ({ circuitRef }) => circuitRef ?? '');
}
