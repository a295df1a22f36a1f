import type { HostRecords } from './read-hosts.ts';
import { hostRecords } from './read-hosts.ts';
import { openingRecords } from './read-openings.ts';
import { otherRecords } from './read-others.ts';
import type { Reading } from './reading.ts';
import { formFromSweeps, type ServiceForm } from './service-form.ts';
import { readShape, type Sweep } from './sweeps.ts';

/** A service element and what its records say of its form. */
export interface ServiceRecord {
  readonly id: number;
  readonly form: ServiceForm;
  readonly needsMesh: boolean;
}

/** What is read of a model, by record number. */
export interface Records {
  readonly hosts: ReadonlyMap<number, HostRecords>;
  readonly services: readonly ServiceRecord[];
  readonly openings: readonly number[];
  readonly provisions: readonly number[];
  /** Elements that may separate but count as no hosts. */
  readonly others: readonly number[];
  readonly toStream: readonly number[];
}

/** What will be read, and whose geometry web-ifc must make: services with a swept body need none. */
export function gatherRecords(reading: Reading): Records {
  const hosts = new Map(hostRecords(reading).map((records) => [records.id, records]));
  const services = [...reading.classes.services.keys()].flatMap((type) =>
    reading.step.idsOf(type).map((id) => serviceRecord(reading, id)),
  );
  const { openings, provisions } = openingRecords(reading);
  const others = otherRecords(reading, hosts);
  const toStream = [
    ...[...hosts.values()].flatMap(({ own, parts }) => (own === null ? parts : [own, ...parts])),
    ...services.filter(({ needsMesh }) => needsMesh).map(({ id }) => id),
    ...openings,
    ...provisions,
    ...others,
    ...['IFCSPACE', 'IFCSPATIALZONE']
      .flatMap((type) => reading.step.idsOf(type))
      .filter((id) => reading.shapeOf(id) !== null),
  ];
  return { hosts, services, openings, provisions, others, toStream: [...new Set(toStream)] };
}

function serviceRecord(reading: Reading, id: number): ServiceRecord {
  const shape = reading.shapeOf(id);
  const { frame, fault } = reading.placementOf(id);
  if (shape === null || fault !== null) {
    return { id, form: formFromSweeps([]), needsMesh: false };
  }
  const read = readShape(reading.step, shape, frame, reading.units);
  const form = formFromSweeps([...read.sweeps, ...coveringSweeps(reading, id)]);
  if (form.axisMm !== null && read.otherItems.length === 0) {
    // What is cut off a sweep shortens it; the mesh tells where it ends.
    return { id, form, needsMesh: read.sweeps.some(({ isClipped }) => isClipped) };
  }
  const axis = read.axisMm ?? null;
  return {
    id,
    form:
      axis === null ? formFromSweeps([]) : { ...formFromSweeps([]), axisMm: axis, how: 'its axis' },
    needsMesh: true,
  };
}

/** Bodies of coverings (insulation, jackets) that the model puts round a service. */
function coveringSweeps(reading: Reading, id: number): readonly Sweep[] {
  return (reading.relations.coveringsOf.get(id) ?? []).flatMap((covering) => {
    const shape = reading.shapeOf(covering);
    const { frame, fault } = reading.placementOf(covering);
    if (shape === null || fault !== null) return [];
    return readShape(reading.step, shape, frame, reading.units).sweeps;
  });
}
