import { makeQuery } from '../../basics/query.ts';
import { isUsableMesh, longBox, meshPoint } from '../../geometry/mesh-box.ts';
import { add3, dot3, scale3, sub3, unit3 } from '../../geometry/vec.ts';
import type { Service } from '../../model/building.ts';
import { elementId } from '../../model/ids.ts';
import { className } from './class-names.ts';
import { materialOf } from './element-facts.ts';
import type { ServiceRecord } from './gather-records.ts';
import { makeService } from './make-service.ts';
import { named } from './read-hosts.ts';
import { groupNames, type Reading, refFor } from './reading.ts';
import { type ServiceForm, sectionOf } from './service-form.ts';
import { sizeConflict } from './size-conflict.ts';

/** One service of the building; one without geometry is asked about. */
export function readService(reading: Reading, record: ServiceRecord): Service {
  const { id } = record;
  const ref = refFor(reading, id);
  const facts = reading.factsOf(id);
  const type = reading.step.typeOf(id);
  const known = reading.classes.services.get(type);
  const mesh = reading.meshes.get(id);
  const usable = mesh !== undefined && isUsableMesh(mesh) ? mesh : null;
  const form = !record.needsMesh
    ? record.form
    : record.form.section === null
      ? meshForm(record.form, usable)
      : trimmedForm(record.form, usable);
  const service = makeService({
    id: elementId(ref),
    elementKey: ref.id,
    fileKey: reading.fileKey,
    ifcClass: className(type),
    role: known?.role ?? 'segment',
    knownKind: known?.kind ?? null,
    facts,
    form,
    mesh: usable,
    systems: groupNames(reading, reading.relations.groupsOf.get(id) ?? []),
    storeyId: reading.storeyIdOf(id),
    material: materialOf(reading.step, reading.relations, id, reading.units).name,
    units: reading.units,
  });
  if (!hasLength(form.axisMm) && usable === null) addNoGeometryQuery(reading, id, service);
  const conflict = sizeConflict(form, service.kind, facts, reading.units);
  if (conflict !== null) addConflictQuery(reading, service, conflict);
  return service;
}

function hasLength(axisMm: ServiceForm['axisMm']): boolean {
  const [start, ...more] = axisMm ?? [];
  return start !== undefined && more.some((point) => unit3(sub3(point, start)) !== null);
}

/** Centre line and section of a body that is no sweep: the box along its principal direction. */
function meshForm(form: ServiceForm, mesh: Service['mesh']): ServiceForm {
  if (mesh === null) return form;
  const box = longBox(mesh);
  if (box === null) return form;
  return {
    axisMm: form.axisMm ?? [box.startMm, box.endMm],
    upDirection: box.up,
    section: sectionOf(box.shape),
    boreMm: null,
    how: 'the box round its mesh',
  };
}

/** A straight centre line cut to where the mesh begins and ends along it. */
function trimmedForm(form: ServiceForm, mesh: Service['mesh']): ServiceForm {
  const [start, end, more] = form.axisMm ?? [];
  if (mesh === null || start === undefined || end === undefined || more !== undefined) return form;
  const along = unit3(sub3(end, start));
  if (along === null) return form;
  let from = Infinity;
  let to = -Infinity;
  for (let n = 0; n < mesh.positionsMm.length / 3; n += 1) {
    const at = dot3(sub3(meshPoint(mesh, n), start), along);
    from = Math.min(from, at);
    to = Math.max(to, at);
  }
  if (!(to - from > 0)) return form;
  return {
    ...form,
    axisMm: [add3(start, scale3(along, from)), add3(start, scale3(along, to))],
  };
}

function addConflictQuery(reading: Reading, service: Service, conflict: string): void {
  const { fileKey, id } = service.ref;
  reading.queries.push(
    makeQuery('size-conflict', {
      about: service.id,
      text: `${service.ifcClass} ${named(service.name)}: ${conflict}. The body's size was taken.`,
      why: 'The gap to be sealed is as wrong as the size.',
      settles: 'Which of the two is right.',
      evidence: [...service.evidence, { fact: 'size', text: conflict, place: { fileKey, id } }],
    }),
  );
}

function addNoGeometryQuery(reading: Reading, id: number, service: Service): void {
  const { fault } = reading.placementOf(id);
  const noPlace = fault !== null && reading.shapeOf(id) !== null;
  reading.queries.push(
    makeQuery(noPlace ? 'placement-missing' : 'element-without-geometry', {
      about: service.id,
      text: `${service.ifcClass} ${named(service.name)} has ${noPlace ? `a placement that is ${fault}` : 'no usable geometry'}; where it passes is unknown.`,
      why: 'A penetration of it would be missed.',
      settles: 'Export the element with a body and a placement.',
      evidence: service.evidence,
    }),
  );
}
