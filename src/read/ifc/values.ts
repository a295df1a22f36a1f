import type { StepValue } from '../../formats/ifc/step-values.ts';

/** Number of the record referred to, or null. */
export function refOf(value: StepValue | undefined): number | null {
  return value?.kind === 'ref' ? value.id : null;
}

/** A text, also inside a typed value; null for anything else. */
export function textOf(value: StepValue | undefined): string | null {
  if (value?.kind === 'text') return value.text;
  return value?.kind === 'typed' ? textOf(value.value) : null;
}

/** A finite number, also inside a typed value; null for anything else. */
export function numberOf(value: StepValue | undefined): number | null {
  if (value?.kind === 'number') return Number.isFinite(value.value) ? value.value : null;
  return value?.kind === 'typed' ? numberOf(value.value) : null;
}

/** An enumeration value, also inside a typed value; null for anything else. */
export function enumOf(value: StepValue | undefined): string | null {
  if (value?.kind === 'enum') return value.name;
  return value?.kind === 'typed' ? enumOf(value.value) : null;
}

/** A list, also inside a typed value; empty for anything else. */
export function listOf(value: StepValue | undefined): readonly StepValue[] {
  if (value?.kind === 'list') return value.items;
  return value?.kind === 'typed' ? listOf(value.value) : [];
}

/** Record numbers in a list, in order. */
export function refsOf(value: StepValue | undefined): readonly number[] {
  const refs: number[] = [];
  for (const item of listOf(value)) if (item.kind === 'ref') refs.push(item.id);
  return refs;
}

/** Numbers in a list; what is none becomes NaN, so that the caller sees it. */
export function numbersOf(value: StepValue | undefined): readonly number[] {
  return listOf(value).map((item) => numberOf(item) ?? Number.NaN);
}
