import { sortedBy } from '../../basics/order.ts';
import { makeQuery } from '../../basics/query.ts';
import type { UnreadContent } from '../../model/issue.ts';
import { brokenUnits } from './broken-units.ts';
import { className } from './class-names.ts';
import type { Reading } from './reading.ts';

/** Queries about the file as a whole: units, references, records. */
export function addFileQueries(reading: Reading): void {
  const { fileKey, step, relations, units, queries } = reading;
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
  const broken = brokenUnits(step).flatMap((each) => each.units);
  if (
    relations.dangling.length +
      step.duplicateIds.length +
      step.unsoundIds.length +
      step.junk.length +
      broken.length >
    0
  ) {
    const shown = relations.dangling.slice(0, 5).map(({ from, to }) => `#${from} to #${to}`);
    const parts = [
      relations.dangling.length > 0
        ? `${relations.dangling.length} references point to records that aren't there (${shown.join(', ')})`
        : null,
      step.duplicateIds.length > 0
        ? `${step.duplicateIds.length} record numbers are used twice (the first counts)`
        : null,
      step.junk.length > step.duplicateIds.length
        ? `${step.junk.length - step.duplicateIds.length} statements are no records`
        : null,
      step.unsoundIds.length > 0
        ? `${step.unsoundIds.length} records are empty or broken (${step.unsoundIds
            .slice(0, 5)
            .map((id) => `#${id}`)
            .join(', ')})`
        : null,
      broken.length > 0
        ? `${broken.length} units lead to no value (${broken
            .slice(0, 5)
            .map((id) => `#${id}`)
            .join(', ')})`
        : null,
    ].filter((part) => part !== null);
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
