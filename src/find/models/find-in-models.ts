import type { Evidence } from '../../basics/evidence.ts';
import { groupBy, sortedBy } from '../../basics/order.ts';
import { makeQuery, type Query, type WithQueries } from '../../basics/query.ts';
import { distance3, sub3, type Vec3 } from '../../geometry/vec.ts';
import type { Building, Host } from '../../model/building.ts';
import type { Findings, Penetration } from '../../model/penetration.ts';
import type { Settings } from '../../model/settings.ts';
import { associate } from './associate.ts';
import { type BuiltPenetration, buildPenetration } from './build-penetration.ts';
import { type Contact, type HostCrossing, meetHosts } from './crossings.ts';
import { largeHoleQueries } from './empty-holes.ts';
import { makeLedger } from './find-ledger.ts';
import { penetrationQueries } from './find-queries.ts';
import { groupHoles } from './group.ts';
import { crossOthers, otherCrossingQueries } from './other-elements.ts';
import { prepareScene, type Scene } from './scene.ts';
import { whereFinder } from './where.ts';

/**
 * Every penetration of the building with what passes it, and an account of every service and opening.
 * Hosts' meshes are taken as gross (openings not cut), as `readIfc` gives them.
 */
export function findInModels(building: Building, settings: Settings): WithQueries<Findings> {
  const scene = prepareScene(building, settings);
  const { crossings, contacts } = meetHosts(scene.hosts, scene.runs, settings.find.shaftFromMm);
  const open = scene.openings.map((opening, n) =>
    scene.classes[n]?.takesPart === true || scene.classes[n]?.swallows === true ? opening : null,
  );
  const together = associate(crossings, open, scene.runs, settings);
  const { groups, swallowed } = groupHoles(scene, crossings, together);
  const parts = { scene, crossings, carried: together.carried, whereOf: whereFinder(building) };
  const built = groups
    .map((group) => buildPenetration(parts, group))
    .filter((one): one is BuiltPenetration => one !== null);
  const penetrations = sortedBy(withOwnIds(built, crossings, scene), ({ id }) => id);
  const levelsMm = [...new Set(building.storeys.map(({ elevationMm }) => elevationMm))];
  const others = crossOthers(scene);
  const ledger = makeLedger({ scene, crossings, contacts, swallowed, penetrations, others });
  const queries = [
    ...penetrations.flatMap((penetration) => penetrationQueries(penetration, levelsMm, settings)),
    ...contactQueries(scene, contacts, penetrations),
    ...shapelessQueries(scene),
    ...openingQueries(scene),
    ...otherClassQueries(scene),
    ...otherCrossingQueries(scene, others),
    ...largeHoleQueries(scene, crossings),
  ];
  return {
    result: { penetrations, ledger },
    queries: sortedBy(queries, ({ id }) => id),
  };
}

/** Counts several penetrations of one service in one host along the service. */
function withOwnIds(
  built: readonly BuiltPenetration[],
  crossings: readonly HostCrossing[],
  scene: Scene,
): readonly Penetration[] {
  const byId = new Map<string, BuiltPenetration[]>();
  for (const one of built) {
    const same = byId.get(one.penetration.id);
    if (same === undefined) byId.set(one.penetration.id, [one]);
    else same.push(one);
  }
  return [...byId].flatMap(([id, same]) => {
    if (same.length === 1) return same.map(({ penetration }) => penetration);
    const ordered = [...same].sort(
      (a, b) =>
        alongRun(a, crossings, scene) - alongRun(b, crossings, scene) ||
        byPlace(a.penetration.frame.originMm, b.penetration.frame.originMm),
    );
    return ordered.map(({ penetration }, n) => ({
      ...penetration,
      id: id.replace(/\/0$/, `/${n}`),
    }));
  });
}

/** From below up, then from south to north, then from west to east. */
function byPlace(a: Vec3, b: Vec3): number {
  const [x, y, z] = sub3(a, b);
  return Math.abs(z) > 0.5 ? z : Math.abs(y) > 0.5 ? y : x;
}

/** How far along its service the first crossing lies, mm. */
function alongRun(
  { group }: BuiltPenetration,
  crossings: readonly HostCrossing[],
  scene: Scene,
): number {
  const crossing = crossings[group.runs[0]?.[0] ?? -1];
  const path = scene.runs.paths[crossing?.services[0] ?? -1];
  const start = path?.pieces[0]?.from;
  return crossing === undefined || start === undefined
    ? 0
    : distance3(start, crossing.entry.pointMm);
}

const CONTACT_CODES = {
  endsInside: 'service-ends-inside',
  within: 'service-within-host',
  byEdge: 'service-leaves-by-edge',
  partly: 'service-leaves-by-edge',
  sameSide: 'service-leaves-by-edge',
} as const;

function contactQueries(
  scene: Scene,
  contacts: readonly Contact[],
  penetrations: readonly Penetration[],
): readonly Query[] {
  const asked = new Set(contacts.map((contact) => scene.runs.paths[contact.service]?.service.id));
  const through = new Set(
    penetrations.flatMap(({ hosts, crossings }) =>
      crossings.flatMap(({ serviceIds }) =>
        serviceIds
          .filter((service) => asked.has(service))
          .flatMap((service) => hosts.map((host) => `${service} ${host.id}`)),
      ),
    ),
  );
  return contacts.flatMap((contact) => {
    const service = scene.runs.paths[contact.service]?.service;
    const host = scene.hosts[contact.host]?.host;
    if (contact.kind === 'touches' || service === undefined || host === undefined) return [];
    if (through.has(`${service.id} ${host.id}`)) return [];
    const what = {
      endsInside: 'ends inside',
      within: 'lies within',
      byEdge: 'enters or leaves by an edge of',
      partly: 'goes through with a part of its body only, its centre line beside,',
      sameSide: 'leaves by the side it came in by,',
    }[contact.kind];
    return [
      makeQuery(CONTACT_CODES[contact.kind], {
        about: `${service.id}/${host.id}`,
        text: `${service.ifcClass} "${service.name}" ${what} ${host.ifcClass} "${host.name}".`,
        why: 'It may be a penetration that is not modelled to its end.',
        settles: 'How the service goes on.',
        evidence: service.evidence,
      }),
    ];
  });
}

/** Bodies that were read and are flat. Elements without any body were asked about on reading. */
function shapelessQueries(scene: Scene): readonly Query[] {
  const services = scene.runs.paths.flatMap(({ service, pieces }) =>
    pieces.length === 0 && service.mesh !== null ? [service] : [],
  );
  return [
    ...services.map((service) =>
      shapelessQuery(service, service.evidence, 'extent; where it passes is unknown'),
    ),
    ...scene.bodiless.map((host) =>
      shapelessQuery(host, hostEvidence(host), 'thickness; nothing can be found in it'),
    ),
  ];
}

const hostEvidence = ({ ref }: Host): readonly Evidence[] => [
  {
    fact: 'geometry',
    text: 'Read from the records.',
    place: { fileKey: ref.fileKey, id: ref.id },
  },
];

function shapelessQuery(
  { id, ifcClass, name }: { readonly id: string; readonly ifcClass: string; readonly name: string },
  evidence: readonly Evidence[],
  lacks: string,
): Query {
  return makeQuery('element-without-geometry', {
    about: id,
    text: `${ifcClass} "${name}" has a body without ${lacks}.`,
    why: 'A penetration would be missed.',
    settles: 'Export the element with a solid body.',
    evidence,
  });
}

function openingQueries(scene: Scene): readonly Query[] {
  return scene.openings.flatMap((opening, n) => {
    if (opening === null || n >= scene.building.openings.length) return [];
    const { id, name, ifcClass, evidence, kind, hostIds } = opening.opening;
    const outcome = scene.classes[n]?.outcome;
    if (outcome === 'inPenetration' && kind === 'opening' && hostIds.length === 0) {
      return [
        makeQuery('opening-without-host', {
          about: id,
          text: `${ifcClass} "${name}" is not joined to a host; it was put to the one it lies in.`,
          why: 'Without the relation it cuts nothing in the model.',
          settles: 'The relation to its host, or that the opening is still to be cut.',
          evidence,
          severity: 'note',
        }),
      ];
    }
    if (outcome !== 'noHost') return [];
    return [
      makeQuery('opening-without-host', {
        about: id,
        text: `${ifcClass} "${name}" lies in no host.`,
        why: 'Its host may be missing from the models, or it is out of place.',
        settles: 'The host it belongs to, or that it is to be dropped.',
        evidence,
      }),
    ];
  });
}

/** Classes that may separate spaces, though by themselves they count as no hosts. */
const MAY_SEPARATE =
  /^Ifc(Plate|Covering|CurtainWall|BuildingElementProxy|Member|PlateStandardCase)$/;

/** Openings in elements of other classes, one question a class: whether those are hosts is not ours to say. */
function otherClassQueries(scene: Scene): readonly Query[] {
  const holed = scene.building.openings.flatMap((opening, n) => {
    if (scene.classes[n]?.outcome !== 'excluded') return [];
    const name = opening.voidedClasses?.find((each) => MAY_SEPARATE.test(each));
    return name === undefined ? [] : [{ name, opening }];
  });
  return [...groupBy(holed, ({ name }) => name)].map(([name, group]) =>
    makeQuery('opening-without-host', {
      about: `class/${name}`,
      text: `${group.length === 1 ? 'An opening is' : `${group.length} openings are`} cut into ${name} elements, which count as no hosts: nothing was sealed there.`,
      why: 'Where such an element separates two spaces, its holes must be closed as well.',
      settles: `hosts.classes: [${name}] in the project file, or word that these elements separate nothing.`,
      evidence: group.slice(0, 5).flatMap(({ opening }) => opening.evidence),
    }),
  );
}
