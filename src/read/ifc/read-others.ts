import { isUsableMesh } from '../../geometry/mesh-box.ts';
import type { OtherElement } from '../../model/building.ts';
import { elementId } from '../../model/ids.ts';
import { className } from './class-names.ts';
import { isProvision, MAY_SEPARATE } from './classes.ts';
import type { HostRecords } from './read-hosts.ts';
import { type Reading, refFor } from './reading.ts';

/**
 * Records of elements with a body that may separate spaces but count neither as host nor as service.
 * Parts of hosts, provisions for void and the insulation of services are none of them.
 */
export function otherRecords(
  reading: Reading,
  hosts: ReadonlyMap<number, HostRecords>,
): readonly number[] {
  const { step, classes, relations } = reading;
  const partsOfHosts = new Set([...hosts.values()].flatMap(({ parts }) => parts));
  const jackets = new Set(
    [...relations.coveringsOf].flatMap(([covered, coverings]) =>
      classes.services.has(step.typeOf(covered)) ? coverings : [],
    ),
  );
  return MAY_SEPARATE.filter((type) => !classes.hosts.has(type) && !classes.services.has(type))
    .flatMap((type) => step.idsOf(type).map((id) => ({ id, type })))
    .filter(
      ({ id, type }) =>
        !partsOfHosts.has(id) &&
        !jackets.has(id) &&
        reading.shapeOf(id) !== null &&
        !isProvision(type, reading.factsOf(id)),
    )
    .map(({ id }) => id);
}

/** One such element; null where it has no usable body or place. */
export function makeOther(reading: Reading, id: number): OtherElement | null {
  const mesh = reading.meshes.get(id);
  if (mesh === undefined || !isUsableMesh(mesh) || reading.placementOf(id).fault !== null) {
    return null;
  }
  const ref = refFor(reading, id);
  return {
    id: elementId(ref),
    ref,
    ifcClass: className(reading.step.typeOf(id)),
    name: reading.factsOf(id).name,
    mesh,
  };
}
