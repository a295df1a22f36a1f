/**
 * Our lines in a model that another program has saved again: renumbered, reformatted, without the
 * comments round them. They are known by GlobalIds that tell that they are ours, and by the names of
 * our property sets where a program made up new GlobalIds.
 */
import { lineEndAfter } from '../../formats/ifc/step-block.ts';
import { StepFile, type StepRecord } from '../../formats/ifc/step-file.ts';
import { StepReferences, type StepSpan } from '../../formats/ifc/step-references.ts';
import {
  asciiText,
  hashOfBytes,
  type OnStepRecord,
  skipBlank,
} from '../../formats/ifc/step-scan.ts';
import { attributeIndex, type IfcSchema, isKindOf } from '../../formats/ifc/step-schema.ts';
import type { BytePatch } from '../../formats/shared/byte-patch.ts';
import type { TagRefusal } from '../../model/tag-edit.ts';
import { globalIdOf } from './file-relations.ts';
import { OUR_MARKS, PENETRATION_SET, QUANTITY_SET, SEAL_TYPE, SERVICE_SET } from './our-marks.ts';
import { isOwnGlobalId } from './own-global-id.ts';

const QUOTE = 39;
const NOTHING = new Uint8Array(0);
const encode = (text: string) => new TextEncoder().encode(text);
const hashOf = (name: string) => hashOfBytes(encode(name), 0, name.length);
const SET_HASHES: ReadonlySet<number> = new Set([
  hashOf('IFCPROPERTYSET'),
  hashOf('IFCELEMENTQUANTITY'),
]);
const OUR_SETS = [PENETRATION_SET, SERVICE_SET, QUANTITY_SET].map((name) => `'${name}'`);
const LONGEST_SET = Math.max(...OUR_SETS.map(({ length }) => length));

/** Watches a scan for rooted records of ours. */
export class OwnRecords {
  /** Numbers of what was found. */
  readonly ids = new Set<number>();
  readonly #bytes: Uint8Array;

  constructor(bytes: Uint8Array) {
    this.#bytes = bytes;
  }

  readonly look: OnStepRecord = (id, hash, _nameStart, _nameEnd, paramsStart) => {
    const bytes = this.#bytes;
    let first = paramsStart + 1;
    if ((bytes[first] ?? 0) <= 32) first = skipBlank(bytes, first);
    if (bytes[first] !== QUOTE || bytes[first + 23] !== QUOTE) return;
    if (isOwnGlobalId(bytes, first + 1)) this.ids.add(id);
    else if (SET_HASHES.has(hash) && this.#isOurSet(first + 24)) this.ids.add(id);
  };

  /** Whether the third parameter is the name of one of our sets. */
  #isOurSet(afterGlobalId: number): boolean {
    const bytes = this.#bytes;
    const history = skipBlank(bytes, skipBlank(bytes, afterGlobalId) + 1);
    const comma = bytes.subarray(history, history + 40).indexOf(44);
    if (comma === -1) return false;
    const name = skipBlank(bytes, history + comma + 1);
    const text = asciiText(bytes, name, name + LONGEST_SET);
    return OUR_SETS.some((each) => text.startsWith(each));
  }
}

/** Our former lines: what goes with them, and what has to stay because others refer to it. */
export class FormerLines {
  /** Bracket offsets of all that is ours: look-ups pass over it. */
  readonly offsets: ReadonlySet<number>;
  /** GlobalId to number of what lines of others refer to; written anew under the same number. */
  readonly pinned: ReadonlyMap<string, number>;
  readonly #bytes: Uint8Array;
  readonly #references: StepReferences;
  readonly #rooted: ReadonlySet<number>;
  readonly #parts: ReadonlySet<number>;
  /** Pinned number to one of the lines that refer to it. */
  readonly #users: ReadonlyMap<number, number>;

  /** @param records How many records the file has. */
  constructor(bytes: Uint8Array, schema: IfcSchema, own: OwnRecords, records: number) {
    this.#bytes = bytes;
    this.#references = new StepReferences(bytes, records, OUR_MARKS);
    this.#rooted = withRelated(bytes, schema, own.ids);
    const { parts, users } = this.#sortOut(schema);
    this.#parts = parts;
    this.#users = users;
    const spans = [...this.#rooted, ...parts].flatMap((id) => this.#references.span(id) ?? []);
    this.offsets = new Set(spans.map(({ paramsStart }) => paramsStart));
    this.pinned = this.#pinnedIds();
  }

  /**
   * Patches that take our lines out, and put those that are written under their former number in
   * their place.
   */
  patches(written: ReadonlyMap<number, string>): BytePatch[] {
    const stay = new Set([...this.#users.keys()].filter((id) => !written.has(id)));
    const kept = this.#partsOf(stay);
    const gone = [...this.#rooted, ...this.#parts].filter(
      (id) => !stay.has(id) && !kept.has(id) && !written.has(id),
    );
    return [
      ...gone.flatMap((id) => this.#patch(id, null) ?? []),
      ...[...written].flatMap(([id, line]) => this.#patch(id, line) ?? []),
    ];
  }

  /** What is no longer wanted and can't go. */
  left(written: ReadonlyMap<number, string>): TagRefusal[] {
    const globalIds = new Map([...this.pinned].map(([globalId, id]) => [id, globalId]));
    return [...this.#users]
      .filter(([id]) => !written.has(id))
      .map(([id, user]) => ({
        tag: `former line #${id}`,
        id: globalIds.get(id) ?? null,
        reason: `it stays, since line #${user} of another program refers to it`,
      }));
  }

  /** Parts that only we use, and who of others uses our rooted records. */
  #sortOut(schema: IfcSchema) {
    const references = this.#references;
    const reached = this.#reach(
      this.#rooted,
      (span) => !isKindOf(schema, references.typeOf(span), 'IFCROOT'),
    );
    const users = new Map<number, number>();
    const shared = new Set<number>();
    for (const span of references.spans()) {
      if (this.#rooted.has(span.id) || reached.has(span.id)) continue;
      for (const id of references.refsOf(span)) {
        if (reached.has(id)) shared.add(id);
        else if (this.#rooted.has(id) && !users.has(id)) users.set(id, span.id);
      }
    }
    const theirs = this.#reach(shared, () => true);
    const parts = [...reached].filter((id) => !theirs.has(id) && !shared.has(id));
    return { parts: new Set(parts), users };
  }

  /** What records refer to, directly or not, and which passes the test. */
  #reach(from: ReadonlySet<number>, isWanted: (span: StepSpan) => boolean): Set<number> {
    const reached = new Set<number>();
    const open = [...from];
    for (let id = open.pop(); id !== undefined; id = open.pop()) {
      const span = this.#references.span(id);
      for (const next of span === null ? [] : this.#references.refsOf(span)) {
        if (reached.has(next) || this.#rooted.has(next)) continue;
        const target = this.#references.span(next);
        if (target === null || !isWanted(target)) continue;
        reached.add(next);
        open.push(next);
      }
    }
    return reached;
  }

  #partsOf(stay: ReadonlySet<number>): Set<number> {
    return this.#reach(stay, ({ id }) => this.#parts.has(id));
  }

  #pinnedIds(): Map<string, number> {
    const pinned = new Map<string, number>();
    for (const id of this.#users.keys()) {
      const span = this.#references.span(id);
      if (span === null) continue;
      const first = skipBlank(this.#bytes, span.paramsStart + 1) + 1;
      const globalId = asciiText(this.#bytes, first, first + 22);
      if (!pinned.has(globalId)) pinned.set(globalId, id);
    }
    return pinned;
  }

  /** With its line end where nothing else stands on the line. */
  #patch(id: number, line: string | null): BytePatch | null {
    const span = this.#references.span(id);
    if (span === null) return null;
    const { start, end } = span;
    if (line !== null) return { at: start, remove: end - start, insert: encode(line) };
    const isAlone = start === 0 || this.#bytes[start - 1] === 10 || this.#bytes[start - 1] === 13;
    const after = isAlone ? lineEndAfter(this.#bytes, end) : end;
    return { at: start, remove: after - start, insert: NOTHING };
  }
}

const RELATED_CLASSES: ReadonlySet<string> = new Set([
  'IFCRELDEFINESBYPROPERTIES',
  'IFCDISCRETEACCESSORY',
  'IFCRELFILLSELEMENT',
]);

/**
 * Our records with what belongs to them by its links alone: relations to our sets, seal elements
 * that carry one, and what fills an opening with such a seal.
 */
function withRelated(bytes: Uint8Array, schema: IfcSchema, ids: ReadonlySet<number>): Set<number> {
  const file = new StepFile(
    bytes,
    { classes: RELATED_CLASSES, globalIds: new Set() },
    { marks: OUR_MARKS },
  );
  const ours = new Set(ids);
  const refsAt = (record: StepRecord, className: string, attribute: string): number[] => {
    const value = record.values[attributeIndex(schema, className, attribute)];
    const items = value?.kind === 'list' ? value.items : value === undefined ? [] : [value];
    return items.flatMap((item) => (item.kind === 'ref' ? item.id : []));
  };
  const carriers = new Set<number>();
  for (const record of file.recordsOf('IFCRELDEFINESBYPROPERTIES')) {
    const [set = -1] = refsAt(record, record.type, 'RelatingPropertyDefinition');
    if (!ours.has(set)) continue;
    ours.add(record.id);
    for (const carrier of refsAt(record, record.type, 'RelatedObjects')) carriers.add(carrier);
  }
  const typeAt = attributeIndex(schema, 'IFCDISCRETEACCESSORY', 'ObjectType');
  for (const record of file.recordsOf('IFCDISCRETEACCESSORY')) {
    const type = record.values[typeAt];
    const isSeal = type?.kind === 'text' && type.text === SEAL_TYPE;
    if (isSeal && carriers.has(record.id) && globalIdOf(record) !== '') ours.add(record.id);
  }
  for (const record of file.recordsOf('IFCRELFILLSELEMENT')) {
    const [seal = -1] = refsAt(record, record.type, 'RelatedBuildingElement');
    if (ours.has(seal)) ours.add(record.id);
  }
  return ours;
}
