import type { DxfCommon, DxfPoint } from './dxf-entity.ts';

/** Group codes and values of one record, in file order. */
export interface EntityTags {
  readonly type: string;
  readonly codes: readonly number[];
  readonly values: readonly (string | number | boolean)[];
}

/** First value with this code as a number; `fallback` where there is none. */
export function numberOf(tags: EntityTags, code: number, fallback: number): number {
  const at = tags.codes.indexOf(code);
  const value = at === -1 ? undefined : tags.values[at];
  return typeof value === 'number' && Number.isFinite(value) ? value : fallback;
}

/** First value with this code as text, or null. */
export function textOf(tags: EntityTags, code: number): string | null {
  const at = tags.codes.indexOf(code);
  const value = at === -1 ? undefined : tags.values[at];
  return typeof value === 'string' ? value : null;
}

/** The point whose x has this code (y +10, z +20); missing parts are 0. */
export function pointOf(tags: EntityTags, code: number): DxfPoint {
  return [numberOf(tags, code, 0), numberOf(tags, code + 10, 0), numberOf(tags, code + 20, 0)];
}

export function hasCode(tags: EntityTags, code: number): boolean {
  return tags.codes.includes(code);
}

/** All points whose x has this code, each with the y and z that follow it. */
export function pointsOf(tags: EntityTags, code: number): DxfPoint[] {
  const points: DxfPoint[] = [];
  for (let i = 0; i < tags.codes.length; i++) {
    if (tags.codes[i] === code) points.push(pointAt(tags, i));
  }
  return points;
}

/** All numbers with this code, in order. */
export function numbersOf(tags: EntityTags, code: number): number[] {
  const numbers: number[] = [];
  for (let i = 0; i < tags.codes.length; i++) {
    const value = tags.values[i];
    if (tags.codes[i] === code && typeof value === 'number') numbers.push(value);
  }
  return numbers;
}

/** The point that begins at tag `i`: its y and z are the next tags, if they have the right codes. */
export function pointAt(tags: EntityTags, i: number): DxfPoint {
  const code = tags.codes[i] ?? 0;
  const x = tags.values[i];
  const y = tags.codes[i + 1] === code + 10 ? tags.values[i + 1] : 0;
  const z = tags.codes[i + 2] === code + 20 ? tags.values[i + 2] : 0;
  return [asNumber(x), asNumber(y), asNumber(z)];
}

export function asNumber(value: string | number | boolean | undefined): number {
  return typeof value === 'number' && Number.isFinite(value) ? value : 0;
}

/** Shared by all entities that give no extrusion: most of them. */
const UP: DxfPoint = [0, 0, 1];
const BY_LAYER = 256;
const LINEWEIGHT_BY_LAYER = -1;

/** The part that all entities share. */
export function commonOf(tags: EntityTags): DxfCommon {
  const extrusion: DxfPoint = hasCode(tags, 210)
    ? [numberOf(tags, 210, 0), numberOf(tags, 220, 0), numberOf(tags, 230, 1)]
    : UP;
  return {
    type: tags.type,
    handle: textOf(tags, 5) ?? '',
    layer: textOf(tags, 8) ?? '0',
    colour: numberOf(tags, 62, BY_LAYER),
    trueColour: hasCode(tags, 420) ? numberOf(tags, 420, 0) : null,
    lineweight: numberOf(tags, 370, LINEWEIGHT_BY_LAYER),
    linetype: textOf(tags, 6) ?? 'BYLAYER',
    isInvisible: numberOf(tags, 60, 0) === 1,
    isPaperSpace: numberOf(tags, 67, 0) === 1,
    extrusion,
  };
}

export const radians = (degrees: number): number => (degrees * Math.PI) / 180;

/** Sweep from start to end anticlockwise, in (0, 2π]. */
export function sweepBetween(startRad: number, endRad: number): number {
  const full = 2 * Math.PI;
  const sweep = (endRad - startRad) % full;
  return sweep <= 1e-12 ? sweep + full : sweep;
}
