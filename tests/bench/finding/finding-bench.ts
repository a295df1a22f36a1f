import { existsSync, readdirSync, readFileSync } from 'node:fs';
import { IfcAPI, LogLevel } from 'web-ifc';
import { findInModels } from '../../../src/find/models/find-in-models.ts';
import { Settings } from '../../../src/model/settings.ts';
import { readIfc } from '../../../src/read/ifc/read-ifc.ts';
import { manyCrossings } from '../../makers/ifc/many-crossings.ts';
import { sharedPath } from '../../set-up/outside.ts';

/** Times of one model in one run, milliseconds. */
export interface FindingTimes {
  readonly model: string;
  readonly bytes: number;
  readonly crossings: number;
  /** web-ifc opens the model, nothing else. */
  readonly openMs: number;
  /** web-ifc opens it and streams hosts, services and openings, voids cut as usual. */
  readonly openAndStreamMs: number;
  /** Our whole reading and finding, web-ifc within it. */
  readonly wholeMs: number;
  /** Of it, what is not web-ifc. */
  readonly ownMs: number;
  /** `ownMs` over `openAndStreamMs`: to be at most 0.2. */
  readonly ownShareRatio: number;
}

const CONCERNED =
  /^IFC(WALL|SLAB|ROOF|FOOTING|OPENING|FLOWSEGMENT|FLOWFITTING|(CABLE|CABLECARRIER|DUCT|PIPE)(SEGMENT|FITTING)|SPACE$|BUILDINGELEMENTPROXY$)/;

/** Runs the finding bench on the public samples that have something to find, and on made models. */
export async function benchFinding(): Promise<readonly FindingTimes[]> {
  const rows: FindingTimes[] = [];
  for (const count of [2000, 10_000]) {
    rows.push(await timeModel(`made, ${count} crossings`, manyCrossings(count).toBytes()));
  }
  const folder = sharedPath('samples', 'ifc');
  if (!existsSync(folder)) return rows;
  for (const name of readdirSync(folder).filter((file) => file.endsWith('.ifc'))) {
    const bytes = new Uint8Array(readFileSync(`${folder}/${name}`));
    if (bytes.length > 300_000) rows.push(await timeModel(name, bytes));
  }
  return rows;
}

async function timeModel(model: string, bytes: Uint8Array): Promise<FindingTimes> {
  const settings = Settings.parse({});
  await warmUp();
  const { openMs, openAndStreamMs } = await timeWebIfc(bytes);
  const marks: number[] = [];
  const start = performance.now();
  const read = await readIfc({ key: 'm', name: model, bytes }, settings, {
    onProgress: ({ done }) => {
      marks[done] = performance.now();
    },
  });
  const found = findInModels(read.result.building, settings);
  const wholeMs = performance.now() - start;
  // Geometry is opened and streamed between the second mark and the fourth.
  const webIfcMs = (marks[3] ?? 0) - (marks[1] ?? 0);
  const ownMs = wholeMs - webIfcMs;
  return {
    model,
    bytes: bytes.length,
    crossings: found.result.penetrations.reduce((n, p) => n + p.crossings.length, 0),
    openMs,
    openAndStreamMs,
    wholeMs,
    ownMs,
    ownShareRatio: ownMs / openAndStreamMs,
  };
}

let isWarm = false;

/** The first use of web-ifc compiles its wasm; that is no model's cost. */
async function warmUp(): Promise<void> {
  if (isWarm) return;
  isWarm = true;
  const bytes = manyCrossings(200).toBytes();
  const settings = Settings.parse({});
  for (let n = 0; n < 3; n += 1) {
    const read = await readIfc({ key: 'm', name: 'warm', bytes }, settings);
    findInModels(read.result.building, settings);
  }
}

async function timeWebIfc(
  bytes: Uint8Array,
): Promise<{ readonly openMs: number; readonly openAndStreamMs: number }> {
  const api = new IfcAPI();
  await api.Init();
  api.SetLogLevel(LogLevel.LOG_LEVEL_OFF);
  const start = performance.now();
  const model = api.OpenModel(bytes, { COORDINATE_TO_ORIGIN: false });
  const openMs = performance.now() - start;
  const ids: number[] = [];
  for (const { typeID, typeName } of api.GetAllTypesOfModel(model)) {
    if (!CONCERNED.test(typeName.toUpperCase())) continue;
    const found = api.GetLineIDsWithType(model, typeID);
    for (let n = 0; n < found.size(); n += 1) ids.push(found.get(n));
  }
  let floats = 0;
  api.StreamMeshes(model, ids, (mesh) => {
    for (let n = 0; n < mesh.geometries.size(); n += 1) {
      const geometry = api.GetGeometry(model, mesh.geometries.get(n).geometryExpressID);
      floats += api.GetVertexArray(geometry.GetVertexData(), geometry.GetVertexDataSize()).length;
      geometry.delete();
    }
  });
  const openAndStreamMs = performance.now() - start;
  api.CloseModel(model);
  api.Dispose();
  if (floats === 0 && ids.length > 0) throw new Error('Nothing was streamed.');
  return { openMs, openAndStreamMs };
}

/** The times as lines of text. */
export function findingTable(rows: readonly FindingTimes[]): string {
  const head = 'model | MB | crossings | open ms | open+stream ms | whole ms | own ms | own share';
  const lines = rows.map((row) =>
    [
      row.model,
      (row.bytes / 1e6).toFixed(1),
      row.crossings,
      row.openMs.toFixed(0),
      row.openAndStreamMs.toFixed(0),
      row.wholeMs.toFixed(0),
      row.ownMs.toFixed(0),
      row.ownShareRatio.toFixed(2),
    ].join(' | '),
  );
  return [head, ...lines].join('\n');
}
