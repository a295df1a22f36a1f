import type { Query } from '../../../src/basics/query.ts';
import { findInModels } from '../../../src/find/models/find-in-models.ts';
import type { Building } from '../../../src/model/building.ts';
import type { Findings, Penetration } from '../../../src/model/penetration.ts';
import { Settings } from '../../../src/model/settings.ts';
import { readIfc } from '../../../src/read/ifc/read-ifc.ts';
import type { IfcMaker, Made } from './ifc-maker.ts';

export interface Found {
  readonly building: Building;
  readonly findings: Findings;
  readonly queries: readonly Query[];
}

/** Reads a made model and finds in it. */
export async function findIn(maker: IfcMaker, settings: unknown = {}): Promise<Found> {
  return findInBytes(maker.toBytes(), settings);
}

export async function findInBytes(bytes: Uint8Array, settings: unknown = {}): Promise<Found> {
  const parsed = Settings.parse(settings);
  const read = await readIfc({ key: 'm', name: 'made.ifc', bytes }, parsed);
  const found = findInModels(read.result.building, parsed);
  return {
    building: read.result.building,
    findings: found.result,
    queries: [...read.queries, ...found.queries],
  };
}

/** A penetration in few words, with GlobalIds only, for comparing with a known truth. */
export function brief(penetration: Penetration): {
  kind: string;
  hosts: readonly string[];
  openings: readonly string[];
  services: readonly (readonly string[])[];
} {
  return {
    kind: penetration.kind,
    hosts: penetration.hosts.map(({ ref }) => ref.id).sort(),
    openings: penetration.openings.map(({ ref }) => ref.id).sort(),
    services: penetration.crossings.map(({ refs }) => refs.map(({ id }) => id).sort()).sort(),
  };
}

/** All penetrations in few words, in an order of their own. */
export function briefs(found: Pick<Found, 'findings'>) {
  return sortedBriefs(found.findings.penetrations.map(brief));
}

/** The truth to compare `briefs` with, in the same order. */
export function sortedBriefs<T>(items: readonly T[]): readonly T[] {
  return [...items].sort((a, b) => JSON.stringify(a).localeCompare(JSON.stringify(b), 'en'));
}

export function guids(...made: readonly Made[]): string[] {
  return made.map(({ guid }) => guid).sort();
}

/** Codes of the queries raised, each once. */
export function codes(found: Pick<Found, 'queries'>): readonly string[] {
  return [...new Set(found.queries.map(({ code }) => code))].sort();
}

/** Outcome of an element by its GlobalId. */
export function outcomeOf(found: Found, guid: string): string | undefined {
  const { services, openings } = found.findings.ledger;
  return [...services, ...openings].find(({ ref }) => ref.id === guid)?.outcome;
}
