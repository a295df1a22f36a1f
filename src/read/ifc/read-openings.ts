import type { Evidence } from '../../basics/evidence.ts';
import { makeQuery } from '../../basics/query.ts';
import { isUsableMesh } from '../../geometry/mesh-box.ts';
import type { Opening, OpeningProfile } from '../../model/building.ts';
import { elementId } from '../../model/ids.ts';
import { className } from './class-names.ts';
import { isProvision } from './classes.ts';
import { referencesOf } from './make-service.ts';
import { named } from './read-hosts.ts';
import { type Reading, refFor } from './reading.ts';
import { readShape, type Sweep } from './sweeps.ts';

/** Records of opening elements and of provisions for void. */
export function openingRecords(reading: Reading): {
  readonly openings: readonly number[];
  readonly provisions: readonly number[];
} {
  const { step, classes } = reading;
  const openings = [...classes.openings].flatMap((type) => step.idsOf(type));
  const provisions = ['IFCBUILDINGELEMENTPROXY', 'IFCVIRTUALELEMENT'].flatMap((type) =>
    step.idsOf(type).filter((id) => isProvision(type, reading.factsOf(id))),
  );
  return { openings, provisions };
}

/** One opening or provision of the building. */
export function makeOpening(
  reading: Reading,
  id: number,
  kind: Opening['kind'],
  hostIds: readonly string[],
  voidedClasses: readonly string[],
): Opening {
  const ref = refFor(reading, id);
  const facts = reading.factsOf(id);
  const placed = reading.placementOf(id);
  const shape = reading.shapeOf(id);
  const mesh = reading.meshes.get(id);
  const usable = placed.fault === null && mesh !== undefined && isUsableMesh(mesh) ? mesh : null;
  const sweeps =
    shape === null || placed.fault !== null
      ? null
      : readShape(reading.step, shape, placed.frame, reading.units);
  const [sweep] = sweeps?.sweeps ?? [];
  const isOne = sweeps !== null && sweeps.sweeps.length === 1 && sweeps.otherItems.length === 0;
  const ifcClass = className(reading.step.typeOf(id));
  const place = { fileKey: ref.fileKey, id: ref.id };
  const evidence: Evidence[] = [
    {
      fact: 'opening',
      text: `${ifcClass} ${named(facts.name)}${kind === 'provision' ? ' asks for a void' : ''}.`,
      place,
    },
  ];
  if (usable === null) {
    reading.queries.push(
      makeQuery(placed.fault === null ? 'element-without-geometry' : 'placement-missing', {
        about: elementId(ref),
        text: `${ifcClass} ${named(facts.name)} has ${placed.fault === null ? 'no usable geometry' : `a placement that is ${placed.fault}`}.`,
        why: 'Its place and size are unknown.',
        settles: 'Export the opening with a body and a placement.',
        evidence,
      }),
    );
  }
  return {
    id: elementId(ref),
    ref,
    kind,
    isRecess: facts.predefined === 'RECESS',
    ifcClass,
    name: facts.name,
    tag: facts.tag,
    storeyId: reading.storeyIdOf(id),
    hostIds,
    ...(voidedClasses.length > 0 ? { voidedClasses } : {}),
    fillingClasses: (reading.relations.fillingsOfOpening.get(id) ?? []).map((filling) =>
      className(reading.step.typeOf(filling)),
    ),
    mesh: usable,
    profile: isOne && sweep !== undefined ? profileOf(sweep) : null,
    references: referencesOf(facts, reading.fileKey),
    evidence,
  };
}

/** The exact outline of a straight, square sweep that nothing is cut from. */
function profileOf(sweep: Sweep): OpeningProfile | null {
  const [start, end] = sweep.pathMm;
  if (!sweep.isStraight || !sweep.isSquare || sweep.isClipped || !start || !end) return null;
  return {
    startMm: start,
    endMm: end,
    right: sweep.right,
    up: sweep.up,
    shape: sweep.shape,
  };
}
