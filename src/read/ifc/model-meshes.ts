import { type FlatMesh, IfcAPI, LogLevel } from 'web-ifc';
import { SealbookError } from '../../basics/errors.ts';
import { asciiText } from '../../formats/ifc/step-scan.ts';
import { joinMeshes } from '../../geometry/mesh-join.ts';
import type { Mesh } from '../../model/building.ts';
import type { AssignedUnits } from './broken-units.ts';
import type { ModelRecords } from './records.ts';

/** What a sound record says that web-ifc never ends on. */
export interface Withheld {
  /** Records of shapes: see `endlessShapes`. */
  readonly endlessShapes: readonly number[];
  /** Units that lead to no value: see `brokenUnits`. */
  readonly brokenUnits: readonly AssignedUnits[];
}

/** Where web-ifc finds its wasm file; left out in Node, where the package knows. */
export type WasmPlace = (file: string, folder: string) => string;

export type OnMesh = (id: number, mesh: Mesh) => void;

export interface OpenMeshes {
  /**
   * Streams the meshes of these records; an element without geometry is left out. `onBatch` is told
   * between batches and may throw to stop.
   */
  read(ids: readonly number[], onMesh: OnMesh, onBatch: () => void): Promise<void>;
  close(): void;
}

/**
 * Opens the model for its geometry with all voids left uncut: hosts come gross, so that a service
 * in its opening is still a crossing, and web-ifc need not cut anything.
 * @param withheld what it must not see beside records that are unsound
 */
export async function openGrossMeshes(
  bytes: Uint8Array,
  step: ModelRecords,
  withheld: Withheld,
  place: WasmPlace | undefined,
): Promise<OpenMeshes> {
  const piecesOf = withoutVoids(bytes, step, withheld);
  let open = await openApi(piecesOf, place);
  const stream = (ids: readonly number[], onMesh: OnMesh): void => {
    const { api, model } = open;
    api.StreamMeshes(model, [...ids], (flat) => {
      const mesh = worldMesh(api, model, flat);
      if (mesh !== null) onMesh(flat.expressID, mesh);
      release(flat.geometries);
    });
  };
  // A body that breaks web-ifc takes the whole batch with it: halves find it, and only it is lost.
  const streamHalves = async (ids: readonly number[], onMesh: OnMesh): Promise<void> => {
    if (ids.length === 0) return;
    try {
      stream(ids, onMesh);
    } catch (error) {
      if (error instanceof SealbookError) throw error;
      closeQuietly(open);
      open = await openApi(piecesOf, place);
      if (ids.length === 1) return;
      const half = ids.length >> 1;
      await streamHalves(ids.slice(0, half), onMesh);
      await streamHalves(ids.slice(half), onMesh);
    }
  };
  return {
    async read(ids, onMesh, onBatch) {
      for (let from = 0; from < ids.length; from += BATCH) {
        onBatch();
        await streamHalves(ids.slice(from, from + BATCH), onMesh);
      }
    },
    close: () => closeQuietly(open),
  };
}

interface OpenApi {
  readonly api: IfcAPI;
  readonly model: number;
}

async function openApi(
  piecesOf: (offset: number, size: number) => Uint8Array,
  place: WasmPlace | undefined,
): Promise<OpenApi> {
  const api = new IfcAPI();
  await api.Init(place, true);
  api.SetLogLevel(LogLevel.LOG_LEVEL_OFF);
  let model = -1;
  try {
    model = api.OpenModelFromCallback(piecesOf, {
      COORDINATE_TO_ORIGIN: false,
      CIRCLE_SEGMENTS: CHORDS,
    });
  } catch (cause) {
    closeQuietly({ api, model });
    throw unreadable('its geometry could not be opened', cause);
  }
  if (model >= 0) return { api, model };
  closeQuietly({ api, model });
  throw unreadable('its geometry could not be opened', undefined);
}

/** Gives the memory back. After a fault inside wasm closing may fail as well; the instance goes anyway. */
function closeQuietly({ api, model }: OpenApi): void {
  try {
    if (model >= 0) api.CloseModel(model);
    api.Dispose();
  } catch {
    api.wasmModule = undefined;
  }
}

/** Frees what lives in wasm memory; the package's types don't say that it can be. */
function release(held: { readonly delete?: () => void } | object): void {
  if ('delete' in held) held.delete?.();
}

/** Elements whose geometry is made in one go: between batches reading can be stopped. */
const BATCH = 256;

/** Chords of a full circle in meshes. */
const CHORDS = 24;

function unreadable(what: string, cause: unknown): SealbookError {
  return new SealbookError('input-unreadable', `The model can't be used: ${what}.`, {
    todo: 'Open the model in another program and export it again.',
    ...(cause === undefined ? {} : { cause }),
  });
}

/**
 * Gives the file's bytes piece by piece; records of void relations, broken and endless ones, and
 * references to broken units are written over.
 */
function withoutVoids(
  bytes: Uint8Array,
  step: ModelRecords,
  { endlessShapes, brokenUnits }: Withheld,
): (offset: number, size: number) => Uint8Array {
  const blanks = [...step.idsOf('IFCRELVOIDSELEMENT'), ...step.unsoundIds, ...endlessShapes]
    .map((id) => step.rangeOf(id))
    .filter((range): range is readonly [number, number] => range !== null)
    .concat(step.junk, unitRanges(bytes, step, brokenUnits))
    .sort((a, b) => a[0] - b[0]);
  return (offset, size) => {
    const end = Math.min(bytes.length, offset + size);
    const piece = bytes.slice(offset, end);
    for (const [from, to] of blanks) {
      if (to <= offset || from >= end) continue;
      piece.fill(0x20, Math.max(from, offset) - offset, Math.min(to, end) - offset);
    }
    return piece;
  };
}

/** Where the assignments refer to units that can't be followed. */
function unitRanges(
  bytes: Uint8Array,
  step: ModelRecords,
  brokenUnits: readonly AssignedUnits[],
): readonly (readonly [number, number])[] {
  return brokenUnits.flatMap(({ assignment, units }) => {
    const [from, to] = step.rangeOf(assignment) ?? [0, 0];
    const text = units.length === 0 ? '' : asciiText(bytes, from, to);
    return units.flatMap((unit) =>
      [...text.matchAll(new RegExp(`#0*${unit}\\b`, 'g'))].map(
        ({ index, 0: { length } }) => [from + index, from + index + length] as const,
      ),
    );
  });
}

/** All pieces of an element in one mesh, world mm with z up. Null when there is none. */
function worldMesh(api: IfcAPI, model: number, flat: FlatMesh): Mesh | null {
  const pieces: Mesh[] = [];
  const count = flat.geometries.size();
  for (let n = 0; n < count; n += 1) {
    const placed = flat.geometries.get(n);
    const geometry = api.GetGeometry(model, placed.geometryExpressID);
    const vertices = api.GetVertexArray(geometry.GetVertexData(), geometry.GetVertexDataSize());
    const indices = api.GetIndexArray(geometry.GetIndexData(), geometry.GetIndexDataSize());
    if (indices.length >= 3) {
      pieces.push({
        positionsMm: worldPositions(vertices, placed.flatTransformation),
        triangles: Uint32Array.from(indices),
      });
    }
    geometry.delete();
  }
  return joinMeshes(pieces);
}

/** Six numbers a vertex come in, metres and y up; three go out, mm and z up. */
function worldPositions(vertices: Float32Array, m: readonly number[]): Float64Array {
  const [
    a = 1,
    b = 0,
    c = 0,
    ,
    e = 0,
    f = 1,
    g = 0,
    ,
    i = 0,
    j = 0,
    k = 1,
    ,
    tx = 0,
    ty = 0,
    tz = 0,
  ] = m;
  const count = Math.floor(vertices.length / 6);
  const positions = new Float64Array(count * 3);
  for (let n = 0; n < count; n += 1) {
    const x = vertices[n * 6] ?? 0;
    const y = vertices[n * 6 + 1] ?? 0;
    const z = vertices[n * 6 + 2] ?? 0;
    positions[n * 3] = (a * x + e * y + i * z + tx) * 1000;
    positions[n * 3 + 1] = -(c * x + g * y + k * z + tz) * 1000;
    positions[n * 3 + 2] = (b * x + f * y + j * z + ty) * 1000;
  }
  return positions;
}
