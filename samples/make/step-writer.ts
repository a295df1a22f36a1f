import { createHash } from 'node:crypto';

/** A value of the DATA section, already in STEP's notation. */
export type Step = string & { readonly step: unique symbol };

const asStep = (text: string): Step => text as Step;

export const NULL = asStep('$');
/** For attributes that the schema derives. */
export const DERIVED = asStep('*');

export function text(value: string): Step {
  return asStep(`'${value.replaceAll("'", "''").replace(/[^\x20-\x7e]/gu, escaped)}'`);
}

export function textOrNull(value: string | null): Step {
  return value === null ? NULL : text(value);
}

/** ISO 10303-21 clause 6.4.3: code points beyond the basic alphabet. */
function escaped(character: string): string {
  const code = character.codePointAt(0) ?? 0;
  return `\\X2\\${code.toString(16).toUpperCase().padStart(4, '0')}\\X0\\`;
}

/** A real always has its decimal point. Rounded to a millionth of the unit. */
export function real(value: number): Step {
  const rounded = Math.round(value * 1e6) / 1e6;
  const digits = Object.is(rounded, -0) ? '0' : String(rounded);
  return asStep(digits.includes('.') ? digits : `${digits}.`);
}

export function integer(value: number): Step {
  return asStep(String(value));
}

export function enumeration(name: string): Step {
  return asStep(`.${name}.`);
}

export function boolean(value: boolean): Step {
  return asStep(value ? '.T.' : '.F.');
}

export function list(items: readonly Step[]): Step {
  return asStep(`(${items.join(',')})`);
}

/** A value of a named type, for SELECTs: `IFCLABEL('a')`. */
export function typed(type: string, value: Step): Step {
  return asStep(`${type.toUpperCase()}(${value})`);
}

/** Collects instances and prints a whole exchange file; the same calls give the same bytes. */
export class StepWriter {
  readonly #lines: string[] = [];
  readonly #schema: string;
  readonly #fileName: string;
  readonly #points = new Map<string, Step>();

  constructor(schema: string, fileName: string) {
    this.#schema = schema;
    this.#fileName = fileName;
  }

  add(type: string, attributes: readonly Step[]): Step {
    const id = this.#lines.length + 1;
    this.#lines.push(`#${id}=${type.toUpperCase()}(${attributes.join(',')});`);
    return asStep(`#${id}`);
  }

  /** Like `add`, but gives the same instance for the same attributes. */
  shared(type: string, attributes: readonly Step[]): Step {
    const key = `${type}(${attributes.join(',')})`;
    const known = this.#points.get(key);
    if (known !== undefined) return known;
    const added = this.add(type, attributes);
    this.#points.set(key, added);
    return added;
  }

  /** The 22 characters of a GlobalId, always the same for the same file and name. */
  globalId(name: string): Step {
    return text(globalIdOf(this.#fileName, name));
  }

  toText(dateTime: string): string {
    return [
      'ISO-10303-21;',
      'HEADER;',
      "FILE_DESCRIPTION(('ViewDefinition [notYetAssigned]'),'2;1');",
      `FILE_NAME('${this.#fileName}','${dateTime}',('sample'),('sample'),'samples/make.ts','samples/make.ts','');`,
      `FILE_SCHEMA(('${this.#schema}'));`,
      'ENDSEC;',
      'DATA;',
      ...this.#lines,
      'ENDSEC;',
      'END-ISO-10303-21;',
      '',
    ].join('\n');
  }
}

const ALPHABET = '0123456789ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz_$';

/** 128 bits of a hash of the names, written in the schema's own base 64 (first character 0–3). */
export function globalIdOf(fileName: string, name: string): string {
  const hash = createHash('sha256').update(`${fileName}\n${name}`).digest();
  let value = 0n;
  for (const byte of hash.subarray(0, 16)) value = value * 256n + BigInt(byte);
  let id = '';
  for (let index = 0; index < 22; index += 1) {
    id = (ALPHABET[Number(value % 64n)] ?? '0') + id;
    value /= 64n;
  }
  return id;
}
