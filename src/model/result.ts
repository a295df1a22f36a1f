import { z } from 'zod';

// The contract of result.json. Fields may be added, so objects are loose; those named here stay.
const point2 = z.tuple([z.number(), z.number()]);
const point3 = z.tuple([z.number(), z.number(), z.number()]);
const count = z.number().int().nonnegative();
const ratio = z.number().nonnegative();

const ShapeJson = z.discriminatedUnion('type', [
  z.looseObject({ type: z.literal('circle'), diameterMm: z.number() }),
  z.looseObject({ type: z.literal('rectangle'), widthMm: z.number(), heightMm: z.number() }),
  z.looseObject({ type: z.literal('slot'), lengthMm: z.number(), widthMm: z.number() }),
  z.looseObject({ type: z.literal('oval'), lengthMm: z.number(), widthMm: z.number() }),
  z.looseObject({
    type: z.literal('polygon'),
    pointsMm: z.array(point2).min(3),
    islandsMm: z.array(z.array(point2)).optional(),
  }),
]);

const ArrangementJson = z.looseObject({
  verdict: z.enum(['fits', 'cannot fit', 'not found']),
  proof: z.string(),
  separationMm: z.number().describe('Asked for, between surfaces.'),
  edgeMm: z.number().describe('Asked for, to the wall.'),
  gapMm: z.number().nullable().describe('Largest common gap found; null when not even touching.'),
  items: z.array(
    z.looseObject({
      ref: z.string(),
      xMm: z.number(),
      yMm: z.number(),
      diameterMm: z.number().nullable().describe('Null for a rectangle: see widthMm, heightMm.'),
    }),
  ),
});

const CheckJson = z.looseObject({
  name: z.string(),
  value: z.number().nullable(),
  unit: z.string(),
  limit: z.number().nullable(),
  ratio: ratio.nullable(),
  verdict: z.enum(['met', 'not met', 'not assessed']),
  missing: z.array(z.string()),
  source: z.string(),
});

const FillerPiecesJson = z.looseObject({
  name: z.string(),
  whole: count,
  split: count,
  lengthMm: z.number().describe('As cut.'),
  sets: count.describe('Pieces are sets x (whole + split).'),
});

const SealantJson = z.looseObject({
  perFaceMl: z.number(),
  faces: count,
  netMl: z.number(),
  withAllowancesMl: z.number(),
  containers: z.array(z.looseObject({ sizeMl: z.number(), count })),
});

const StageJson = z.looseObject({
  name: z.string().describe('"now", then the stages as the schedule names them.'),
  comes: z.array(z.string()),
  refs: z.array(z.string()).describe('What passes from this stage on.'),
  fillerQuantities: z.array(FillerPiecesJson),
  freeAreaMm2: z.number(),
  fillRatio: ratio,
  sealant: SealantJson,
  checks: z.array(CheckJson),
});

const RemedyJson = z.looseObject({
  settles: z.string().describe('Name of the check, or "arrangement".'),
  kind: z.string(),
  text: z.string(),
});

/** One seal, as `sealbook size --json` prints it and as result.json holds it. */
export const SealJson = z.looseObject({
  path: z.enum(['annulus', 'bore']),
  of: z.string().nullable().describe('Id of the hollow service whose bore this is.'),
  state: z.enum(['designed', 'query', 'none']),
  reason: z.string().nullable(),
  arrangement: ArrangementJson.nullable(),
  fillers: z.array(
    z.looseObject({
      name: z.string(),
      outsideMm: z.number(),
      boreMm: z.number(),
      count,
      split: count,
      positions: z.array(point2),
    }),
  ),
  spare: z
    .looseObject({
      emptyTubes: count,
      largestThroughTubeMm: z.number().nullable(),
      largestExtraFixedMm: z.number(),
      largestExtraMovableMm: z.number(),
      policyMore: count.nullable(),
    })
    .nullable(),
  freeAreaMm2: z.number().nullable(),
  fillRatio: ratio.nullable(),
  sealant: SealantJson.nullable(),
  fillerQuantities: z.array(FillerPiecesJson).optional(),
  stages: z.array(StageJson).optional().describe('Where cables of later stages pass.'),
  remedies: z.array(RemedyJson).optional().describe('Computed, none is applied.'),
  checks: z.array(CheckJson),
});

const PenetrationJson = z.looseObject({
  tag: z.string(),
  id: z.string(),
  kind: z.enum(['opening', 'provision', 'hole', 'unopened']),
  centreMm: point3,
  axis: point3,
  level: z.string().nullable(),
  hosts: z.array(
    z.looseObject({
      file: z.string(),
      id: z.string(),
      thicknessMm: z.number(),
      fireRating: z.string().nullable(),
    }),
  ),
  openings: z.array(z.looseObject({ file: z.string(), id: z.string() })),
  services: z.array(
    z.looseObject({
      file: z.string(),
      ids: z.array(z.string()),
      kind: z.enum(['cable', 'conduit', 'duct', 'carrier', 'pipe']),
      sizeMm: z
        .array(z.number())
        .max(2)
        .describe('Diameter, or width and height, outside; empty when not known.'),
    }),
  ),
  shape: ShapeJson.nullable().describe('As found; null when nothing is provided.'),
  neededShape: ShapeJson.nullable().describe('What the seal asks for where nothing is provided.'),
  cables: z.array(
    z.looseObject({
      ref: z.string(),
      confidence: z.number().min(0).max(1),
      reasons: z.array(z.string()),
    }),
  ),
  seals: z.array(SealJson),
});

const PlaceJson = z.looseObject({
  fact: z.string(),
  text: z.string(),
  file: z.string(),
});

const QueryJson = z.looseObject({
  id: z.string(),
  code: z.string(),
  severity: z.enum(['note', 'ask', 'stop']),
  tag: z.string().nullable(),
  to: z.string(),
  text: z.string(),
  why: z.string(),
  settles: z.string(),
  candidates: z
    .array(z.looseObject({ tag: z.string().nullable(), confidence: ratio }))
    .optional()
    .describe('Penetrations to choose from, the likeliest first.'),
  evidence: z.array(PlaceJson),
});

/** The JSON result of a run: format and version say which contract it keeps. */
export const SealbookResult = z.looseObject({
  format: z.literal('sealbook-result'),
  version: z.literal(1),
  inputs: z.array(
    z.looseObject({
      file: z.string(),
      kind: z.string(),
      schema: z.string(),
      sha256: z.string(),
    }),
  ),
  penetrations: z.array(PenetrationJson),
  ledger: z.looseObject({
    services: z.looseObject({
      total: count,
      through: count,
      endsInside: count,
      within: count,
      touches: count,
      clear: count,
      noGeometry: count,
      excluded: count,
    }),
    openings: z.looseObject({
      total: count,
      inPenetration: count,
      recess: count,
      shaft: count,
      doorsWindows: count,
      noHost: count,
      excluded: count,
    }),
    cables: z.looseObject({ total: count, matched: count, queried: count, noPenetration: count }),
  }),
  queries: z.array(QueryJson),
  requirements: z
    .array(
      z.looseObject({
        model: z.string(),
        requirements: z.string().describe('Name of the IDS file.'),
        verdict: z.enum(['pass', 'fail', 'invalid']),
        specifications: z.array(
          z.looseObject({ name: z.string(), verdict: z.enum(['pass', 'fail', 'invalid']) }),
        ),
      }),
    )
    .optional()
    .describe('Where the project asks for it: each model against each IDS file.'),
});

export type SealbookResult = z.infer<typeof SealbookResult>;
export type SealJson = z.infer<typeof SealJson>;
export type ShapeJson = z.infer<typeof ShapeJson>;

/** The published JSON Schema of result.json (draft 2020-12). */
export function resultJsonSchema(): object {
  return z.toJSONSchema(SealbookResult, { io: 'input' });
}
