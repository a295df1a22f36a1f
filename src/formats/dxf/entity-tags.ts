import type { DxfLook, DxfPoint } from './dxf-entity.ts';

/** Group codes and values of one record, in file order. */
export interface EntityTags {
  readonly type: string;
  readonly codes: readonly number[];
  readonly values: readonly (string | number)[];
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

export function asNumber(value: string | number | undefined): number {
  return typeof value === 'number' && Number.isFinite(value) ? value : 0;
}

/** Shared by all entities that give no extrusion: most of them. */
const UP: DxfPoint = [0, 0, 1];
const BY_LAYER = 256;
const LINEWEIGHT_BY_LAYER = -1;

/** Entities come in rows that look alike: these keep one look for them all. */
export class Looks {
  private readonly recent: DxfLook[] = [];

  /** The look of an entity; one that was seen lately is used again. */
  of(tags: EntityTags): DxfLook {
    let layer = '0';
    let colour = BY_LAYER;
    let trueColour: number | null = null;
    let lineweight = LINEWEIGHT_BY_LAYER;
    let linetype = 'BYLAYER';
    let isInvisible = false;
    let isPaperSpace = false;
    let hasExtrusion = false;
    const { codes, values } = tags;
    // One pass: this runs for every entity of a drawing.
    for (let i = 0; i < codes.length; i++) {
      const value = values[i];
      switch (codes[i]) {
        case 8:
          layer = String(value);
          break;
        case 6:
          linetype = String(value);
          break;
        case 60:
          isInvisible = value === 1;
          break;
        case 62:
          colour = asNumber(value);
          break;
        case 67:
          isPaperSpace = value === 1;
          break;
        case 210:
          hasExtrusion = true;
          break;
        case 370:
          lineweight = asNumber(value);
          break;
        case 420:
          trueColour = asNumber(value);
          break;
      }
    }
    const extrusion: DxfPoint = hasExtrusion
      ? [numberOf(tags, 210, 0), numberOf(tags, 220, 0), numberOf(tags, 230, 1)]
      : UP;
    for (const look of this.recent) {
      if (
        look.layer === layer &&
        look.colour === colour &&
        look.trueColour === trueColour &&
        look.lineweight === lineweight &&
        look.linetype === linetype &&
        look.isInvisible === isInvisible &&
        look.isPaperSpace === isPaperSpace &&
        look.extrusion === extrusion
      ) {
        return look;
      }
    }
    const look: DxfLook = {
      layer,
      colour,
      trueColour,
      lineweight,
      linetype,
      isInvisible,
      isPaperSpace,
      extrusion,
    };
    if (this.recent.length >= MOST_RECENT) this.recent.shift();
    this.recent.push(look);
    return look;
  }
}

const MOST_RECENT = 8;

export const handleOf = (tags: EntityTags): string => textOf(tags, 5) ?? '';

export const radians = (degrees: number): number => (degrees * Math.PI) / 180;

/** Sweep from start to end anticlockwise, in (0, 2π]. */
export function sweepBetween(startRad: number, endRad: number): number {
  const full = 2 * Math.PI;
  const sweep = (endRad - startRad) % full;
  return sweep <= 1e-12 ? sweep + full : sweep;
}
