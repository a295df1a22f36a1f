import { compareText } from '../../basics/order.ts';
import { makeQuery, type Query } from '../../basics/query.ts';
import { pointOf } from './placements.ts';
import type { ModelRecords } from './records.ts';
import { refOf, textOf } from './values.ts';

/** 22 characters of the base-64 alphabet, the first for two bits only. */
const WELL_FORMED = /^[0-3][0-9A-Za-z_$]{21}$/;
const MOST_LISTED = 50;

export interface ElementKeys {
  /** Key of each element within the file; only of those whose GlobalId repeats or is missing. */
  readonly keys: ReadonlyMap<number, string>;
  readonly queries: readonly Query[];
}

/**
 * Keys that tell elements with one GlobalId apart, made from what each is and where it stands, so
 * that renumbering the file's records changes nothing.
 */
export function elementKeys(
  step: ModelRecords,
  fileKey: string,
  elements: readonly number[],
): ElementKeys {
  const byGuid = new Map<string, number[]>();
  const malformed: string[] = [];
  for (const id of elements) {
    const guid = step.firstText(id) ?? textOf(step.attributes(id)[0]) ?? '';
    const same = byGuid.get(guid);
    if (same === undefined) byGuid.set(guid, [id]);
    else same.push(id);
    if (!WELL_FORMED.test(guid)) malformed.push(guid);
  }
  const keys = new Map<number, string>();
  const repeated: string[] = [];
  for (const [guid, ids] of byGuid) {
    if (ids.length === 1 && guid !== '') continue;
    if (guid !== '') repeated.push(guid);
    tellApart(step, guid, ids, keys);
  }
  return {
    keys,
    queries: [...malformedQuery(fileKey, malformed), ...repeatedQueries(fileKey, repeated)],
  };
}

function tellApart(
  step: ModelRecords,
  guid: string,
  ids: readonly number[],
  keys: Map<number, string>,
): void {
  const described = ids
    .map((id) => ({ id, text: content(step, id) }))
    .sort((a, b) => compareText(a.text, b.text));
  const used = new Map<string, number>();
  described.forEach(({ id, text }, n) => {
    if (n === 0 && guid !== '') {
      keys.set(id, guid);
      return;
    }
    const hash = shortHash(text);
    const count = (used.get(hash) ?? 0) + 1;
    used.set(hash, count);
    keys.set(id, `${guid === '' ? 'no-GlobalId' : guid}~${hash}${count === 1 ? '' : `.${count}`}`);
  });
}

function content(step: ModelRecords, id: number): string {
  const attributes = step.attributes(id);
  const placement = refOf(attributes[5]);
  const local = placement === null ? null : refOf(step.attributes(placement)[1]);
  const at = local === null ? null : pointOf(step, step.attributes(local)[0]);
  return [
    step.typeOf(id),
    textOf(attributes[2]) ?? '',
    textOf(attributes[7]) ?? '',
    at === null ? '' : at.map((value) => value.toFixed(3)).join(),
  ].join('|');
}

/** FNV-1a, 32 bits, as eight hex digits. @source FNV reference, constants from memory */
function shortHash(text: string): string {
  let hash = 0x811c9dc5;
  for (let n = 0; n < text.length; n += 1) {
    hash = Math.imul(hash ^ text.charCodeAt(n), 0x01000193);
  }
  return (hash >>> 0).toString(16).padStart(8, '0');
}

function malformedQuery(fileKey: string, malformed: readonly string[]): readonly Query[] {
  if (malformed.length === 0) return [];
  const shown = malformed.slice(0, 5).map((guid) => `"${guid}"`);
  return [
    makeQuery('malformed-global-id', {
      about: fileKey,
      text: `${malformed.length} elements of ${fileKey} have a malformed GlobalId: ${shown.join(', ')}${malformed.length > 5 ? ' …' : ''}.`,
      why: 'Tags and answers find an element again by its GlobalId.',
      settles: 'Export the model again with GlobalIds of 22 characters.',
      evidence: malformed.slice(0, MOST_LISTED).map((id) => ({
        fact: 'GlobalId',
        text: 'Not 22 characters of the schema’s alphabet.',
        place: { fileKey, id },
      })),
    }),
  ];
}

function repeatedQueries(fileKey: string, repeated: readonly string[]): readonly Query[] {
  return repeated.slice(0, MOST_LISTED).map((guid) =>
    makeQuery('duplicate-global-id', {
      about: `${fileKey}:${guid}`,
      text: `Several elements of ${fileKey} have the GlobalId ${guid}.`,
      why: 'They are told apart by class, name and place, which a later revision may change.',
      settles: 'Give each element a GlobalId of its own.',
      evidence: [{ fact: 'GlobalId', text: 'Used more than once.', place: { fileKey, id: guid } }],
    }),
  );
}
