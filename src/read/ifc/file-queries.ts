import { sortedBy } from '../../basics/order.ts';
import { makeQuery } from '../../basics/query.ts';
import type { UnreadContent } from '../../model/issue.ts';
import { className } from './class-names.ts';
import type { Withheld } from './model-meshes.ts';
import type { Reading } from './reading.ts';

/**
 * Queries about the file as a whole: units, references, records.
 * @param withheld what was kept from the geometry engine
 */
export function addFileQueries(reading: Reading, withheld: Withheld): void {
  const { fileKey, units, queries } = reading;
  const place = { fileKey };
  if (units.lengthName === null) {
    queries.push(
      makeQuery('units-missing', {
        about: fileKey,
        text: `${fileKey} names no unit of length; metres were taken.`,
        why: 'All sizes and places depend on it.',
        settles: 'Say which unit the model is in, or export it with units.',
        evidence: [{ fact: 'units', text: 'The project has no length unit.', place }],
      }),
    );
  }
  const parts = recordFaults(reading, withheld);
  if (parts.length > 0) {
    queries.push(
      makeQuery('dangling-reference', {
        about: fileKey,
        text: `${fileKey}: ${parts.join('; ')}.`,
        why: 'Elements, openings or properties may be missing.',
        settles: 'Export the model again.',
        evidence: [{ fact: 'records', text: 'Found while reading the records.', place }],
      }),
    );
  }
}

/** What is wrong with the records, as parts of a sentence. */
function recordFaults(
  { relations, step, settings }: Reading,
  { endlessShapes, brokenUnits }: Withheld,
): readonly string[] {
  const { dangling } = relations;
  const { duplicateIds, unsoundIds } = step;
  const strays = step.junk.length - duplicateIds.length;
  const broken = brokenUnits.flatMap(({ units }) => units);
  const shown = dangling.slice(0, 5).map(({ from, to }) => `#${from} to #${to}`);
  const some = (ids: readonly number[]) =>
    ids
      .slice(0, 5)
      .map((id) => `#${id}`)
      .join(', ');
  const faults: readonly (readonly [count: number, text: string])[] = [
    [dangling.length, `references point to records that aren't there (${shown.join(', ')})`],
    [duplicateIds.length, 'record numbers are used twice (the first counts)'],
    [strays, 'statements are no records'],
    [
      unsoundIds.length,
      `records are empty, broken or not as their type asks (${some(unsoundIds)})`,
    ],
    [broken.length, `units lead to no value (${some(broken)})`],
    [
      endlessShapes.length,
      `shapes hold themselves or come to more than ${settings.limits.copies} parts (limits.copies) and were left out (${some(endlessShapes)})`,
    ],
  ];
  return faults.flatMap(([count, text]) => (count > 0 ? [`${count} ${text}`] : []));
}

/** Elements with a body that count as nothing here, by class. */
export function unreadContent(reading: Reading): readonly UnreadContent[] {
  const { step, classes, fileKey } = reading;
  const unread: UnreadContent[] = [];
  for (const [type, count] of step.types()) {
    if (classes.hosts.has(type) || classes.services.has(type) || classes.openings.has(type))
      continue;
    if (!OTHER_ELEMENTS.test(type)) continue;
    unread.push({
      fileKey,
      type: className(type),
      layer: null,
      count,
      reason: 'Neither a host nor a service by the settings.',
    });
  }
  return sortedBy(unread, ({ type }) => type);
}

const OTHER_ELEMENTS =
  /^IFC(BEAM|COLUMN|MEMBER|PLATE|CURTAINWALL|COVERING|BUILDINGELEMENTPROXY|FLOWTERMINAL|FLOWCONTROLLER|FLOWFITTING|VALVE|DAMPER|JUNCTIONBOX|PILE|RAMP|STAIR|RAILING|CHIMNEY|ENERGYCONVERSIONDEVICE|FLOWMOVINGDEVICE|FLOWSTORAGEDEVICE|FLOWTREATMENTDEVICE|DISTRIBUTIONELEMENT|DISTRIBUTIONFLOWELEMENT|CONVEYORSEGMENT|PAVEMENT|KERB|COURSE|BRIDGE|TUNNEL)$/;
