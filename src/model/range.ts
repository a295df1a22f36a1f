import { z } from 'zod';

const positive = z.number().positive().finite();
/** A figure far outside what can be meant was written in another unit. */
const within = (least: number, most: number, unit: string) =>
  z
    .number()
    .min(least, `at least ${least} ${unit} is expected: check the unit`)
    .max(most, `at most ${most} ${unit} is expected: check the unit`);
const source = z.string().min(1).describe('Where the value comes from.');
const currencyCode = z.string().regex(/^[A-Z]{3}$/, 'three letters as in ISO 4217, such as EUR');
const currency = currencyCode.optional().describe('Of this price, where not that of the range.');

/** A filler tube: hollow, elastomeric, packed round and beside the cables. */
const FillerTube = z
  .strictObject({
    name: z.string().min(1),
    outsideMm: within(2, 500, 'mm'),
    boreMm: within(1, 500, 'mm'),
    lengthMm: within(10, 10_000, 'mm'),
    takesCableMm: z
      .strictObject({ smallestMm: z.number().nonnegative(), largestMm: positive })
      .refine(({ smallestMm, largestMm }) => smallestMm <= largestMm, {
        message: 'the smallest cable must not be larger than the largest',
        path: ['smallestMm'],
      })
      .nullable()
      .default(null)
      .describe('Cable diameters it takes when split over one; null when used whole only.'),
    cutToMm: positive
      .optional()
      .describe('Shortest length it may be cut to; twice the outside when absent.'),
    perPack: z.number().int().positive().default(1),
    price: z.number().nonnegative().optional().describe('Of a pack.'),
    currency,
    source,
  })
  .refine((tube) => tube.boreMm < tube.outsideMm, {
    message: 'the bore must be smaller than the outside',
    path: ['boreMm'],
  });

const ContainerKind = z.enum(['cartridge', 'foil', 'two-part']);

const Container = z
  .strictObject({
    sizeMl: within(5, 250_000, 'ml'),
    kind: ContainerKind.default('cartridge'),
    lossMl: z
      .number()
      .nonnegative()
      .default(0)
      .describe('What stays behind in the container and its nozzle.'),
    price: z.number().nonnegative().optional(),
    currency,
  })
  .refine((container) => container.lossMl < container.sizeMl, {
    message: 'the loss must be smaller than the container',
    path: ['lossMl'],
  });

/** What a bond carries, by substrate and condition; several rows a sealant. */
const BondAllowable = z.strictObject({
  substrate: z.string().min(1).describe('"concrete", "steel", "PVC", "any".'),
  condition: z.enum(['dry', 'wet', 'any']).default('any'),
  duration: z.enum(['short', 'lasting', 'any']).default('any'),
  direction: z.enum(['against fillers', 'off the face', 'any']).default('any'),
  shearKPa: within(0.1, 50_000, 'kPa'),
  factor: positive.default(1).describe('Already divided by, for the record.'),
  source,
});

export const Sealant = z.strictObject({
  name: z.string().min(1),
  containers: z.array(Container).min(1),
  openTimeMin: positive.optional(),
  bond: z.array(BondAllowable).default([]),
  source,
});

/** One tested record. A duty is inside only when one record covers every point. */
export const TestRecord = z.strictObject({
  name: z.string().min(1),
  duty: z.enum(['water', 'gas', 'smoke', 'fire', 'dust', 'pests', 'hazardous area', 'air']),
  standard: z.string().min(1),
  rating: z.string().optional(),
  largestHeadM: within(0.01, 1000, 'm').optional(),
  hostKinds: z.array(z.string()).optional(),
  hostThicknessMm: z.strictObject({ smallest: positive }).optional(),
  largestOpeningMm: z.strictObject({ widthMm: positive, heightMm: positive }).optional(),
  smallestDepthMm: positive.optional(),
  faces: z.number().int().min(1).max(2).optional(),
  largestCableMm: positive.optional(),
  smallestSeparationMm: z.number().nonnegative().optional(),
  emptyTubes: z.boolean().optional(),
  services: z
    .array(z.enum(['cable', 'conduit', 'duct', 'carrier', 'pipe']))
    .optional()
    .describe('What passed in the test besides cables.'),
  largestServiceMm: positive.optional().describe('Largest of those across.'),
  pipeEnds: z
    .enum(['U/U', 'C/U', 'U/C', 'C/C'])
    .optional()
    .describe('Ends of pipes and conduits in the test, inside the furnace first.'),
  cableTypes: z.array(z.string().min(1)).optional().describe('Words of the types tested.'),
  largestBundleMm: positive.optional(),
  hostDensityKgM3: z.strictObject({ smallest: positive }).optional(),
  orientation: z
    .enum(['upright', 'level'])
    .optional()
    .describe('How the host stood in the test: a wall upright, a floor level.'),
  largestGapMm: positive.optional().describe('Widest gap round what passed.'),
  spacingMm: positive.optional().describe('Least distance to the next opening.'),
  supportWithinMm: positive.optional().describe('Services held at most this far from the seal.'),
  source,
});

const Consumable = z.strictObject({
  name: z.string().min(1),
  unit: z.string().min(1),
  perSeal: z.number().nonnegative().default(0),
  perFace: z.number().nonnegative().default(0),
  perCable: z.number().nonnegative().default(0),
  perContainer: z.number().nonnegative().default(0),
  price: z.number().nonnegative().optional(),
  currency,
  source,
});

/** A tool to take along, by the user's own norm. */
const Tool = z.strictObject({
  name: z.string().min(1),
  perVisit: z.number().positive().default(1).describe('Pieces for one visit to one area.'),
  forContainers: ContainerKind.optional().describe('Only where such containers are used.'),
  aboveMm: positive
    .optional()
    .describe('Only where a centre lies higher than this above its level.'),
  source,
});

/** Quantities are counted by name, so a name stands for one thing. */
function eachNameOnce(
  items: readonly { readonly name: string }[],
  context: z.core.$RefinementCtx,
): void {
  const seen = new Set<string>();
  items.forEach(({ name }, at) => {
    if (seen.has(name)) {
      context.addIssue({ code: 'custom', path: [at, 'name'], message: `${name} is there twice` });
    }
    seen.add(name);
  });
}

/** Hours by the user's own rates; no public norm exists. */
export const LabourRate = z.strictObject({
  name: z.string().min(1),
  hoursPerSeal: z.number().nonnegative().default(0),
  hoursPerFace: z.number().nonnegative().default(0),
  hoursPerCable: z.number().nonnegative().default(0),
  high: z
    .strictObject({ aboveMm: positive, factor: z.number().min(1) })
    .optional()
    .describe('For holes whose centre lies higher above their level.'),
  slabFactor: z.number().min(1).default(1).describe('For holes through slabs and roofs.'),
  wetFactor: z.number().min(1).default(1).describe('For holes below the water level.'),
  pricePerHour: z.number().nonnegative().optional(),
  currency,
  source,
});

export const Range = z.strictObject({
  name: z.string().min(1),
  sample: z
    .boolean()
    .default(false)
    .describe('True for invented figures that must not be built from.'),
  currency: currencyCode.optional(),
  fillers: z.array(FillerTube).min(1).superRefine(eachNameOnce),
  sealants: z.array(Sealant).min(1).superRefine(eachNameOnce),
  packingAllowanceRatio: z.number().min(0).max(0.3).default(0),
  tubeClearanceMm: z.number().nonnegative().default(2),
  nozzleMm: positive.optional().describe('Smallest gap that a nozzle reaches into.'),
  records: z.array(TestRecord).default([]),
  consumables: z.array(Consumable).default([]).superRefine(eachNameOnce),
  tools: z.array(Tool).default([]).superRefine(eachNameOnce),
  labour: z.array(LabourRate).default([]).superRefine(eachNameOnce),
});

export type Sealant = z.infer<typeof Sealant>;
export type LabourRate = z.infer<typeof LabourRate>;
export type TestRecord = z.infer<typeof TestRecord>;
export type Range = z.infer<typeof Range>;
