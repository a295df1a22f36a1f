import { compareText } from '../../basics/order.ts';
import type { Query } from '../../basics/query.ts';
import type { Mesh } from '../../model/building.ts';
import type { ElementRef } from '../../model/ids.ts';
import type { Settings } from '../../model/settings.ts';
import type { Classes } from './classes.ts';
import { type ElementFacts, elementFacts } from './element-facts.ts';
import { type PlacedFrame, placementReader } from './placements.ts';
import type { ModelRecords } from './records.ts';
import type { Relations } from './relations.ts';
import type { ModelUnits } from './units.ts';
import { refOf, textOf } from './values.ts';

/** Everything the parts of reading share while one model is read. */
export interface Reading {
  readonly fileKey: string;
  readonly step: ModelRecords;
  readonly relations: Relations;
  readonly units: ModelUnits;
  readonly classes: Classes;
  readonly settings: Settings;
  readonly meshes: Map<number, Mesh>;
  readonly queries: Query[];
  placementOf(id: number): PlacedFrame;
  factsOf(id: number): ElementFacts;
  /** Stable key of an element within its file: its GlobalId, with a tie-break where that repeats. */
  keyOf(id: number): string;
  storeyIdOf(id: number): string | null;
  /** Record number of the product definition shape. */
  shapeOf(id: number): number | null;
}

export interface ReadingParts {
  readonly fileKey: string;
  readonly step: ModelRecords;
  readonly relations: Relations;
  readonly units: ModelUnits;
  readonly classes: Classes;
  readonly settings: Settings;
  readonly keys: ReadonlyMap<number, string>;
}

/** Starts the reading of one model. */
export function startReading(parts: ReadingParts): Reading {
  const { step, relations } = parts;
  const frames = placementReader(step);
  const facts = new Map<number, ElementFacts>();
  const reading: Reading = {
    ...parts,
    meshes: new Map(),
    queries: [],
    placementOf: (id) => frames(refOf(step.attributes(id)[5])),
    factsOf(id) {
      const known = facts.get(id);
      if (known !== undefined) return known;
      const made = elementFacts(step, relations, id);
      facts.set(id, made);
      return made;
    },
    keyOf: (id) => parts.keys.get(id) ?? reading.factsOf(id).globalId,
    storeyIdOf(id) {
      const storey = storeyOf(step, relations, id);
      return storey === null ? null : `${parts.fileKey}:${reading.keyOf(storey)}`;
    },
    shapeOf(id) {
      const shape = refOf(step.attributes(id)[6]);
      return shape !== null && step.has(shape) ? shape : null;
    },
  };
  return reading;
}

/** Reference of an element in the whole project. */
export function refFor(reading: Reading, id: number): ElementRef {
  return { fileKey: reading.fileKey, id: reading.keyOf(id) };
}

/** The storey an element belongs to, up through spaces, wholes and hosts. */
function storeyOf(step: ModelRecords, relations: Relations, id: number): number | null {
  let at: number | undefined = id;
  for (let steps = 0; steps < 20 && at !== undefined; steps += 1) {
    if (step.typeOf(at) === 'IFCBUILDINGSTOREY') return at;
    at =
      relations.containerOf.get(at) ??
      relations.wholeOf.get(at) ??
      relations.hostsOfOpening.get(at)?.[0];
  }
  return null;
}

/** Names of groups (systems, zones), each once, in order; those without a name are left out. */
export function groupNames({ step }: Reading, groups: readonly number[]): readonly string[] {
  const names = groups.map((group) => textOf(step.attributes(group)[2]) ?? '');
  return [...new Set(names.filter((name) => name !== ''))].sort(compareText);
}
