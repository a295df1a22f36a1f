import { SealbookError } from '../../basics/errors.ts';
import { type IfcSchema, ifcClass } from './step-schema.ts';
import { stepString } from './step-text.ts';

/** A parameter as it is written: `'text'`, `12.`, `#7`, `(#1,#2)`, `.T.`. */
export type StepToken = string;

export const text = (value: string): StepToken => stepString(value);
export const ref = (id: number): StepToken => `#${id}`;
export const refs = (ids: readonly number[]): StepToken => `(${ids.map(ref).join(',')})`;
export const name = (value: string): StepToken => `.${value}.`;
export const typed = (type: string, token: StepToken): StepToken =>
  `${type.toUpperCase()}(${token})`;
export const list = (tokens: readonly StepToken[]): StepToken => `(${tokens.join(',')})`;

/** A number as a STEP real, which always has a point. @source ISO 10303-21:2016, clause 6.4.2. */
export function real(value: number): StepToken {
  if (!Number.isFinite(value)) throw new RangeError(`A model can't hold the number ${value}.`);
  const [mantissa = '0', exponent] = String(value === 0 ? 0 : value).split('e');
  const pointed = mantissa.includes('.') ? mantissa : `${mantissa}.`;
  return exponent === undefined ? pointed : `${pointed}E${exponent.replace('+', '')}`;
}

/** Records written one after another, each checked against the attributes of its class. */
export class StepLines {
  readonly schema: IfcSchema;
  #next: number;
  readonly #lines: string[] = [];
  readonly #replaced = new Map<number, string>();

  /** @param firstId Number of the first record written. */
  constructor(schema: IfcSchema, firstId: number) {
    this.schema = schema;
    this.#next = firstId;
  }

  /**
   * Writes a record; attributes not given are left empty. Gives its number.
   *
   * @throws SealbookError `internal` for a class or attribute that the schema doesn't have.
   */
  add(className: string, values: Readonly<Record<string, StepToken>>): number {
    const id = this.#next;
    this.#next += 1;
    this.#lines.push(`#${id}=${this.#recordText(className, values)}`);
    return id;
  }

  /** Writes a record under a number that the file has already, in place of the line there. */
  replace(id: number, className: string, values: Readonly<Record<string, StepToken>>): void {
    this.#replaced.set(id, `#${id}=${this.#recordText(className, values)}`);
  }

  /** Lines that stand in place of others, by their number. */
  get replaced(): ReadonlyMap<number, string> {
    return this.#replaced;
  }

  get lines(): readonly string[] {
    return this.#lines;
  }

  #recordText(className: string, values: Readonly<Record<string, StepToken>>): string {
    const known = ifcClass(this.schema, className);
    const names = known?.attributes.map((attribute) => attribute.name) ?? [];
    const stranger = Object.keys(values).find((each) => !names.includes(each));
    if (known === null || stranger !== undefined) {
      const what = known === null ? className : `${className}.${stranger}`;
      throw new SealbookError('internal', `${this.schema} has no ${what}.`);
    }
    const tokens = names.map((each) => values[each] ?? '$');
    return `${className.toUpperCase()}(${tokens.join(',')});`;
  }
}
