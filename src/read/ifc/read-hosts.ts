import { makeQuery } from '../../basics/query.ts';
import { isUsableMesh } from '../../geometry/mesh-box.ts';
import { joinMeshes } from '../../geometry/mesh-join.ts';
import type { Host, HostKind } from '../../model/building.ts';
import { elementId } from '../../model/ids.ts';
import { className } from './class-names.ts';
import { materialOf, propertyFlag, propertyText } from './element-facts.ts';
import { type Reading, refFor } from './reading.ts';

const DEEPEST_PARTS = 6;
const MOST_PARTS = 2000;

/** A host's records: itself, or the parts that make it up where it has no body of its own. */
export interface HostRecords {
  readonly id: number;
  readonly kind: HostKind;
  readonly own: number | null;
  /** Parts with a body, for an elemented host that has none of its own. */
  readonly parts: readonly number[];
  /** A roof made of slabs, say, which are hosts themselves. */
  readonly isOnlyAFrame: boolean;
}

/** Hosts with the records that hold their geometry. */
export function hostRecords(reading: Reading): readonly HostRecords[] {
  const { step, classes, relations } = reading;
  const hosts: HostRecords[] = [];
  for (const [type, kind] of classes.hosts) {
    for (const id of step.idsOf(type)) {
      const parts = allParts(relations.partsOf, id);
      const bodies = parts.filter(
        (part) => !classes.hosts.has(step.typeOf(part)) && reading.shapeOf(part) !== null,
      );
      const hasOwn = reading.shapeOf(id) !== null;
      const isOnlyAFrame =
        !hasOwn &&
        bodies.length === 0 &&
        parts.some((part) => classes.hosts.has(step.typeOf(part)));
      hosts.push({ id, kind, own: hasOwn ? id : null, parts: bodies, isOnlyAFrame });
    }
  }
  return hosts;
}

function allParts(partsOf: ReadonlyMap<number, readonly number[]>, id: number): readonly number[] {
  const found: number[] = [];
  let level: readonly number[] = [id];
  for (let depth = 0; depth < DEEPEST_PARTS && level.length > 0; depth += 1) {
    level = level.flatMap((whole) => partsOf.get(whole) ?? []).filter((p) => !found.includes(p));
    found.push(...level.slice(0, MOST_PARTS - found.length));
  }
  return found;
}

/** The host that a record voids: itself, or the whole that it is part of. */
export function hostOfRecord(
  reading: Reading,
  hosts: ReadonlyMap<number, HostRecords>,
  record: number,
): number | null {
  let at: number | undefined = record;
  for (let steps = 0; steps < DEEPEST_PARTS && at !== undefined; steps += 1) {
    const host = hosts.get(at);
    if (host !== undefined && !host.isOnlyAFrame) return at;
    at = reading.relations.wholeOf.get(at);
  }
  return null;
}

/** One host of the building; null, with a query, where it is none. */
export function makeHost(
  reading: Reading,
  records: HostRecords,
  openingIds: readonly string[],
): Host | null {
  if (records.isOnlyAFrame) return null;
  const { id, kind } = records;
  const ref = refFor(reading, id);
  const facts = reading.factsOf(id);
  const own = records.own === null ? undefined : reading.meshes.get(records.own);
  const mesh = own ?? joinMeshes(records.parts.flatMap((part) => reading.meshes.get(part) ?? []));
  const { fault } = reading.placementOf(id);
  const usable = fault === null && mesh !== null && isUsableMesh(mesh) ? mesh : null;
  const ifcClass = className(reading.step.typeOf(id));
  if (usable === null) {
    reading.queries.push(
      makeQuery(fault === null ? 'element-without-geometry' : 'placement-missing', {
        about: elementId(ref),
        text: `${ifcClass} ${named(facts.name)} has ${fault === null ? 'no usable geometry' : `a placement that is ${fault}`}; nothing can be found in it.`,
        why: 'Services that pass it are missed.',
        settles: 'Export the element with a body and a placement.',
        evidence: [
          {
            fact: 'geometry',
            text: 'Read from the records.',
            place: { fileKey: ref.fileKey, id: ref.id },
          },
        ],
      }),
    );
  }
  const material = materialOf(reading.step, reading.relations, id, reading.units);
  const isSlabRoof = kind === 'slab' && facts.predefined === 'ROOF';
  return {
    id: elementId(ref),
    ref,
    kind: isSlabRoof ? 'roof' : kind,
    ifcClass,
    name: facts.name,
    tag: facts.tag,
    storeyId: reading.storeyIdOf(id),
    mesh: usable,
    openingIds,
    thicknessMm: material.layersMm,
    material: material.name,
    fireRating: propertyText(facts, ['FireRating', 'Fire Rating']),
    isExternal: propertyFlag(facts, ['IsExternal']),
    isLoadBearing: propertyFlag(facts, ['LoadBearing']),
    isCompartment: propertyFlag(facts, ['Compartmentation']),
  };
}

/** Quoted name, or words for an unnamed element. */
export function named(name: string): string {
  return name === '' ? 'without a name' : `"${name}"`;
}
