import type {
  HostDim,
  OpeningDim,
  RunDim,
  SectionDim,
  ServiceForm,
  ShapeDim,
  V3,
} from '../dimensions/types.ts';
import { type AxisInHost, axisInHosts, between, distanceToHost } from './crossings.ts';
import { openingSweep } from './host-frame.ts';
import { pieceName } from './ifc-runs.ts';
import { globalIdOf } from './step-writer.ts';

/**
 * What a sample holds, worked out from its dimensions alone and never by the product.
 * Frame: millimetres, x east, y north, z up.
 */
export interface Truth {
  readonly penetrations: readonly TruePenetration[];
  readonly services: readonly TrueElement[];
  readonly openings: readonly TrueElement[];
  readonly cables: readonly TrueCable[];
  readonly queries: readonly TrueQuery[];
  readonly drawings: readonly TrueDrawing[];
}

interface ElementInFile {
  readonly file: string;
  readonly id: string;
  readonly mark: string;
}

export interface TruePenetration {
  readonly name: string;
  readonly kind: 'opening' | 'provision' | 'unopened';
  readonly centreMm: V3;
  readonly toleranceMm: number;
  readonly axis: V3;
  readonly hosts: readonly (ElementInFile & {
    readonly thicknessMm: number;
    readonly fireRating: string | null;
  })[];
  readonly openings: readonly ElementInFile[];
  readonly services: readonly {
    readonly file: string;
    readonly ref: string;
    readonly ids: readonly string[];
    readonly kind: 'cable' | 'conduit' | 'duct' | 'carrier' | 'pipe';
    readonly sizeMm: readonly number[];
    /** Round bodies that the schedule lays in its bore; null for what is no conduit. */
    readonly bodiesInBore: number | null;
  }[];
  readonly shape: ShapeDim | null;
  /** Round bodies in the hole where nothing but cables passes: each cable once; else null. */
  readonly bareBodies: number | null;
  /** Cables that must be listed. */
  readonly cables: readonly string[];
  /** Cables that may be listed. */
  readonly cablesAllowed: readonly string[];
}

interface TrueElement {
  readonly file: string;
  readonly id: string;
  readonly name: string;
  readonly outcome: string;
}

interface TrueCable {
  readonly ref: string;
  readonly file: string;
  readonly sheet: string | null;
  readonly row: number;
  readonly outcome: 'matched' | 'queried' | 'noPenetration' | 'any';
  readonly why: string | null;
  /** Names of penetrations it passes. */
  readonly penetrations: readonly string[];
  readonly diameterMm: number | null;
  readonly bodies: number;
}

/** A question that has to be asked: one of the codes, about one thing. */
export interface TrueQuery {
  readonly codes: readonly string[];
  readonly penetration: string | null;
  /** Texts of which a query must hold one: a GlobalId, a mark, a cable's reference. */
  readonly about: readonly string[];
}

export interface TrueDrawing {
  readonly file: string;
  /** Entities on layers of services, by layer; frozen layers apart. */
  readonly services: Readonly<Record<string, number>>;
  readonly hidden: Readonly<Record<string, number>>;
}

export interface TrueModel {
  readonly architectureFile: string;
  readonly servicesFile: string;
  readonly hosts: readonly HostDim[];
  readonly openings: readonly OpeningDim[];
  readonly runs: readonly RunDim[];
}

export interface ScheduledCable {
  readonly ref: string;
  readonly file: string;
  readonly sheet: string | null;
  readonly row: number;
  /** References of the route, as the models write them. */
  readonly route: readonly string[];
  readonly outcome: TrueCable['outcome'];
  readonly why: string | null;
  readonly mustAsk: string | null;
  readonly diameterMm: number | null;
  readonly bodies: number;
}

const KINDS: Record<ServiceForm, 'cable' | 'conduit' | 'duct' | 'carrier' | 'pipe'> = {
  tray: 'carrier',
  ladder: 'carrier',
  trunking: 'carrier',
  conduit: 'conduit',
  cable: 'cable',
  duct: 'duct',
  pipe: 'pipe',
};

/** Puts the truth together, after checking that the dimensions do not contradict themselves. */
export function truthOf(
  models: readonly TrueModel[],
  scheduled: readonly ScheduledCable[],
  drawings: readonly TrueDrawing[],
): Truth {
  for (const model of models) checkDimensions(model);
  const bare = models.flatMap(penetrationsOf);
  const cables = scheduled.map((cable): TrueCable => {
    const { route, mustAsk: _, ...rest } = cable;
    const passed = bare.filter((penetration) => route.some((ref) => refersTo(penetration, ref)));
    return {
      ...rest,
      penetrations: cable.outcome === 'queried' ? [] : passed.map(({ name }) => name),
    };
  });
  return {
    penetrations: bare.map((penetration) => ({
      ...penetration,
      services: penetration.services.map((service) => ({
        ...service,
        bodiesInBore: service.kind === 'conduit' ? bodiesOn(service.ref, scheduled) : null,
      })),
      bareBodies: bareBodiesIn(penetration, scheduled),
      cables: refsThrough(cables, penetration.name, (cable) => cable.outcome === 'matched'),
      cablesAllowed: refsThrough(cables, penetration.name, (cable) => cable.outcome === 'any'),
    })),
    services: models.flatMap(servicesOf),
    openings: models.flatMap(openingsOf),
    cables,
    queries: asked([...models.flatMap(queriesOf), ...scheduled.flatMap(cableQueries)], cables),
    drawings,
  };
}

function bodiesOn(ref: string, scheduled: readonly ScheduledCable[]): number {
  return scheduled
    .filter((cable) => cable.outcome === 'matched' && cable.route.includes(ref))
    .reduce((sum, cable) => sum + cable.bodies, 0);
}

/** A cable that is modelled and in the schedule as well is one cable. */
function bareBodiesIn(
  penetration: TruePenetration,
  scheduled: readonly ScheduledCable[],
): number | null {
  const [opening] = penetration.openings;
  const isBare = penetration.services.every((service) => service.kind === 'cable');
  return isBare && opening !== undefined ? bodiesOn(opening.mark, scheduled) : null;
}

/** Each question once; an opening that cables are routed through is not without service. */
function asked(queries: readonly TrueQuery[], cables: readonly TrueCable[]): readonly TrueQuery[] {
  const routed = new Set(cables.flatMap((cable) => cable.penetrations));
  const seen = new Map<string, TrueQuery>();
  for (const query of queries) {
    const isUsed = query.penetration !== null && routed.has(query.penetration);
    if (query.codes.includes('opening-without-service') && isUsed) continue;
    seen.set(JSON.stringify(query), query);
  }
  return [...seen.values()];
}

function refsThrough(
  cables: readonly TrueCable[],
  penetration: string,
  isMeant: (cable: TrueCable) => boolean,
): readonly string[] {
  const refs = cables
    .filter((cable) => isMeant(cable) && cable.penetrations.includes(penetration))
    .map(({ ref }) => ref);
  return [...new Set(refs)].sort();
}

function refersTo(penetration: TruePenetration, ref: string): boolean {
  return (
    penetration.services.some((service) => service.ref === ref) ||
    penetration.openings.some((opening) => opening.mark === ref)
  );
}

function hostIn(model: TrueModel, mark: string): HostDim {
  const host = model.hosts.find((candidate) => candidate.mark === mark);
  if (host === undefined) throw new Error(`No host ${mark}.`);
  return host;
}

function runIn(model: TrueModel, ref: string): RunDim {
  const run = model.runs.find((candidate) => candidate.ref === ref);
  if (run === undefined) throw new Error(`No run ${ref}.`);
  return run;
}

const thicknessOf = (host: HostDim): number =>
  host.form === 'slab' ? host.heightMm : host.thicknessMm;

const sizeOf = (section: SectionDim): readonly number[] =>
  section.type === 'circle' ? [section.diameterMm] : [section.widthMm, section.heightMm];

function hostEntry(model: TrueModel, host: HostDim): TruePenetration['hosts'][number] {
  return {
    file: model.architectureFile,
    id: globalIdOf(model.architectureFile, host.mark),
    mark: host.mark,
    thicknessMm: thicknessOf(host),
    fireRating: host.fireRating,
  };
}

function openingEntry(model: TrueModel, opening: OpeningDim): ElementInFile {
  return {
    file: model.architectureFile,
    id: globalIdOf(model.architectureFile, opening.mark),
    mark: opening.mark,
  };
}

function serviceEntries(
  model: TrueModel,
  refs: readonly string[],
  hosts: readonly HostDim[],
): TruePenetration['services'] {
  return refs.flatMap((ref) => {
    const run = runIn(model, ref);
    const groups = new Map<string, Set<string>>();
    for (const stay of axisInHosts(run, hosts)) {
      if (stay.kind !== 'through') continue;
      const ids = stay.pieces.map((piece) => globalIdOf(model.servicesFile, pieceName(run, piece)));
      const key = ids.join();
      groups.set(key, new Set([...(groups.get(key) ?? []), ...ids]));
    }
    return [...groups.values()].map((ids) => ({
      file: model.servicesFile,
      ref,
      ids: [...ids].sort(),
      kind: KINDS[run.form],
      sizeMm: sizeOf(run.section),
      bodiesInBore: null,
    }));
  });
}

function penetrationsOf(model: TrueModel): readonly TruePenetration[] {
  const inPenetration = model.openings.filter((opening) => opening.outcome === 'inPenetration');
  const joined = new Set<string>();
  const opened = inPenetration.flatMap((opening): readonly TruePenetration[] => {
    if (joined.has(opening.mark)) return [];
    // The other leaf of a double wall has an opening of its own at the same place.
    const leaf = inPenetration.find(
      (other) =>
        other !== opening &&
        other.serves.length > 0 &&
        other.serves.join() === opening.serves.join() &&
        isOtherLeaf(hostIn(model, opening.host), hostIn(model, other.host)),
    );
    if (leaf !== undefined) joined.add(leaf.mark);
    return [openedPenetration(model, leaf === undefined ? [opening] : [opening, leaf])];
  });
  const unopened = model.runs.flatMap((run) =>
    axisInHosts(run, model.hosts)
      .filter((stay) => stay.kind === 'through' && run.unopenedIn.includes(stay.host.mark))
      .map((stay) => unopenedPenetration(model, run, stay)),
  );
  return [...opened, ...unopened];
}

function isOtherLeaf(a: HostDim, b: HostDim): boolean {
  return a.form === 'straight' && b.form === 'straight' && leafGapMm(a, b) <= 100;
}

function leafGapMm(
  a: Extract<HostDim, { readonly form: 'straight' }>,
  b: Extract<HostDim, { readonly form: 'straight' }>,
): number {
  const parallel =
    (a.to[0] - a.from[0]) * (b.to[1] - b.from[1]) - (a.to[1] - a.from[1]) * (b.to[0] - b.from[0]);
  if (Math.abs(parallel) > 1) return Number.POSITIVE_INFINITY;
  const length = Math.hypot(a.to[0] - a.from[0], a.to[1] - a.from[1]);
  const apart = Math.abs(
    ((b.from[0] - a.from[0]) * (a.to[1] - a.from[1]) -
      (b.from[1] - a.from[1]) * (a.to[0] - a.from[0])) /
      length,
  );
  return apart - (a.thicknessMm + b.thicknessMm) / 2;
}

function openedPenetration(model: TrueModel, openings: readonly OpeningDim[]): TruePenetration {
  const [first] = openings;
  if (first === undefined) throw new Error('A penetration needs an opening.');
  const hosts = openings.flatMap((opening) => [
    hostIn(model, opening.host),
    ...(opening.alsoThrough === undefined ? [] : [hostIn(model, opening.alsoThrough)]),
  ]);
  const host = hostIn(model, first.host);
  const sweep = openingSweep({ ...first, overshootMm: 0 }, host);
  return {
    name: first.mark,
    kind: first.declared === 'PROVISION' ? 'provision' : 'opening',
    centreMm: assemblyCentre(first.at, sweep.axis, hosts),
    // A ring's faces are curved: where its middle lies depends on where one measures.
    toleranceMm: host.form === 'ring' ? 60 : 5,
    axis: sweep.axis,
    hosts: hosts.map((each) => hostEntry(model, each)),
    openings: openings.map((opening) => openingEntry(model, opening)),
    services: serviceEntries(model, first.serves, hosts),
    shape: first.shape,
    bareBodies: null,
    cables: [],
    cablesAllowed: [],
  };
}

/** Midway through all leaves, along the axis from `at`. */
function assemblyCentre(at: V3, axis: V3, hosts: readonly HostDim[]): V3 {
  const [host] = hosts;
  if (host === undefined || host.form !== 'straight') return at;
  const spans = hosts.flatMap((each) => {
    if (each.form !== 'straight') return [];
    const apart = (each.from[0] - at[0]) * axis[0] + (each.from[1] - at[1]) * axis[1];
    return [apart - each.thicknessMm / 2, apart + each.thicknessMm / 2];
  });
  const middle = (Math.min(...spans) + Math.max(...spans)) / 2;
  const isOneLeaf = hosts.length === 1;
  const shift = isOneLeaf ? 0 : middle;
  return [at[0] + axis[0] * shift, at[1] + axis[1] * shift, at[2] + axis[2] * shift];
}

function unopenedPenetration(model: TrueModel, run: RunDim, stay: AxisInHost): TruePenetration {
  const length = Math.hypot(
    stay.exit[0] - stay.entry[0],
    stay.exit[1] - stay.entry[1],
    stay.exit[2] - stay.entry[2],
  );
  return {
    name: `${run.ref} in ${stay.host.mark}`,
    kind: 'unopened',
    centreMm: between(stay.entry, stay.exit, 0.5),
    toleranceMm: 5,
    axis: [
      (stay.exit[0] - stay.entry[0]) / length,
      (stay.exit[1] - stay.entry[1]) / length,
      (stay.exit[2] - stay.entry[2]) / length,
    ],
    hosts: [hostEntry(model, stay.host)],
    openings: [],
    services: serviceEntries(model, [run.ref], [stay.host]),
    shape: null,
    bareBodies: null,
    cables: [],
    cablesAllowed: [],
  };
}

function servicesOf(model: TrueModel): readonly TrueElement[] {
  return model.runs.flatMap((run) =>
    run.pieces.map((piece) => ({
      file: model.servicesFile,
      id: globalIdOf(model.servicesFile, pieceName(run, piece)),
      name: pieceName(run, piece),
      outcome: piece.outcome,
    })),
  );
}

function openingsOf(model: TrueModel): readonly TrueElement[] {
  return model.openings.map((opening) => ({
    file: model.architectureFile,
    id: globalIdOf(model.architectureFile, opening.mark),
    name: opening.mark,
    outcome: opening.outcome,
  }));
}

function queriesOf(model: TrueModel): readonly TrueQuery[] {
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

function cableQueries(cable: ScheduledCable): readonly TrueQuery[] {
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

/** Throws where what is declared of a run is not what its dimensions give. */
function checkDimensions(model: TrueModel): void {
  for (const run of model.runs) {
    const stays = axisInHosts(run, model.hosts);
    const declared = [
      ...model.openings
        .filter((opening) => opening.serves.includes(run.ref))
        .flatMap((opening) => [opening.host, opening.alsoThrough ?? opening.host]),
      ...run.unopenedIn,
    ];
    const found = stays.filter((stay) => stay.kind === 'through').map((stay) => stay.host.mark);
    const [said, seen] = [declared, found].map((marks) => [...new Set(marks)].sort().join());
    if (said !== seen) throw new Error(`${run.ref}: declared through ${said}, found ${seen}.`);
    for (const piece of run.pieces) {
      const kinds = stays.filter((stay) => stay.pieces.includes(piece)).map((stay) => stay.kind);
      const outcome = (['through', 'endsInside', 'within'] as const).find((kind) =>
        kinds.includes(kind),
      );
      const expected =
        run.withoutBody === true ? 'noGeometry' : (outcome ?? apart(run, piece, model));
      if (expected !== piece.outcome) {
        throw new Error(`${run.ref} ${piece.key}: declared ${piece.outcome}, found ${expected}.`);
      }
    }
  }
}

/** Nothing may come near a host by chance: either it touches, or it keeps 20 mm away. */
function apart(
  run: RunDim,
  piece: RunDim['pieces'][number],
  model: TrueModel,
): 'touches' | 'clear' {
  const reach = Math.min(...sizeOf(run.section)) / 2;
  const widest = Math.max(...sizeOf(run.section)) / 2;
  let nearest = Number.POSITIVE_INFINITY;
  for (let step = 0; step <= 200; step += 1) {
    const point = between(piece.from, piece.to, step / 200);
    for (const host of model.hosts) nearest = Math.min(nearest, distanceToHost(point, host));
  }
  if (Math.abs(nearest - reach) < 1e-6) return 'touches';
  if (nearest > widest + 20) return 'clear';
  throw new Error(
    `${run.ref} ${piece.key} lies ${nearest} mm from a host: neither clear nor touching.`,
  );
}
