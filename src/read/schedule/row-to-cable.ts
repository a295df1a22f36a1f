import type { Evidence } from '../../basics/evidence.ts';
import type { Cable, RowPlace } from '../../model/cable.ts';
import { alongsideText, circuitOf, circuitOfVoltage, currentOf, statusOf } from './cable-words.ts';
import type { Column } from './column-names.ts';
import { isUsualSize } from './conductor-size.ts';
import { type Designation, readDesignation } from './designation.ts';
import { type DiameterAnswer, lookUpDiameter, type TableIndex } from './look-up-diameter.ts';
import { type DecimalSign, type Measure, mmPer, readMeasure } from './read-number.ts';
import type { RowCells } from './row-cells.ts';
import { splitRoute } from './split-route.ts';

/** A row read as a cable, and what in it could not be read. */
export interface CableReading {
  readonly cable: Cable;
  /** Cells that do not hold what their heading says; two of them make the row unclear. */
  readonly misfits: readonly string[];
  /** Values that are of their heading's kind and yet unusual; beside a misfit they tell of a slip. */
  readonly oddities: readonly string[];
  /** Sentences on what could be read in more than one way. */
  readonly doubts: readonly string[];
  /** How the diameter was come by, where it was not given. */
  readonly lookedUp: DiameterAnswer | null;
  /** A status text that says nothing we know. */
  readonly unknownStatus: string | null;
}

export interface RowContext {
  readonly place: RowPlace;
  readonly decimal: DecimalSign;
  readonly index: TableIndex;
}

const SMALLEST_CABLE_MM = 0.8;
const LARGEST_CABLE_MM = 250;

/** Reads one row whose reference is known to be one. */
export function rowToCable(cells: RowCells, ref: string, context: RowContext): CableReading {
  const misfits: string[] = [];
  const doubts: string[] = [];
  const text = (column: Column) => cells.get(column)?.cell.text ?? null;
  const designation = joinedDesignation(cells, misfits, doubts);
  doubts.push(...designation.doubts);
  const bodies = bodiesOf(cells, designation, misfits, doubts);
  const given = givenDiameter(cells, context.decimal, misfits);
  const lookedUp = given === null ? lookUpDiameter(designation, context.index) : null;
  const diameter = given ?? tableDiameter(lookedUp);
  const statusText = text('status');
  const status = statusText === null ? null : statusOf(statusText);
  const cable: Cable = {
    id: '',
    ref,
    place: context.place,
    status: status ?? 'now',
    stage: text('stage'),
    type: typeText(cells),
    construction: designation.construction,
    cores: designation.cores,
    sizeMm2: designation.sizeMm2,
    bodies,
    bundle: bodies > 1 ? bundleFor(designation, bodies) : null,
    diameterMm: diameter?.value ?? null,
    smallestDiameterMm: diameter?.smallest ?? null,
    largestDiameterMm: diameter?.largest ?? null,
    massKgPerM: massOf(cells, context.decimal, misfits) ?? tableMass(lookedUp),
    from: text('from') ?? text('fromRoom'),
    to: text('to') ?? text('toRoom'),
    fromRoom: text('fromRoom'),
    toRoom: text('toRoom'),
    route: splitRoute(text('route') ?? ''),
    circuit: circuitFor(cells, designation),
    current: currentOf(text('current') ?? '') ?? currentOf(text('voltage') ?? ''),
    circuitRef: text('circuitRef') ?? circuitAsReference(cells),
    phase: text('phase'),
    remarks: text('remarks'),
    evidence: evidenceFor(cells, context, lookedUp),
  };
  if (designation.alongside !== null) {
    doubts.push(alongsideText(designation.alongside));
  }
  const { sizeMm2 } = designation;
  const isOdd = sizeMm2 !== null && !isUsualSize(sizeMm2);
  return {
    cable,
    misfits,
    oddities: isOdd ? [`${sizeMm2} mm² is no usual size of a conductor`] : [],
    doubts,
    lookedUp,
    unknownStatus: statusText !== null && status === null ? statusText : null,
  };
}

/** Where circuits name the cables, the reference is that of the circuit too. */
function circuitAsReference(cells: RowCells): string | null {
  const ref = cells.get('ref');
  return ref?.found.insteadOf === 'circuitRef' ? ref.cell.text : null;
}

function typeText(cells: RowCells): string | null {
  const columns: readonly Column[] = ['type', 'construction', 'cores', 'size'];
  const texts = columns.flatMap((column) => cells.get(column)?.cell.text ?? []);
  return cells.get('type')?.cell.text ?? (texts.length === 0 ? null : texts.join(' '));
}

/** The designation from its own column, completed and checked by columns for cores and size. */
function joinedDesignation(cells: RowCells, misfits: string[], doubts: string[]): Designation {
  const words = (['type', 'construction'] as const).flatMap(
    (column) => cells.get(column)?.cell.text ?? [],
  );
  const whole = readDesignation(words.join(' '));
  const cores = coresCell(cells, misfits);
  const size = sizeCell(cells, misfits);
  const joined: Designation = {
    ...whole,
    isFibre: whole.isFibre || (cores?.isFibre ?? false) || (size?.isFibre ?? false),
    cores: cores?.cores ?? size?.cores ?? whole.cores,
    sizeMm2: size?.sizeMm2 ?? cores?.sizeMm2 ?? whole.sizeMm2,
    bodies: Math.max(whole.bodies, cores?.bodies ?? 1, size?.bodies ?? 1),
    bundle: cores?.bundle ?? size?.bundle ?? whole.bundle,
    voltage: whole.voltage ?? cells.get('voltage')?.cell.text ?? null,
    otherConductor: whole.otherConductor ?? cores?.otherConductor ?? size?.otherConductor ?? null,
    alongside: whole.alongside ?? cores?.alongside ?? size?.alongside ?? null,
    doubts: [...whole.doubts, ...(cores?.doubts ?? []), ...(size?.doubts ?? [])],
  };
  if (differ(whole.cores, joined.cores)) {
    doubts.push(`Its type says ${whole.cores} cores, its column says ${joined.cores}.`);
  }
  if (differ(whole.sizeMm2, joined.sizeMm2)) {
    doubts.push(`Its type says ${whole.sizeMm2} mm², its column says ${joined.sizeMm2} mm².`);
  }
  return joined;
}

function differ(a: number | null, b: number | null): boolean {
  return a !== null && b !== null && Math.abs(a - b) > 1e-6;
}

/** A cell such as `4`, `4c`, `3x1c`, `2x(4c)`, `10 pr`, `3+E`. */
function coresCell(cells: RowCells, misfits: string[]): Designation | null {
  const entry = cells.get('cores');
  if (entry === undefined) return null;
  const text = entry.cell.text;
  const isPairs = /pair|paar|paire|pares|copp/iu.test(entry.found.heading);
  const written = /^\d{1,3}$/u.test(text) ? `${text} ${isPairs ? 'pair' : 'core'}` : text;
  const withE = /^(\d{1,2}) ?\+ ?(?:e|pe)$/iu.exec(text);
  const read = readDesignation(withE?.[1] === undefined ? written : `${Number(withE[1]) + 1} core`);
  if (read.cores === null) misfits.push(`“${text}” under “${entry.found.heading}”`);
  return read;
}

/** A cell such as `16`, `2,5 mm²`, `12 AWG`, `4x16`, `3x1x185`. */
function sizeCell(cells: RowCells, misfits: string[]): Designation | null {
  const entry = cells.get('size');
  if (entry === undefined) return null;
  const text = entry.cell.text.replace(/(?<=\d) ?mm$/u, '');
  const unit = entry.found.unit ?? (/awg|gauge/iu.test(entry.found.heading) ? 'awg' : 'mm2');
  const isPlain = /^\d{1,4}(?:[.,]\d{1,2})?$/u.test(text);
  const isAught = /^\d\/0$/u.test(text);
  const suffix =
    isPlain && unit !== 'in' ? ` ${unit === 'mm' ? 'mm2' : unit}` : isAught ? ' AWG' : '';
  const read = readDesignation(`${text}${suffix}`);
  if (read.sizeMm2 === null && !read.isFibre) {
    misfits.push(`“${entry.cell.text}” under “${entry.found.heading}”`);
  }
  return read;
}

function bodiesOf(
  cells: RowCells,
  designation: Designation,
  misfits: string[],
  doubts: string[],
): number {
  const entry = cells.get('quantity');
  if (entry === undefined) return designation.bodies;
  const count = Number(/^(\d{1,3})(?: ?(?:no|off|nr|x|st|stk)\.?)?$/iu.exec(entry.cell.text)?.[1]);
  if (!Number.isInteger(count) || count < 1) {
    misfits.push(`“${entry.cell.text}” under “${entry.found.heading}”`);
    return designation.bodies;
  }
  if (designation.bodies === 1 || count === 1) return Math.max(count, designation.bodies);
  if (count !== designation.bodies) {
    doubts.push(
      `The row counts ${count} and its designation ${designation.bodies} cables; both together would be ${count * designation.bodies}.`,
    );
    return count * designation.bodies;
  }
  doubts.push(`The row counts ${count} cables of a designation that counts ${count} already.`);
  return count;
}

function bundleFor(designation: Designation, bodies: number): Cable['bundle'] {
  if (designation.bundle !== null) return designation.bundle;
  return designation.cores === 1 && bodies % 3 === 0 ? 'trefoil' : null;
}

function givenDiameter(cells: RowCells, decimal: DecimalSign, misfits: string[]): Measure | null {
  const own = lengthCell(cells, 'diameter', decimal, misfits);
  const smallest = lengthCell(cells, 'smallestDiameter', decimal, misfits)?.value ?? own?.smallest;
  const largest = lengthCell(cells, 'largestDiameter', decimal, misfits)?.value ?? own?.largest;
  const value =
    own?.value ??
    (smallest != null && largest != null ? (smallest + largest) / 2 : (largest ?? smallest));
  if (value == null) return null;
  return { value, smallest: smallest ?? null, largest: largest ?? null, unit: null };
}

function lengthCell(
  cells: RowCells,
  column: Column,
  decimal: DecimalSign,
  misfits: string[],
): Measure | null {
  const entry = cells.get(column);
  if (entry === undefined) return null;
  const measure = readMeasure(entry.cell, decimal);
  const factor = measure === null ? null : mmPer(measure.unit ?? entry.found.unit ?? 'mm');
  const valueMm = measure === null || factor === null ? null : round(measure.value * factor);
  if (
    measure === null ||
    factor === null ||
    valueMm === null ||
    valueMm < SMALLEST_CABLE_MM ||
    valueMm > LARGEST_CABLE_MM
  ) {
    misfits.push(`“${entry.cell.text}” under “${entry.found.heading}”`);
    return null;
  }
  const scaled = (value: number | null) => (value === null ? null : round(value * factor));
  return {
    value: valueMm,
    smallest: scaled(measure.smallest),
    largest: scaled(measure.largest),
    unit: 'mm',
  };
}

/** Products such as 0.95 × 25.4 are cut to a thousandth of a millimetre. */
function round(valueMm: number): number {
  return Math.round(valueMm * 1000) / 1000;
}

function tableDiameter(answer: DiameterAnswer | null): Measure | null {
  if (answer?.found !== 'row') return null;
  const { row, smallestMm, largestMm } = answer;
  const isSpread = smallestMm < largestMm;
  return {
    value: row.diameterMm,
    smallest: isSpread ? smallestMm : null,
    largest: isSpread ? largestMm : null,
    unit: 'mm',
  };
}

function tableMass(answer: DiameterAnswer | null): number | null {
  return answer?.found === 'row' ? answer.row.massKgPerM : null;
}

function massOf(cells: RowCells, decimal: DecimalSign, misfits: string[]): number | null {
  const entry = cells.get('mass');
  if (entry === undefined) return null;
  const measure = readMeasure(entry.cell, decimal);
  if (measure === null) {
    misfits.push(`“${entry.cell.text}” under “${entry.found.heading}”`);
    return null;
  }
  const unit = measure.unit ?? entry.found.unit;
  return unit === 'kg/km' ? measure.value / 1000 : measure.value;
}

function circuitFor(cells: RowCells, designation: Designation): Cable['circuit'] {
  const text = (column: Column) => cells.get(column)?.cell.text ?? '';
  return (
    circuitOf(text('circuit')) ??
    circuitOfVoltage(text('circuit')) ??
    (designation.isFibre ? 'fibre' : null) ??
    circuitOfVoltage(text('voltage')) ??
    (/(?<![\p{L}\d])cat(?:egory)?[-. ]{0,2}[5-8]/iu.test(designation.construction ?? '')
      ? 'data'
      : null)
  );
}

function evidenceFor(
  cells: RowCells,
  { place }: RowContext,
  lookedUp: DiameterAnswer | null,
): readonly Evidence[] {
  const at = { fileKey: place.fileKey, sheet: place.sheet, row: place.row };
  const evidence: Evidence[] = [{ fact: 'cable', text: 'row of the cable schedule', place: at }];
  const given = cells.get('diameter') ?? cells.get('largestDiameter');
  if (lookedUp === null && given !== undefined) {
    const text = `“${given.cell.text}” under “${given.found.heading}”`;
    evidence.push({ fact: 'diameter', text, place: at });
  }
  if (lookedUp?.found === 'row') {
    evidence.push({ fact: 'diameter', text: lookedUp.reason, place: at });
  }
  return evidence;
}
