import { z } from 'zod';
import type { Shape } from '../../geometry/shape.ts';
import type { Body } from '../../model/arrangement.ts';
import type { InputFile } from '../../model/input.ts';
import type { Duty, SealHole } from '../../model/seal.ts';
import { DutyRule, Settings } from '../../model/settings.ts';
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
  /** Depth of the host. */
  thicknessMm: positive.optional(),
  /** What the hole is, for limits that hold in some raceways only. */
  raceway: z.enum(['opening', 'sleeve', 'conduit', 'duct', 'trunking']).optional(),
  /** What the sealant bonds to: "concrete". */
  substrate: z.string().min(1).optional(),
  hostKinds: z.array(z.enum(['wall', 'slab', 'roof', 'footing', 'chamber', 'other'])).optional(),
  duties: z
    .array(
      z.strictObject({
        duty: DutyRule.shape.duty,
        headM: z.number().nonnegative().optional(),
        /** Head at the lowest point that falls with height; else the same all over. */
        fallsWithHeight: z.boolean().default(false),
        side: z.enum(['near', 'far']).optional(),
        rating: z.string().optional(),
      }),
    )
    .default([]),
  /** As in the project file; `separationMm` and `edgeMm` above go before it. */
  design: Settings.shape.design.optional(),
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
  readonly duties: readonly Duty[];
  /** What the file says of the hole; nothing where it is silent. */
  readonly hole: Partial<SealHole>;
  /** Null where the file has no settings of its own. */
  readonly design: Settings['design'] | null;
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
    duties: value.duties.map(dutyOf),
    hole: holeOf(value),
    design: value.design ?? null,
  };
}

type OpeningEntry = z.infer<typeof OpeningFile>;

function holeOf({ thicknessMm, raceway, substrate, hostKinds }: OpeningEntry): Partial<SealHole> {
  return {
    ...(thicknessMm === undefined ? {} : { thicknessMm }),
    ...(raceway === undefined ? {} : { raceway }),
    ...(substrate === undefined ? {} : { substrate }),
    ...(hostKinds === undefined ? {} : { hostKinds }),
  };
}

function dutyOf(entry: OpeningEntry['duties'][number]): Duty {
  const { duty, headM, fallsWithHeight, side, rating } = entry;
  return {
    kind: duty,
    headM: headM ?? null,
    ...(fallsWithHeight ? { headIs: 'from level' as const } : {}),
    side: side ?? null,
    rating: rating ?? null,
    reason: 'asked for with the opening',
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
