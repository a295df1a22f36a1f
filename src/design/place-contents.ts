import { compareText } from '../basics/order.ts';
import { mentionsIn, referenceKey } from '../basics/reference-key.ts';
import type { Cable, CableMatch } from '../model/cable.ts';
import type { Crossing, Penetration } from '../model/penetration.ts';

/** A scheduled cable in this penetration, and the modelled line it is, where there is one. */
interface PlacedCable {
  readonly cable: Cable;
  /** The cable's own line in the model or drawing. */
  readonly line: Crossing | null;
  /** The tray, ladder, trunking, conduit, duct or pipe it lies in; null when it lies bare. */
  readonly carrier: Crossing | null;
}

/** A run in this penetration that is not a scheduled cable. */
interface PlacedRun {
  readonly run: Crossing;
  readonly carrier: Crossing | null;
}

/** Who lies where in one penetration, before leak paths are told apart. */
export interface Contents {
  readonly cables: readonly PlacedCable[];
  readonly runs: readonly PlacedRun[];
  /** Cables known to pass here, but through which of several hollow bodies is not known. */
  readonly unplaced: readonly Cable[];
}

/** Whether a body is closed all round, so that what it carries passes a bore. */
export function isHollow(crossing: Crossing): boolean {
  return crossing.kind === 'carrier'
    ? crossing.carrierForm === 'trunking'
    : crossing.kind === 'conduit' || crossing.kind === 'duct' || crossing.kind === 'pipe';
}

/** Whether a body is there for cables, so that it has a bore to close even without a known cable. */
export function isForCables(crossing: Crossing): boolean {
  return crossing.kind === 'conduit' || crossing.carrierForm === 'trunking';
}

/**
 * Tells for every cable and run of a penetration what it lies in. A cable matched to its own line
 * replaces that line, so that nothing counts twice. A cable of unknown carrier lies in the only
 * conduit or trunking when nothing but that one crosses, else bare in the opening; with several
 * conduits and no tray it is unplaced. Cables that are to be removed are left out.
 */
export function placeContents(
  penetration: Penetration,
  cablesHere: readonly { readonly cable: Cable; readonly match: CableMatch }[],
): Contents {
  const byId = new Map(penetration.crossings.map((crossing) => [crossing.id, crossing]));
  const carrierOf = (crossing: Crossing) => carrierIn(byId, crossing);
  const claimed = new Set<string>();
  const cables: PlacedCable[] = [];
  const unplaced: Cable[] = [];

  for (const { cable, match } of inOrder(cablesHere)) {
    if (cable.status === 'to be removed') continue;
    const at = match.crossingId === null ? undefined : byId.get(match.crossingId);
    const lines = ownLines(cable, penetration.crossings, claimed);
    const line = at?.kind === 'cable' ? at : (lines[0] ?? null);
    for (const own of line === null ? lines : [line, ...lines]) claimed.add(own.id);
    if (at !== undefined && at.kind !== 'cable') cables.push({ cable, line, carrier: at });
    else if (line !== null) cables.push({ cable, line, carrier: carrierOf(line) });
    else {
      const guess = onlyPlace(penetration.crossings);
      if (guess === 'several') unplaced.push(cable);
      else cables.push({ cable, line: null, carrier: guess });
    }
  }
  const runs = penetration.crossings
    .filter(({ id }) => !claimed.has(id))
    .map((run) => ({ run, carrier: carrierOf(run) }));
  return { cables, runs, unplaced };
}

/** What carries a crossing; null for bare ones and for those that would carry themselves. */
function carrierIn(byId: ReadonlyMap<string, Crossing>, crossing: Crossing): Crossing | null {
  const direct = crossing.carriedBy === null ? undefined : byId.get(crossing.carriedBy);
  const seen = new Set([crossing.id]);
  for (let next = direct; next !== undefined; next = byId.get(next.carriedBy ?? '')) {
    if (next.id === crossing.id) return null;
    if (seen.has(next.id)) break;
    seen.add(next.id);
  }
  return direct ?? null;
}

function inOrder<T extends { readonly cable: Cable }>(items: readonly T[]): T[] {
  return [...items].sort((a, b) => compareText(a.cable.id, b.cable.id));
}

/**
 * The modelled lines that name the cable, whole or among other words ("Cable FA-01"), and that no
 * other cable has claimed: as many as it has bodies.
 */
function ownLines(
  cable: Cable,
  crossings: readonly Crossing[],
  claimed: ReadonlySet<string>,
): Crossing[] {
  const key = referenceKey(cable.ref);
  if (key === '') return [];
  return crossings
    .filter(
      ({ id, kind, references }) =>
        kind === 'cable' &&
        !claimed.has(id) &&
        references.some(({ text }) => mentionsIn(text).some((mention) => mention.key === key)),
    )
    .slice(0, cable.bodies);
}

function onlyPlace(crossings: readonly Crossing[]): Crossing | null | 'several' {
  const hollow = crossings.filter((crossing) => isForCables(crossing));
  const [only] = hollow;
  if (only === undefined) return null;
  const hasOpenPlace = crossings.some(
    (crossing) => !isHollow(crossing) && crossing.carriedBy === null,
  );
  if (hasOpenPlace) return null;
  return hollow.length === 1 ? only : 'several';
}
