import { boxOfPositions, grownBox } from '../../geometry/box.ts';
import { indexBoxes } from '../../geometry/box-index.ts';
import type { Building, Host } from '../../model/building.ts';
import type { Settings } from '../../model/settings.ts';
import { classifyOpening, type OpeningClass } from './classify-openings.ts';
import type { HostHole } from './hole-prism.ts';
import { type HostBody, hostBody } from './host-body.ts';
import { holesOf, isFlatHost, mayHaveHoles } from './host-holes.ts';
import { type OpeningBody, openingBody } from './opening-body.ts';
import { revealHoles } from './reveal-holes.ts';
import { findRuns, type Runs } from './runs.ts';

/** Everything of a building made ready for finding. Numbers are places in these lists. */
export interface Scene {
  readonly building: Building;
  readonly settings: Settings;
  readonly hosts: readonly HostBody[];
  /** Hosts whose body has no thickness anywhere: a surface, or one left open. */
  readonly bodiless: readonly Host[];
  readonly runs: Runs;
  /**
   * One an opening of the building, in its order; null without geometry. After them, those that go
   * through more than one assembly once more for each of the others.
   */
  readonly openings: readonly (OpeningBody | null)[];
  readonly classes: readonly (OpeningClass | null)[];
}

/** Makes the scene: hosts as solids, services as runs, openings placed in their hosts. */
export function prepareScene(building: Building, settings: Settings): Scene {
  const bodies = building.hosts.map((host) => hostBody(host, settings.find.leafGapMm));
  const hosts = bodies
    .filter((host): host is HostBody => host !== null)
    .filter(({ thicknessMm }) => thicknessMm >= settings.find.shallowestHostMm)
    .map((host) => ({ ...host, holes: holesInBody(host, settings.find.shaftFromMm) }));
  const numberOf = new Map(hosts.map(({ host }, n) => [host.id, n]));
  const index = indexBoxes(hosts.map(({ body }) => body.box));
  const placed = building.openings.map((opening): readonly OpeningBody[] => {
    if (opening.mesh === null) return [];
    const declared = opening.hostIds
      .map((id) => numberOf.get(id))
      .filter((n): n is number => n !== undefined);
    const isElsewhere = declared.length === 0 && (opening.voidedClasses?.length ?? 0) > 0;
    const nearby = isElsewhere
      ? []
      : index.meeting(grownBox(boxOfPositions(opening.mesh.positionsMm), 1));
    return openingBody(opening, hosts, declared, nearby, settings.find.leafGapMm);
  });
  const openings = [
    ...placed.map(([first]) => first ?? null),
    ...placed.flatMap(([, ...others]) => others),
  ];
  const excluded = new Set(settings.services.excludeClasses.map((name) => name.toUpperCase()));
  const used: Building = {
    ...building,
    services: building.services.filter(({ ifcClass }) => !excluded.has(ifcClass.toUpperCase())),
  };
  return {
    building,
    settings,
    hosts,
    bodiless: building.hosts.filter(({ mesh }, n) => mesh !== null && bodies[n] === null),
    runs: findRuns(used),
    openings,
    classes: openings.map((opening) =>
      opening === null ? null : classifyOpening(opening, hosts, settings),
    ),
  };
}

/** Holes in a host's own body: in flat ones by cuts along it, in others by their reveals as well. */
function holesInBody(host: HostBody, shaftFromMm: number): readonly HostHole[] {
  const inCut = holesOf(host, shaftFromMm);
  if (inCut.length > 0 || !mayHaveHoles(host) || isFlatHost(host)) return inCut;
  return revealHoles(host, shaftFromMm);
}
