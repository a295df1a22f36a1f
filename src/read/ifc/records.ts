import { SealbookError } from '../../basics/errors.ts';
import { asciiText, scanStep, skipBlank } from '../../formats/ifc/step-scan.ts';
import { ifcClass, ifcSchemaOf } from '../../formats/ifc/step-schema.ts';
import { type StepValue, stepNumbers, stepParameters } from '../../formats/ifc/step-values.ts';
import { RecordPlaces } from './record-places.ts';
import {
  attributeCount,
  attributeKinds,
  KINDS_KEPT,
  MOST_COUNTED,
  recordForm,
  UNSOUND,
} from './sound-record.ts';
import { numbersOf } from './values.ts';

/**
 * The records of a model, found in one pass over its bytes and parsed each time they are asked for.
 *
 * Why not web-ifc's own records: a missing placement, a reference to nothing or a repeated number
 * can't be told from what it gives back, and a call across the wasm border for each record costs
 * more than opening the model. Nothing parsed is kept, so that memory stays with the geometry.
 */
export interface ModelRecords {
  /** As the header writes it, capitals: `IFC4X3_ADD2`. */
  readonly schema: string;
  readonly recordCount: number;
  /** Numbers used more than once; the first record counts. */
  readonly duplicateIds: readonly number[];
  /**
   * Records that are empty, unbalanced, short of attributes or hold numbers of no model; web-ifc may
   * never end on one.
   */
  readonly unsoundIds: readonly number[];
  /**
   * Stretches that are neither blank nor comment, nor a first record of its number, and what looks like
   * records outside the data sections.
   */
  readonly junk: readonly (readonly [number, number])[];
  has(id: number): boolean;
  /** Type in capitals; empty for an unknown number. */
  typeOf(id: number): string;
  /** Attributes of the record; empty for an unknown number. */
  attributes(id: number): readonly StepValue[];
  /** Numbers of the first attribute where it is a list; what is no number becomes NaN. */
  coordinates(id: number): readonly number[];
  /** First attribute where it is a text without escapes, as a GlobalId is; else null. */
  firstText(id: number): string | null;
  /** Record numbers of exactly this type, in file order. */
  idsOf(type: string): readonly number[];
  /** Types in the file with their counts, in order of first appearance. */
  types(): ReadonlyMap<string, number>;
  /** First byte of the record and the byte after its semicolon. */
  rangeOf(id: number): readonly [number, number] | null;
}

const HASH = 0x23;
const QUOTE = 0x27;
const LONGEST_GLOBAL_ID = 200;
/** Records asked for again at once (placement, then shape, then name of an element) are parsed once. */
const RECENT = 64;
const RECORDS_A_REPORT = 65_536;

/**
 * Finds the records of a model.
 * @throws SealbookError `input-unreadable` for an empty file, one that is no STEP, or one that was
 * cut short; `input-too-large` beyond the limit of records.
 */
export function findRecords(
  bytes: Uint8Array,
  mostRecords: number,
  onRecords: (done: number) => void = () => {},
): ModelRecords {
  checkBeginning(bytes);
  const places = new RecordPlaces();
  const ids: number[] = [];
  const nameStarts: number[] = [];
  const parameters: number[] = [];
  const ends: number[] = [];
  const typeNumbers: number[] = [];
  const forms: number[] = [];
  const typeNames: string[] = [];
  const duplicateIds: number[] = [];
  const repeated: (readonly [number, number])[] = [];
  const unsoundIds: number[] = [];
  const typeNumberOf = typeInterner(bytes, typeNames);
  const byType: number[][] = [];
  const layout = scanStep(bytes, (id, nameHash, nameStart, nameEnd, paramsStart, end) => {
    if (places.get(id) !== undefined) {
      duplicateIds.push(id);
      repeated.push([recordStart(bytes, nameStart), end]);
      return;
    }
    if (places.size >= mostRecords) throw tooManyRecords(mostRecords);
    if (places.size % RECORDS_A_REPORT === 0) onRecords(places.size);
    const type = typeNumberOf(nameHash, nameStart, nameEnd);
    places.add(id);
    ids.push(id);
    nameStarts.push(nameStart);
    parameters.push(paramsStart);
    ends.push(end);
    typeNumbers.push(type);
    const form = recordForm(bytes, paramsStart, end);
    if (form === UNSOUND) unsoundIds.push(id);
    forms.push(form);
    const same = byType[type];
    if (same === undefined) byType[type] = [id];
    else same.push(id);
  });
  if (layout.lastEndsec === null) throw cutShort();
  const typeAt = (n: number | undefined): string =>
    n === undefined ? '' : (typeNames[typeNumbers[n] ?? -1] ?? '');
  const rules = formRules(layout.schema, typeNames);
  ids.forEach((id, n) => {
    const form = forms[n] ?? UNSOUND;
    const rule = rules[typeNumbers[n] ?? -1];
    if (form !== UNSOUND && rule !== undefined && !fits(form, rule)) unsoundIds.push(id);
  });
  // Not needed again, and otherwise kept as long as the records.
  forms.length = 0;
  ids.length = 0;
  const recent: { id: number; values: readonly StepValue[] }[] = [];
  const attributes = (id: number): readonly StepValue[] => {
    const slot = id % RECENT;
    const known = recent[slot];
    if (known !== undefined && known.id === id) return known.values;
    const n = places.get(id);
    const values = n === undefined ? [] : stepParameters(bytes, parameters[n] ?? 0, ends[n] ?? 0);
    recent[slot] = { id, values };
    return values;
  };

  const typeByName = new Map(typeNames.map((name, n) => [name, n]));
  return {
    schema: layout.schema ?? '',
    recordCount: layout.records,
    duplicateIds,
    unsoundIds,
    junk: [
      ...junkBetween(bytes, nameStarts, ends),
      ...atEnds([...repeated, ...layout.strays], nameStarts, ends),
    ],
    has: (id) => places.get(id) !== undefined,
    typeOf: (id) => typeAt(places.get(id)),
    attributes,
    coordinates(id) {
      const n = places.get(id);
      const plain = n === undefined ? [] : stepNumbers(bytes, parameters[n] ?? 0);
      return plain ?? numbersOf(attributes(id)[0]);
    },
    firstText(id) {
      const n = places.get(id);
      if (n === undefined) return null;
      const from = skipBlank(bytes, (parameters[n] ?? 0) + 1);
      if (bytes[from] !== QUOTE) return null;
      const end = bytes.indexOf(QUOTE, from + 1);
      if (end < 0 || end - from > LONGEST_GLOBAL_ID || bytes[end + 1] === QUOTE) return null;
      const text = asciiText(bytes, from + 1, end);
      return text.includes('\\') ? null : text;
    },
    idsOf: (type) => byType[typeByName.get(type) ?? -1] ?? [],
    types: () => new Map(typeNames.map((name, n) => [name, byType[n]?.length ?? 0])),
    rangeOf(id) {
      const n = places.get(id);
      if (n === undefined) return null;
      return [recordStart(bytes, nameStarts[n] ?? 0), ends[n] ?? 0];
    },
  };
}

/** What the records of a type must be like. */
interface FormRule {
  readonly leastAttributes: number;
  /** Attributes that hold lists: both bits of each are set. */
  readonly lists: number;
}

/**
 * Rules for each type of the file. Of elements and relations only those attributes are asked for that
 * every schema gives them: programs write the elements of one schema into files of another.
 */
function formRules(
  schemaName: string | null,
  typeNames: readonly string[],
): readonly (FormRule | undefined)[] {
  const schema = ifcSchemaOf(schemaName);
  if (schema === null) return [];
  return typeNames.map((type) => {
    const known = ifcClass(schema, type);
    if (known === null) return undefined;
    const { attributes, ancestors } = known;
    const isRooted = ancestors.includes('IFCROOT');
    const least = isRooted ? Math.min(attributes.length, PLACED_ATTRIBUTES) : attributes.length;
    const lists = attributes
      .slice(0, Math.min(least, KINDS_KEPT))
      .reduce((bits, { holds }, at) => (holds === 'list' ? bits | (3 << (2 * at)) : bits), 0);
    return { leastAttributes: Math.min(least, MOST_COUNTED), lists };
  });
}

/** Whether a record has its attributes, and lists where they belong; that one is left out (`$`) is allowed. */
function fits(form: number, { leastAttributes, lists }: FormRule): boolean {
  if (attributeCount(form) < leastAttributes) return false;
  // Of the two bits of an attribute a list has the lower one only, `$` none.
  return (attributeKinds(form) & lists & HIGH_BITS) === 0;
}

const HIGH_BITS = 0xaaaaaaaa;

/** A product's, up to its placement and shape. */
const PLACED_ATTRIBUTES = 7;

function checkBeginning(bytes: Uint8Array): void {
  let at = bytes[0] === 0xef && bytes[1] === 0xbb && bytes[2] === 0xbf ? 3 : 0;
  while (at < bytes.length && (bytes[at] ?? 0) <= 0x20) at += 1;
  if (at >= bytes.length) throw unreadable('The file is empty.', 'Export the model again.');
  // A comment may come first; then the scan finds out.
  if (bytes[at] === 0x2f) return;
  if (asciiText(bytes, at, Math.min(at + 12, bytes.length)).toUpperCase() !== 'ISO-10303-21') {
    throw unreadable(
      'The file is no STEP file: it does not begin with ISO-10303-21.',
      'Give a model in the IFC format with the ending .ifc (unzip an .ifczip first).',
    );
  }
}

function cutShort(): SealbookError {
  return unreadable(
    'The file is cut short: its data section does not end.',
    'Copy or export the model again; it is incomplete.',
  );
}

function unreadable(message: string, todo: string): SealbookError {
  return new SealbookError('input-unreadable', message, { todo });
}

function tooManyRecords(limit: number): SealbookError {
  return new SealbookError('input-too-large', `The model has more than ${limit} records.`, {
    todo: 'Raise limits.entities in the project file, or export less of the model.',
  });
}

/** The `#` of a record: the last one before its name that starts `#digits =`. */
function recordStart(bytes: Uint8Array, nameStart: number): number {
  let at = bytes.lastIndexOf(HASH, nameStart);
  // A comment between number and name may hold one as well.
  while (at > 0 && !isDigit(bytes[at + 1])) at = bytes.lastIndexOf(HASH, at - 1);
  return at;
}

function isDigit(byte: number | undefined): boolean {
  return byte !== undefined && byte >= 0x30 && byte <= 0x39;
}

/** Statements that are no records before the first record and after the last. */
function atEnds(
  strays: readonly (readonly [number, number])[],
  nameStarts: readonly number[],
  ends: readonly number[],
): readonly (readonly [number, number])[] {
  const first = nameStarts[0] ?? Number.POSITIVE_INFINITY;
  const last = ends[ends.length - 1] ?? Number.POSITIVE_INFINITY;
  return strays.filter(([from]) => from < first || from >= last);
}

function junkBetween(
  bytes: Uint8Array,
  nameStarts: readonly number[],
  ends: readonly number[],
): readonly (readonly [number, number])[] {
  const junk: (readonly [number, number])[] = [];
  ends.forEach((end, n) => {
    const next = nameStarts[n + 1];
    if (next === undefined) return;
    const from = skipBlank(bytes, end);
    const start = recordStart(bytes, next);
    if (from < start) junk.push([from, start]);
  });
  return junk;
}

/** Gives each type name a number without making a text for each record. */
function typeInterner(
  bytes: Uint8Array,
  names: string[],
): (hash: number, from: number, end: number) => number {
  const byHash = new Map<number, number[]>();
  return (hash, from, end) => {
    const candidates = byHash.get(hash) ?? [];
    for (const n of candidates) if (isSameName(bytes, from, end, names[n] ?? '')) return n;
    const name = asciiText(bytes, from, end).toUpperCase();
    // Written in small letters a known name has another hash.
    const known = names.indexOf(name);
    if (known < 0) names.push(name);
    const number = known < 0 ? names.length - 1 : known;
    byHash.set(hash, [...candidates, number]);
    return number;
  };
}

function upper(byte: number): number {
  return byte >= 0x61 && byte <= 0x7a ? byte - 0x20 : byte;
}

function isSameName(bytes: Uint8Array, from: number, end: number, name: string): boolean {
  if (name.length !== end - from) return false;
  for (let n = 0; n < name.length; n += 1) {
    if (upper(bytes[from + n] ?? 0) !== name.charCodeAt(n)) return false;
  }
  return true;
}
