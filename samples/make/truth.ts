import type { HostDim, OpeningDim, RunDim, ServiceForm, V3 } from '../dimensions/types.ts';
import { checkDimensions } from './check-dimensions.ts';
import { type AxisInHost, axisInHosts, between } from './crossings.ts';
import { openingSweep } from './host-frame.ts';
import { pieceName } from './ifc-runs.ts';
import { globalIdOf } from './step-writer.ts';
import {
  type ElementInFile,
  hostIn,
  runIn,
  type ScheduledCable,
  sizeOf,
  type TrueCable,
  type TrueDrawing,
  type TrueElement,
  type TrueModel,
  type TruePenetration,
  type TrueQuery,
  type Truth,
} from './truth-model.ts';
import { cableQueries, queriesOf } from './truth-queries.ts';

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

const thicknessOf = (host: HostDim): number =>
  host.form === 'slab' ? host.heightMm : host.thicknessMm;

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
