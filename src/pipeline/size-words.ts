import { SealbookError } from '../basics/errors.ts';
import type { Shape } from '../geometry/shape.ts';
import type { Body } from '../model/arrangement.ts';

/** More than this on one line is a slip of the key. */
const MOST_CABLES = 100_000;
const NUMBER = String.raw`\d+(?:\.\d+)?`;
const CIRCLE = new RegExp(`^(${NUMBER})$`);
const RECTANGLE = new RegExp(`^(${NUMBER})[x×](${NUMBER})$`, 'i');
const CABLES = new RegExp(`^(?:(\\d+)[x×])?(${NUMBER})$`, 'i');

/** An opening as typed: "150" is a circle by its diameter, "300x200" a rectangle; mm. Throws `usage`. */
export function parseOpening(text: string): Shape {
  const trimmed = text.trim();
  const circle = CIRCLE.exec(trimmed);
  if (circle !== null) {
    return { type: 'circle', diameterMm: positive(circle[1], text) };
  }
  const rectangle = RECTANGLE.exec(trimmed);
  if (rectangle !== null) {
    return {
      type: 'rectangle',
      widthMm: positive(rectangle[1], text),
      heightMm: positive(rectangle[2], text),
    };
  }
  throw unclear(
    'opening',
    text,
    'Give a diameter such as 150 or width and height such as 300x200, in mm.',
  );
}

/** Cables as typed: "3x37,12" is three of 37 mm and one of 12 mm. References count from 1. Throws `usage`. */
export function parseCables(text: string): Body[] {
  const diameters: number[] = [];
  for (const part of text
    .split(',')
    .map((each) => each.trim())
    .filter((each) => each !== '')) {
    const match = CABLES.exec(part);
    if (match === null) throw unclear('cable', part, 'Give diameters such as 3x37,12, in mm.');
    const count = match[1] === undefined ? 1 : Number(match[1]);
    if (count < 1 || diameters.length + count > MOST_CABLES) {
      throw unclear('number of cables', part, `Give between 1 and ${MOST_CABLES} cables.`);
    }
    const diameterMm = positive(match[2], part);
    for (let index = 0; index < count; index += 1) diameters.push(diameterMm);
  }
  return diameters.map((diameterMm, index) => ({
    ref: String(index + 1),
    outline: { type: 'circle', diameterMm },
  }));
}

/** A distance as typed, mm; 0 is allowed. Throws `usage`. */
export function parseLength(option: string, text: string): number {
  const value = Number(text.trim() === '' ? Number.NaN : text);
  if (Number.isFinite(value) && value >= 0) return value;
  throw unclear(`length after ${option}`, text, 'Give millimetres, 0 or more.');
}

function positive(digits: string | undefined, text: string): number {
  const value = Number(digits);
  if (Number.isFinite(value) && value > 0) return value;
  throw unclear('size', text, 'Give millimetres above 0.');
}

function unclear(what: string, text: string, todo: string): SealbookError {
  return new SealbookError('usage', `The ${what} "${text.slice(0, 60)}" is not understood.`, {
    todo,
  });
}
