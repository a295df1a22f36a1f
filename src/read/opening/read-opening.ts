import { z } from 'zod';
import type { Shape } from '../../geometry/shape.ts';
import type { Body } from '../../model/arrangement.ts';
import type { InputFile } from '../../model/input.ts';
import { readYaml } from '../shared/read-yaml.ts';

const positive = z.number().positive().finite();
const point = z.tuple([z.number().finite(), z.number().finite()]);

const ShapeFile = z.discriminatedUnion('type', [
  z.strictObject({ type: z.literal('circle'), diameterMm: positive }),
  z.strictObject({ type: z.literal('rectangle'), widthMm: positive, heightMm: positive }),
  z
    .strictObject({ type: z.literal('slot'), lengthMm: positive, widthMm: positive })
    .refine((slot) => slot.lengthMm >= slot.widthMm, {
      message: 'the length of a slot is its longer side; give an upright one as a polygon',
      path: ['lengthMm'],
    }),
  z.strictObject({ type: z.literal('oval'), lengthMm: positive, widthMm: positive }),
  z.strictObject({
    type: z.literal('polygon'),
    pointsMm: z.array(point).min(3),
    islandsMm: z.array(z.array(point).min(3)).optional(),
  }),
]);

const fixedAt = z
  .strictObject({ xMm: z.number(), yMm: z.number(), angleDeg: z.number().default(0) })
  .describe('Where it stands already, from the centre of the opening (a polygon: its own axes).');

const common = {
  ref: z.string().min(1).optional(),
  count: z.number().int().min(1).max(100_000).default(1),
  bundle: z
    .strictObject({ id: z.string().min(1), form: z.enum(['trefoil', 'flat', 'spread']) })
    .optional(),
  massKgPerM: positive.optional(),
  separationClass: z.string().optional(),
};

const CableFile = z.strictObject({
  ...common,
  diameterMm: positive,
  fixedAt: fixedAt.optional(),
  drawCord: z.boolean().default(false),
});

const RectangleFile = z.strictObject({
  ...common,
  widthMm: positive,
  heightMm: positive,
  turns: z.enum(['none', 'quarter', 'free']).default('none'),
  fixedAt: fixedAt.optional(),
});

/** A file for `sealbook size --from`: one opening and what passes it. */
const OpeningFile = z.strictObject({
  opening: ShapeFile,
  cables: z.array(CableFile).default([]),
  rectangles: z.array(RectangleFile).default([]),
  separationMm: z.number().nonnegative().optional(),
  edgeMm: z.number().nonnegative().optional(),
  classSeparations: z
    .array(
      z.strictObject({
        classes: z.tuple([z.string(), z.string()]),
        separationMm: z.number().nonnegative(),
      }),
    )
    .optional(),
});

export interface OpeningTask {
  readonly opening: Shape;
  readonly bodies: readonly Body[];
  readonly separationMm: number | null;
  readonly edgeMm: number | null;
  readonly classSeparations: readonly {
    readonly classes: readonly [string, string];
    readonly separationMm: number;
  }[];
}

/** Reads an opening and its contents from YAML or JSON. Throws `settings-invalid` with file and line. */
export function readOpening(file: InputFile): OpeningTask {
  const { value } = readYaml(file, OpeningFile);
  const circles = value.cables.flatMap((cable, place) => repeat(cable, `${place + 1}`, circleBody));
  const rectangles = value.rectangles.flatMap((rectangle, place) =>
    repeat(rectangle, `r${place + 1}`, rectangleBody),
  );
  return {
    opening: withoutUndefined(value.opening),
    bodies: [...circles, ...rectangles],
    separationMm: value.separationMm ?? null,
    edgeMm: value.edgeMm ?? null,
    classSeparations: value.classSeparations ?? [],
  };
}

type CableEntry = z.infer<typeof CableFile>;
type RectangleEntry = z.infer<typeof RectangleFile>;

function repeat<T extends CableEntry | RectangleEntry>(
  entry: T,
  place: string,
  make: (entry: T, ref: string) => Body,
): Body[] {
  const name = entry.ref ?? place;
  return Array.from({ length: entry.count }, (_, index) =>
    make(entry, entry.count === 1 ? name : `${name}.${index + 1}`),
  );
}

function circleBody(entry: CableEntry, ref: string): Body {
  return {
    ...shared(entry, ref),
    outline: { type: 'circle', diameterMm: entry.diameterMm },
    ...(entry.drawCord ? { isDrawCord: true } : {}),
  };
}

function rectangleBody(entry: RectangleEntry, ref: string): Body {
  const { widthMm, heightMm, turns } = entry;
  return { ...shared(entry, ref), outline: { type: 'rectangle', widthMm, heightMm, turns } };
}

function shared(entry: CableEntry | RectangleEntry, ref: string): Omit<Body, 'outline'> {
  const { fixedAt: place } = entry;
  return {
    ref,
    ...(entry.bundle === undefined ? {} : { bundle: entry.bundle }),
    ...(entry.massKgPerM === undefined ? {} : { massKgPerM: entry.massKgPerM }),
    ...(entry.separationClass === undefined ? {} : { separationClass: entry.separationClass }),
    ...(place === undefined
      ? {}
      : {
          fixedAt: { xMm: place.xMm, yMm: place.yMm, angleRad: (place.angleDeg * Math.PI) / 180 },
        }),
  };
}

function withoutUndefined(shape: z.infer<typeof ShapeFile>): Shape {
  if (shape.type !== 'polygon') return shape;
  const { pointsMm, islandsMm } = shape;
  return { type: 'polygon', pointsMm, ...(islandsMm === undefined ? {} : { islandsMm }) };
}
