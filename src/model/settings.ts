import { z } from 'zod';
import { USUAL_LIMITS } from '../basics/limits.ts';

const mm = z.number().finite();
const positiveMm = z.number().positive().finite();
const ratio = z.number().min(0).max(1);
const most = z.number().positive().finite();
const mostOf = z.number().int().positive();
const pattern = z.string().min(1).describe('Case-insensitive; * stands for any text.');

const ServiceKindName = z.enum(['cable', 'conduit', 'duct', 'carrier', 'pipe']);
const Unit = z.enum(['mm', 'cm', 'm', 'in', 'ft']);

/** A building model. */
const ModelFile = z.strictObject({
  path: z.string().min(1),
  kind: z.literal('ifc'),
  /** Correction that joins it to the others; added to what the file says. */
  moveMm: z.tuple([mm, mm, mm]).optional(),
  turnDeg: z.number().optional(),
});

/** One plan, section or elevation inside a drawing. */
export const DrawingView = z.strictObject({
  view: z.enum(['plan', 'section', 'elevation']),
  name: z.string().optional(),
  /** Part of the drawing that belongs to it, drawing units: x1, y1, x2, y2. Absent: all of it. */
  window: z.tuple([z.number(), z.number(), z.number(), z.number()]).optional(),
  level: z.string().optional(),
  elevationMm: mm.optional(),
  /** Height of services above the level, where the plan does not say. */
  serviceHeightMm: mm.optional(),
  /** Point of the drawing (drawing units) that lies at `atMm`. */
  basePoint: z.tuple([z.number(), z.number()]).optional(),
  atMm: z.tuple([mm, mm, mm]).optional(),
  /** For sections: drawing y (drawing units) of the datum and the height it stands for. */
  datum: z.strictObject({ y: z.number(), heightMm: mm }).optional(),
});

const DrawingFile = z.strictObject({
  path: z.string().min(1),
  kind: z.literal('dxf'),
  units: Unit.optional(),
  /** For drawings at paper size, such as those that come out of PDFs: 50 for 1:50. */
  paperScale: z.number().positive().optional(),
  views: z.array(DrawingView).optional(),
  /** Short for a drawing that is one view. */
  view: z.enum(['plan', 'section', 'elevation']).optional(),
  level: z.string().optional(),
  elevationMm: mm.optional(),
  includeHidden: z.boolean().optional(),
});

const ScheduleFile = z.strictObject({
  path: z.string().min(1),
  kind: z.literal('schedule'),
  sheets: z.array(z.string()).optional(),
  headerRow: z.number().int().positive().optional(),
  /** Our column name to the heading in the file. */
  columns: z.record(z.string(), z.string()).optional(),
  delimiter: z.string().length(1).optional(),
  encoding: z.string().optional(),
});

/** The user's own table of cable diameters. */
const CableTableFile = z.strictObject({
  path: z.string().min(1),
  kind: z.literal('cable-table'),
});

/** The queries as they came back from others; the next ones are written into it. */
const AnswersFile = z.strictObject({
  path: z.string().min(1),
  kind: z.literal('bcf'),
});

/** A workbook of ours that came back with what people filled in. */
const ReturnedWorkbook = z.strictObject({
  path: z.string().min(1),
  kind: z.literal('workbook'),
});

/** Requirements (IDS 1.0) that each model is checked against. */
const RequirementsFile = z.strictObject({
  path: z.string().min(1),
  kind: z.literal('ids'),
});

export const ProjectFile = z.discriminatedUnion('kind', [
  ModelFile,
  DrawingFile,
  ScheduleFile,
  CableTableFile,
  AnswersFile,
  ReturnedWorkbook,
  RequirementsFile,
]);

/** A condition on a penetration; all fields given must hold. */
const Condition = z.strictObject({
  level: pattern.optional(),
  zone: pattern.optional(),
  host: pattern.optional(),
  external: z.boolean().optional(),
  belowGround: z.boolean().optional(),
  rated: z.boolean().optional(),
});

export const DutyRule = z.strictObject({
  when: Condition.default({}),
  duty: z.enum(['water', 'gas', 'smoke', 'fire', 'dust', 'pests', 'hazardous area', 'air']),
  /** Water level above the project's zero; the head follows from each opening's own height. */
  waterLevelMm: mm.optional(),
  headM: z.number().nonnegative().optional(),
  side: z.enum(['near', 'far', 'outside']).optional(),
  rating: z.string().optional(),
});

const block = <T extends z.ZodRawShape>(shape: T) => z.strictObject(shape);

export const Settings = z.strictObject({
  project: block({
    name: z.string().default('Untitled project'),
    number: z.string().default(''),
    documentNumber: z.string().default(''),
  }).prefault({}),
  files: z
    .record(
      z.string().regex(/^[A-Za-z][A-Za-z0-9_-]*$/, 'a key of letters, digits, - and _'),
      ProjectFile,
    )
    .default({}),
  requirements: block({
    /** Check each model against what we need of one, besides the IDS files given. */
    own: z.boolean().default(false),
  }).prefault({}),
  hosts: block({
    /** Classes beyond the usual ones that count as hosts. */
    classes: z.array(z.string()).default([]),
    excludeClasses: z.array(z.string()).default([]),
    /** Layers of drawings; added to the usual habits. */
    layers: z.array(pattern).default([]),
    excludeLayers: z.array(pattern).default([]),
  }).prefault({}),
  services: block({
    classes: z.array(z.strictObject({ class: z.string(), kind: ServiceKindName })).default([]),
    excludeClasses: z.array(z.string()).default([]),
    layers: z.array(z.strictObject({ pattern, kind: ServiceKindName })).default([]),
    excludeLayers: z.array(pattern).default([]),
  }).prefault({}),
  find: block({
    /** Leaves up to this far apart count as one host assembly. */
    leafGapMm: positiveMm.default(100),
    /** Services without an opening share one when closer than this, surface to surface. */
    sharedOpeningSpacingMm: z.number().nonnegative().default(0),
    shallowestHostMm: positiveMm.default(20),
    sealRecesses: z.boolean().default(false),
    sealShafts: z.boolean().default(false),
    /** Openings wider and higher than this through slabs count as shafts. */
    shaftFromMm: positiveMm.default(1000),
    /** Drawn walls: pairs of lines this far apart. */
    thinnestWallMm: positiveMm.default(50),
    thickestWallMm: positiveMm.default(600),
    /** How far a label may stand from what it names. */
    labelReachMm: positiveMm.default(1500),
  }).prefault({}),
  match: block({
    /** Below this a match is asked about. */
    threshold: ratio.default(0.8),
    /** Another way between its ends that is up to this share longer makes it a question. Our choice. */
    rivalMargin: ratio.default(0.3),
  }).prefault({}),
  ground: block({
    levelMm: mm.optional(),
    waterLevelMm: mm.optional(),
    /** Water that may stand inside: a tank, a wet well, a chamber that floods. */
    insideWaterLevelMm: mm.optional(),
  }).prefault({}),
  zones: z
    .array(
      z.strictObject({ name: z.string(), level: pattern.optional(), space: pattern.optional() }),
    )
    .default([]),
  duties: z.array(DutyRule).default([]),
  range: z.string().optional(),
  design: block({
    setBackMm: positiveMm.default(20),
    /** Between cables' own surfaces. */
    separationMm: z.number().nonnegative().default(4),
    /** From cables to the wall. */
    edgeMm: z.number().nonnegative().default(4),
    /** 1, 2, or auto: two where a duty asks both. */
    faces: z.union([z.literal(1), z.literal(2), z.literal('auto')]).default('auto'),
    wasteRatio: ratio.default(0.1),
    overfillMm: z.number().nonnegative().default(1),
    /** Sloped or irregular faces take this many times the sealant of plain ones. */
    faceFactor: z.number().min(1).max(5).default(1),
    splitTubes: z.boolean().default(true),
    sealant: z.string().optional(),
    fillCode: z.enum(['NEC ch. 9', 'BS 7671', 'none']).default('NEC ch. 9'),
    spare: block({
      count: z.number().int().nonnegative().default(0),
      diameterMm: positiveMm.default(25),
    }).prefault({}),
    /** Room round services where nothing is provided: needed opening = services plus this. */
    neededClearanceMm: z.number().nonnegative().default(25),
    /** An opening that nothing passes and that is wider or higher than this is asked about first. */
    largestBlankMm: positiveMm.default(600),
    keepBundles: z.boolean().default(false),
    /** Weights of what is liked among layouts that are otherwise equal; 0 for not at all. */
    preferences: block({
      cover: z.number().nonnegative().optional(),
      heavyLow: z.number().nonnegative().optional(),
      symmetry: z.number().nonnegative().optional(),
      fewSizes: z.number().nonnegative().optional(),
      nozzleRoom: z.number().nonnegative().optional(),
    }).prefault({}),
    /** How much narrower than round a duct or conduit may be found; not judged when absent. */
    ovalRatio: z.number().min(0).max(0.3).optional(),
    /** What no model says and fire evidence asks for. */
    hostDensityKgM3: z.number().positive().optional(),
    supportWithinMm: positiveMm.optional(),
    effort: z.enum(['quick', 'normal']).default('quick'),
    seed: z.number().int().default(1),
  }).prefault({}),
  tags: block({
    /** {level} and {number} are filled in; {number:4} pads with zeros. */
    pattern: z
      .string()
      .regex(/\{number(:\d{1,2})?\}/, 'must hold {number} or {number:4}, so that tags differ')
      .default('{level}-{number:4}'),
    /** Give each opening a seal element that fills it. */
    sealElements: z.boolean().default(false),
    /** Ask for missing openings as provisions for void. */
    provisions: z.boolean().default(false),
    /** A classification that seal elements carry. */
    classification: z
      .strictObject({
        system: z.string().min(1),
        edition: z.string().min(1),
        code: z.string().min(1),
        title: z.string().min(1),
      })
      .optional(),
  }).prefault({}),
  issue: block({
    revision: z.string().default('A'),
    /** ISO date; nothing in the output is dated by the clock. */
    date: z.iso.date().optional(),
    purpose: z.string().default('for review'),
    status: z.enum(['tender', 'construction', 'hold']).default('tender'),
    preparedBy: z.string().default('design engineer'),
    checkedBy: z.string().default('not yet checked'),
    approvedBy: z.string().default('not yet approved'),
  }).prefault({}),
  outputs: block({
    workbook: z.boolean().default(true),
    /** A workbook of its own for each level beside the whole one. */
    workbookPerLevel: z.boolean().default(false),
    /** A workbook for each package of work, by name: the levels that belong to it. */
    packages: z
      .record(z.string().regex(/^[\p{L}\p{N}][\p{L}\p{N} _-]{0,60}$/u), z.array(pattern))
      .default({}),
    json: z.boolean().default(true),
    /** A page for each seal and labels, as HTML for print. */
    sealPages: z.boolean().default(true),
    /** A CSV file per table. */
    tables: z.boolean().default(false),
    /** A copy of each model with our tags. */
    taggedModels: z.boolean().default(true),
    /** A copy of each drawing with our tags. */
    taggedDrawings: z.boolean().default(true),
    /** The queries as BCF 3.0. */
    bcf: z.boolean().default(true),
  }).prefault({}),
  /** How much one file may ask of us; see `ReadLimits`. */
  limits: block({
    fileMb: most.default(USUAL_LIMITS.fileMb),
    entities: mostOf.default(USUAL_LIMITS.entities),
    depth: mostOf.default(USUAL_LIMITS.depth),
    copies: mostOf.default(USUAL_LIMITS.copies),
    archiveEntries: mostOf.default(USUAL_LIMITS.archiveEntries),
    unpackedMb: most.default(USUAL_LIMITS.unpackedMb),
    unpackedRatio: most.default(USUAL_LIMITS.unpackedRatio),
    xmlElements: mostOf.default(USUAL_LIMITS.xmlElements),
    xmlDepth: mostOf.default(USUAL_LIMITS.xmlDepth),
    rows: mostOf.default(USUAL_LIMITS.rows),
    cells: mostOf.default(USUAL_LIMITS.cells),
    fileSeconds: most.default(USUAL_LIMITS.fileSeconds),
  }).prefault({}),
});

export type Settings = z.infer<typeof Settings>;
export type ProjectFile = z.infer<typeof ProjectFile>;
export type DrawingView = z.infer<typeof DrawingView>;
export type DutyRule = z.infer<typeof DutyRule>;

/** A setting that nobody gave: listed in the output as assumed. */
export interface Assumption {
  /** Path in the project file: `design.setBackMm`. */
  readonly path: string;
  readonly value: string;
  readonly source: string;
}
