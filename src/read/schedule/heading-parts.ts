import { type Column, columnsOfHeading, plainHeading, UNUSED_COLUMNS } from './column-names.ts';

/** What a heading was understood as. */
export interface HeadingReading {
  /** Columns it may name, likeliest first; empty when it is not known. */
  readonly columns: readonly Column[];
  /** `whole`: as it stands; `parts`: by the names in it; `conflict`: its names mean different things. */
  readonly by: 'whole' | 'parts' | 'conflict' | 'nothing';
}

/**
 * Between two names for one column: a stroke, a line break, a comma, a dash with room around it, or
 * a word for "or" and "and". The Dutch "of" is one too, but not in "no. of cores".
 */
const BETWEEN =
  /[/\\|\n\r,;:+&]+|\s[-–—]\s|\s(?:or|and|oder|bzw\.?|und|ou|et|o|u|y|eller|och|en|oppure|e|tai|ja|lub|albo|veya|ve)\s|(?<!\b(?:no|nos|nr|number|type|kind|size|area|description)\.?)\sof\s/iu;

/** Units with a stroke of their own. */
const STROKED_UNIT = /(?<![\p{L}\d])(?:kg\/k?m|lb\/ft|n\/a)(?![\p{L}\d])/giu;

/** Words beside a name that add nothing to it. */
const IDLE =
  /^(?:descriptions?|details?|names?|approx|approximate|nominal|new|old|beschreibung|benennung|ca|circa|env|environ|descripcion|descrizione|omschrijving|beskrivning|opis)$/u;

/**
 * Columns that may stand in one heading with others and are then read together: "type / size" is a
 * whole designation, "cable / circuit no." a reference. The first is what the heading is taken for.
 */
const TOGETHER: readonly (readonly [Column, ...Column[]])[] = [
  ['ref', 'circuitRef', 'circuit', 'item'],
  ['size', 'cores'],
  ['type', 'construction', 'cores', 'size', 'voltage'],
  ['from', 'fromRoom'],
  ['to', 'toRoom'],
  ['circuitRef', 'circuit'],
  ['voltage', 'current', 'phase'],
  ['remarks', 'other'],
];

/** Reads a heading as it stands, else by the names on either side of strokes, brackets and "or". */
export function readHeading(written: string): HeadingReading {
  const unbracketed = columnsOfHeading(written.replace(/[[\](){}<>]/gu, ' '));
  const whole = unbracketed.length > 0 ? unbracketed : columnsOfHeading(written);
  if (whole.length > 0) return { columns: whole, by: 'whole' };
  const parts = partsOf(written);
  const known = trusted(parts);
  if (known.length === 0) return { columns: [], by: 'nothing' };
  const columns = agreed(known.map(({ columns }) => columns));
  if (columns.length === 0) return { columns, by: 'conflict' };
  // Half understood, and that half of no use: the other half may hold what is wanted.
  const isHalf = known.length < parts.length && columns.every((name) => UNUSED_COLUMNS.has(name));
  return isHalf ? { columns: [], by: 'nothing' } : { columns, by: 'parts' };
}

interface Part {
  readonly text: string;
  readonly columns: readonly Column[];
  readonly isBracketed: boolean;
}

const BRACKETS = /[[(<{]([^\])>}]{1,60})[\])>}]?/gu;

/** Names in a heading, in order; units and marks alone are none. */
function partsOf(written: string): Part[] {
  const text = written.slice(0, 200).replace(STROKED_UNIT, ' ');
  const bracketed = [...text.matchAll(BRACKETS)].flatMap(([, inside]) => inside ?? []);
  const outside = text.replace(BRACKETS, ' ');
  return [
    ...split(outside).map((part) => ({ part, isBracketed: false })),
    // A letter or two in brackets is a unit.
    ...bracketed
      .flatMap(split)
      .filter((part) => plainHeading(part).length > 2)
      .map((part) => ({ part, isBracketed: true })),
  ].map(({ part, isBracketed }) => ({ text: part, columns: columnsOfHeading(part), isBracketed }));
}

function split(text: string): string[] {
  return text.split(BETWEEN).filter((part) => {
    const plain = plainHeading(part);
    return plain !== '' && !IDLE.test(plain);
  });
}

/**
 * Parts that are understood. A single word after one that is not understood may belong to that
 * one ("lug size / type" is no type of cable) and then says nothing, unless it names a carrier.
 */
function trusted(parts: readonly Part[]): Part[] {
  const isHeadKnown = (parts[0]?.columns.length ?? 0) > 0;
  return parts.filter(
    ({ text, columns, isBracketed }) =>
      columns.length > 0 &&
      (isHeadKnown || isBracketed || columns[0] === 'route' || plainHeading(text).includes(' ')),
  );
}

/** Columns that all parts can mean, or the one that takes them together; empty where they differ. */
function agreed(parts: readonly (readonly Column[])[]): readonly Column[] {
  const common = (parts[0] ?? []).filter((column) => parts.every((own) => own.includes(column)));
  if (common.length > 0) return common;
  const family = TOGETHER.find(
    ([main, ...others]) =>
      parts.every((own) => own.some((column) => column === main || others.includes(column))) &&
      (main === 'type' || parts.some((own) => own.includes(main))),
  );
  return family === undefined ? [] : [family[0]];
}
