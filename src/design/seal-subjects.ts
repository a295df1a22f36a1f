import { greatestOf } from '../basics/extremes.ts';
import { sizeText } from '../geometry/shape.ts';
import type { Vec2 } from '../geometry/vec.ts';
import { sub2 } from '../geometry/vec.ts';
import type { Cable, CableMatch } from '../model/cable.ts';
import type { Crossing, Penetration } from '../model/penetration.ts';
import type { Settings } from '../model/settings.ts';
import { boreCandidates } from './bore-candidates.ts';
import { neededOpening } from './needed-shape.ts';
import { blankObstacles, cableObstacles, sizeObstacles, unplacedObstacle } from './obstacles.ts';
import { passingCable, passingService, serviceName, skewOf, withUniqueRefs } from './passing.ts';
import { type Contents, isForCables, isHollow, placeContents } from './place-contents.ts';
import type { Obstacle, SealSubject } from './seal-subject.ts';

/**
 * The leak paths of one penetration: the annulus (opening less the outsides of what passes), then
 * a bore for each hollow body that cables pass or that is there for cables, in order of crossing.
 *
 * Trays and ladders stop on both sides of the seal when it is known what they carry: the cables
 * cross the opening one by one, so that sealant reaches round each of them
 * `(common practice, no source)`. A tray of unknown load is taken as passing, as the rectangle of
 * its outside. Trunking is a hollow body: round it and through it.
 */
export function sealSubjects(
  penetration: Penetration,
  cablesHere: readonly { readonly cable: Cable; readonly match: CableMatch }[],
  design: Settings['design'],
): SealSubject[] {
  const contents = placeContents(penetration, cablesHere);
  const bores = penetration.crossings
    .filter((crossing) => isHollow(crossing))
    .filter((crossing) => isForCables(crossing) || carriesSomething(contents, crossing))
    .map((crossing) => boreSubject(penetration, contents, crossing, design));
  return [annulusSubject(penetration, contents, design), ...bores];
}

function carriesSomething(contents: Contents, carrier: Crossing): boolean {
  return [...contents.cables, ...contents.runs].some((item) => item.carrier?.id === carrier.id);
}

/** Cables that a hollow body carries. */
function insideOf(contents: Contents, run: Crossing): readonly Cable[] {
  if (!isHollow(run)) return [];
  return contents.cables.filter(({ carrier }) => carrier?.id === run.id).map(({ cable }) => cable);
}

function annulusSubject(
  penetration: Penetration,
  contents: Contents,
  design: Settings['design'],
): SealSubject {
  const isBare = (carrier: Crossing | null) => carrier === null || !isHollow(carrier);
  const runs = contents.runs
    .filter(({ carrier }) => isBare(carrier))
    .map(({ run }) => run)
    .filter((run) => !(isStopped(run) && carriesSomething(contents, run)));
  const cables = contents.cables.filter(({ carrier }) => isBare(carrier));
  const skews = [
    ...runs.map((run) => skewOf(run)),
    ...cables.map(({ line, carrier }) => skewOf(line ?? carrier)),
  ];
  const wanderMm = penetration.thicknessMm * Math.tan(greatestOf(skews, 0));
  const needed = penetration.shape === null ? neededFor(contents, design, wanderMm) : null;
  const centreMm: Vec2 = needed?.centreMm ?? [0, 0];
  const shownAt = (crossing: Crossing | null): Vec2 | null =>
    crossing?.offsetMm == null ? null : sub2(crossing.offsetMm, centreMm);
  const opening = penetration.shape ?? needed?.shape ?? null;
  const passing = withUniqueRefs([
    ...runs.flatMap((run) => {
      const service = passingService(run, shownAt(run), skewOf(run));
      return service === null ? [] : [{ ...service, inside: insideOf(contents, run) }];
    }),
    ...cables.flatMap(({ cable, line, carrier }) =>
      passingCable(cable, {
        crossing: line,
        shownAtMm: shownAt(line),
        skewRad: skewOf(line ?? carrier),
        keepBundles: design.keepBundles,
      }),
    ),
  ]);
  return {
    id: `${penetration.id}/annulus`,
    penetrationId: penetration.id,
    path: 'annulus',
    of: null,
    opening,
    openingBasis: penetration.shape !== null ? 'as found' : opening === null ? 'unknown' : 'needed',
    passing,
    wanderMm,
    thicknessMm: knownDepthMm(penetration.thicknessMm),
    raceway: 'opening',
    substrate: hostMaterial(penetration),
    penetration,
    hostKinds: penetration.hosts.map(({ kind }) => kind),
    hollow: null,
    classSeparations: [],
    obstacles: [
      ...cableObstacles(cables),
      ...runs.flatMap((run) => sizeObstacles(run)),
      ...contents.unplaced.map(unplacedObstacle),
      ...(penetration.crossings.length === 0 && cables.length === 0
        ? blankObstacles(penetration, design.largestBlankMm)
        : []),
    ],
  };
}

function boreSubject(
  penetration: Penetration,
  contents: Contents,
  hollow: Crossing,
  design: Settings['design'],
): SealSubject {
  const isIn = (carrier: Crossing | null) => carrier?.id === hollow.id;
  const runs = contents.runs.filter(({ carrier }) => isIn(carrier)).map(({ run }) => run);
  const cables = contents.cables.filter(({ carrier }) => isIn(carrier));
  const shownAt = (crossing: Crossing | null): Vec2 | null =>
    crossing?.offsetMm == null || hollow.offsetMm === null
      ? null
      : sub2(crossing.offsetMm, hollow.offsetMm);
  const bore = boreOf(hollow);
  return {
    id: `${penetration.id}/bore/${hollow.id}`,
    penetrationId: penetration.id,
    path: 'bore',
    of: hollow.id,
    opening: bore.shape,
    openingBasis: bore.shape === null ? 'unknown' : 'bore',
    // Along the bore's own axis, so nothing crosses it askew.
    passing: withUniqueRefs([
      ...runs.flatMap((run) => passingService(run, shownAt(run), 0) ?? []),
      ...cables.flatMap(({ cable, line }) =>
        passingCable(cable, {
          crossing: line,
          shownAtMm: shownAt(line),
          skewRad: 0,
          keepBundles: design.keepBundles,
        }),
      ),
    ]),
    wanderMm: 0,
    thicknessMm: knownDepthMm(Math.max(hollow.lengthMm, penetration.thicknessMm)),
    raceway: racewayOf(hollow),
    substrate: hollow.material,
    penetration,
    hostKinds: penetration.hosts.map(({ kind }) => kind),
    hollow,
    classSeparations: [],
    obstacles: [
      ...bore.obstacles,
      ...cableObstacles(cables),
      ...runs.flatMap((run) => sizeObstacles(run)),
      ...(isForCables(hollow) ? contents.unplaced.map(unplacedObstacle) : []),
    ],
  };
}

/** Drawings that don't tell how thick a host is leave 0. */
function knownDepthMm(depthMm: number): number | null {
  return depthMm > 0 ? depthMm : null;
}

/** What a tray or ladder of known load does at the seal: it stops, and its load goes through. */
function isStopped(run: Crossing): boolean {
  return run.kind === 'carrier' && !isHollow(run);
}

function neededFor(contents: Contents, design: Settings['design'], wanderMm: number) {
  // The trays themselves count here: the hole is asked for round what the drawing shows.
  const shown = contents.runs
    .map(({ run }) => run)
    .concat(contents.cables.flatMap(({ line }) => line ?? []))
    .filter(({ carriedBy }) => carriedBy === null);
  const footprints = shown.flatMap((crossing) => {
    const body = passingService(crossing, null, skewOf(crossing));
    return body === null ? [] : [{ outline: body.body.outline, atMm: crossing.offsetMm }];
  });
  if (footprints.length > 0) {
    return neededOpening(footprints, design.neededClearanceMm, wanderMm);
  }
  const cables = contents.cables.flatMap(({ cable, line }) =>
    passingCable(cable, {
      crossing: line,
      shownAtMm: null,
      skewRad: skewOf(line),
      keepBundles: false,
    }),
  );
  return neededOpening(
    cables.map(({ body }) => ({ outline: body.outline, atMm: null })),
    design.neededClearanceMm,
    wanderMm,
  );
}

function boreOf(hollow: Crossing): {
  readonly shape: SealSubject['opening'];
  readonly obstacles: readonly Obstacle[];
} {
  const name = serviceName(hollow);
  if (hollow.boreMm !== null) {
    return { shape: { type: 'circle', diameterMm: hollow.boreMm }, obstacles: [] };
  }
  const { section } = hollow;
  if (section === null) {
    const text = `the size of ${name} is not known`;
    return {
      shape: null,
      obstacles: [{ kind: 'bore', text, about: hollow.serviceIds, isProvisional: false }],
    };
  }
  if (section.type === 'rectangle') {
    const text = `the inside of ${name} is not given; its outside is taken`;
    return {
      shape: { type: 'rectangle', widthMm: section.widthMm, heightMm: section.heightMm },
      obstacles: [{ kind: 'bore', text, about: hollow.serviceIds, isProvisional: true }],
    };
  }
  if (hollow.sizeBasis === 'bore') {
    return { shape: { type: 'circle', diameterMm: section.diameterMm }, obstacles: [] };
  }
  const candidates = boreCandidates(section.diameterMm, hollow.sizeBasis);
  const smallest = candidates[0];
  const text =
    smallest === undefined
      ? `the bore of ${name} is not given (${hollow.sizeBasis} ${sizeText(section.diameterMm)})`
      : `the bore of ${name} is not given; ${hollow.sizeBasis} ${sizeText(section.diameterMm)} may be ` +
        candidates.map(({ family, boreMm }) => `${sizeText(boreMm)} (${family})`).join(', ');
  return {
    shape: smallest === undefined ? null : { type: 'circle', diameterMm: smallest.boreMm },
    obstacles: [
      { kind: 'bore', text, about: hollow.serviceIds, isProvisional: smallest !== undefined },
    ],
  };
}

function racewayOf(hollow: Crossing): SealSubject['raceway'] {
  if (hollow.carrierForm === 'trunking') return 'trunking';
  if (hollow.kind === 'conduit') return 'conduit';
  return hollow.kind === 'duct' ? 'duct' : 'sleeve';
}

function hostMaterial(penetration: Penetration): string | null {
  const materials = new Set(
    penetration.hosts.flatMap(({ material }) => (material === null ? [] : [material])),
  );
  return materials.size === 0 ? null : [...materials].join(' / ');
}
