import { SealbookError, withFile } from '../../basics/errors.ts';
import type { OnProgress } from '../../basics/progress.ts';
import { makeQuery, type Query, type WithQueries } from '../../basics/query.ts';
import type { DxfDocument } from '../../formats/dxf/dxf-entity.ts';
import { parseDxf } from '../../formats/dxf/parse-dxf.ts';
import { readHeader } from '../../formats/dxf/read-header.ts';
import { type PlanePiece, pieceLengthMm } from '../../geometry/plane-curve.ts';
import { sizeText } from '../../geometry/shape.ts';
import type { Drawing, DrawingUnits, DrawnView } from '../../model/drawing.ts';
import type { InputFile } from '../../model/input.ts';
import type { UnreadContent } from '../../model/issue.ts';
import type { Settings } from '../../model/settings.ts';
import {
  chooseUnits,
  MM_PER_UNIT,
  paperScaleQuery,
  saidUnit,
  type UnitFit,
  unitFits,
} from './drawing-units.ts';
import { type DrawingFileSettings, drawingViews } from './drawing-views.ts';
import { type FlatDrawing, Flattening } from './flatten-drawing.ts';
import { datumFromMarks, type MarkedDatum } from './level-marks.ts';
import { unreadContent } from './unread-content.ts';
import { unusedLayers } from './unused-layers.ts';

export interface ReadDxfOptions {
  readonly onProgress?: OnProgress;
}

export interface ReadDxfResult {
  readonly drawing: Drawing;
  /** DXF version, e.g. `AC1032`; `DXF` where the file does not say. */
  readonly schema: string;
  readonly unread: readonly UnreadContent[];
}

/**
 * A drawing from the bytes of a text DXF, R12 to 2018.
 * @throws SealbookError `input-unreadable` (binary DXF, DWG, cut off, empty, no DXF) or
 *   `input-too-large`, with the file's name and what to do
 */
export function readDxf(
  file: InputFile,
  fileSettings: DrawingFileSettings,
  settings: Settings,
  options: ReadDxfOptions = {},
): WithQueries<ReadDxfResult> {
  const {
    document,
    flat,
    fits,
    units,
    query: unitsQuery,
  } = readFlat(file, fileSettings, settings, options.onProgress);
  const given = drawingViews(fileSettings, flat.texts, file.name, units.mmPerUnit);
  const queries: Query[] = [];
  const views = given.views.map((view) => {
    const marked = datumFromMarks(view, flat.texts, flat.entities);
    if (marked === null) return view;
    queries.push(levelMarksQuery(file, view, marked));
    return { ...view, datum: marked.datum };
  });
  // Without walls or services the unit changes nothing that anyone would ask about.
  if (unitsQuery !== null && fits.length > 0) queries.push(unitsQuery);
  const hasWalls = fits.some(({ thicknessesMm }) => thicknessesMm.length > 0);
  const scaleQuery =
    !hasWalls && isScaleOpen(fileSettings, units)
      ? paperScaleQuery(straightPieces(flat), units.mmPerUnit, file, settings)
      : null;
  if (scaleQuery !== null) queries.push(scaleQuery);
  const unread = unreadContent(file.key, document, flat);
  queries.push(...contentQueries(file, document, flat, unread));
  return {
    result: {
      drawing: {
        fileKey: file.key,
        name: file.name,
        units,
        layers: [...document.layers.values()].map(({ name, isFrozen, isOff }) => ({
          name,
          isHidden: isFrozen || isOff,
        })),
        views,
        entities: flat.entities,
        symbols: flat.symbols,
        texts: flat.texts,
        leaders: flat.leaders,
        masks: flat.masks,
      },
      schema: document.version ?? 'DXF',
      unread: [...unread, ...unusedLayers(file.key, flat, settings)],
    },
    queries,
  };
}

/** Only a drawing in millimetres can be one at paper size that nobody has spoken for. */
function isScaleOpen({ units, paperScale }: DrawingFileSettings, read: DrawingUnits): boolean {
  return units === undefined && paperScale === undefined && read.unit === 'mm';
}

/** The lines of a drawing, longest first: walls are among the longest. */
function levelMarksQuery(
  { key, name }: InputFile,
  view: DrawnView,
  { datum, evidence }: MarkedDatum,
): Query {
  return makeQuery('drawing-level-from-marks', {
    about: `${key}/${view.name ?? view.view}`,
    text: `${name}: heights of the ${view.view} follow its ${evidence.length} level marks: y ${sizeText(datum.yMm)} mm of the drawing is ${sizeText(datum.heightMm)} mm.`,
    why: 'Heights decide which holes of several views are the same, and how deep they lie under water.',
    settles: 'A datum for the view in the project file, if it is another.',
    evidence,
  });
}

function straightPieces(flat: FlatDrawing): PlanePiece[] {
  const pieces: PlanePiece[] = [];
  for (const { loops } of flat.entities) {
    for (const loop of loops)
      for (const piece of loop.pieces) if (piece.type === 'line') pieces.push(piece);
  }
  return pieces.sort((a, b) => pieceLengthMm(b) - pieceLengthMm(a)).slice(0, MOST_JUDGED);
}

const MOST_JUDGED = 600;
const BYTES_PER_MB = 1024 * 1024;

export interface FlatReading {
  readonly document: DxfDocument;
  readonly flat: FlatDrawing;
  readonly fits: readonly UnitFit[];
  readonly units: DrawingUnits;
  readonly query: Query | null;
}

/** Reads a drawing in the unit it says, and again where its content says another; errors name the file. */
export function readFlat(
  file: InputFile,
  fileSettings: DrawingFileSettings,
  settings: Settings,
  onProgress?: OnProgress,
): FlatReading {
  if (file.bytes.length > settings.limits.fileMb * BYTES_PER_MB) {
    throw new SealbookError(
      'input-too-large',
      `The file is larger than ${settings.limits.fileMb} MB.`,
      { where: { file: file.name }, todo: 'Raise limits.fileMb in the project file.' },
    );
  }
  try {
    return readInUnits(file, fileSettings, settings, onProgress);
  } catch (error) {
    throw error instanceof SealbookError ? withFile(error, file.name) : error;
  }
}

function readInUnits(
  file: InputFile,
  fileSettings: DrawingFileSettings,
  settings: Settings,
  onProgress: OnProgress | undefined,
): FlatReading {
  const { insUnits, measurement } = readHeader(file.bytes);
  const readAt = (mmPerUnit: number) => {
    const flattening = new Flattening({
      fileKey: file.key,
      mmPerUnit,
      includeHidden: fileSettings.includeHidden ?? false,
      maxDepth: settings.limits.depth,
      maxEntities: settings.limits.entities,
      maxCopies: settings.limits.copies,
    });
    const document = parseDxf(
      file.bytes,
      { maxRecords: settings.limits.entities },
      {
        takeEntity: (entity, soFar) => flattening.take(entity, soFar),
        ...(onProgress ? { onProgress } : {}),
      },
    );
    return { document, flat: flattening.finish(document) };
  };
  const first =
    MM_PER_UNIT[fileSettings.units ?? saidUnit(insUnits) ?? 'mm'] * (fileSettings.paperScale ?? 1);
  const reading = readAt(first);
  const fits = unitFits(reading.flat, first, settings);
  const { units, paperScale } = fileSettings;
  const chosen = chooseUnits(units, paperScale, insUnits, measurement, fits, file);
  const { mmPerUnit } = chosen.units;
  return { ...(mmPerUnit === first ? reading : readAt(mmPerUnit)), ...chosen, fits };
}

function contentQueries(
  file: InputFile,
  document: DxfDocument,
  flat: FlatDrawing,
  unread: readonly UnreadContent[],
): Query[] {
  const queries: Query[] = [];
  const place = { fileKey: file.key };
  if (unread.length > 0) {
    const total = unread.reduce((sum, { count }) => sum + count, 0);
    queries.push(
      makeQuery('drawing-content-unread', {
        about: file.key,
        text: `${file.name}: ${total} records were not used (${reasonsText(unread)}).`,
        why: 'A wall, service or opening among them would be missing from the schedule.',
        settles: 'A look at the list of unread content; explode or redraw what matters.',
        evidence: [{ fact: 'content', text: reasonsText(unread), place }],
      }),
    );
  }
  document.remarks.forEach((remark, i) => {
    queries.push(
      makeQuery('drawing-content-unread', {
        about: `${file.key}/remark-${i + 1}`,
        text: `${file.name}: ${remark}`,
        why: 'The drawing may have been damaged on its way here.',
        settles: 'A fresh export of the drawing, or word that nothing is missing.',
      }),
    );
  });
  for (const { name, xrefPath } of flat.missingBlocks) {
    queries.push(
      makeQuery('drawing-reference-missing', {
        about: `${file.key}/${name}`,
        text:
          xrefPath === null
            ? `${file.name} shows the block "${name}", which it does not hold.`
            : `${file.name} refers to another drawing, "${xrefPath === '' ? name : xrefPath}", which is not in it.`,
        why: 'Whatever it shows is missing from the schedule.',
        settles:
          'The drawing with its references bound into it, or the other drawing as a file of its own.',
      }),
    );
  }
  return queries;
}

function reasonsText(unread: readonly UnreadContent[]): string {
  const counts = new Map<string, number>();
  for (const { reason, count } of unread) counts.set(reason, (counts.get(reason) ?? 0) + count);
  return [...counts].map(([reason, count]) => `${count}: ${reason}`).join('; ');
}
