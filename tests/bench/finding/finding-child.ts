// finding-child.ts open|whole MODEL [first]: a process of its own, so that its peak of memory is its own.
import { readFileSync } from 'node:fs';
import { IfcAPI, LogLevel } from 'web-ifc';
import { findInModels } from '../../../src/find/models/find-in-models.ts';
import { Settings } from '../../../src/model/settings.ts';
import { readIfc } from '../../../src/read/ifc/read-ifc.ts';
import { manyCrossings } from '../../makers/ifc/many-crossings.ts';

const CONCERNED =
  /^IFC(WALL|SLAB|ROOF|FOOTING|OPENING|FLOWSEGMENT|FLOWFITTING|(CABLE|CABLECARRIER|DUCT|PIPE)(SEGMENT|FITTING)|SPACE$|BUILDINGELEMENTPROXY$)/;

export interface OpenTimes {
  /** web-ifc opens the model, nothing else. */
  readonly openMs: number;
  /** web-ifc opens it and streams hosts, services and openings, voids cut as usual. */
  readonly openAndStreamMs: number;
  readonly peakMb: number;
}

export interface WholeTimes {
  readonly crossings: number;
  /** Our whole reading and finding, web-ifc within it. */
  readonly wholeMs: number;
  /** Of it, what is not web-ifc. */
  readonly ownMs: number;
  readonly peakMb: number;
}

/** Peak of resident memory of this process so far. */
const peakMb = (): number => process.resourceUsage().maxRSS / 1024;

async function timeOpen(bytes: Uint8Array): Promise<OpenTimes> {
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
  return { openMs, openAndStreamMs, peakMb: peakMb() };
}

async function timeWhole(bytes: Uint8Array): Promise<WholeTimes> {
  const settings = Settings.parse({});
  const marks: number[] = [];
  const start = performance.now();
  const read = await readIfc({ key: 'm', name: 'model', bytes }, settings, {
    onProgress: ({ done }) => {
      marks[done] = performance.now();
    },
  });
  const found = findInModels(read.result.building, settings);
  const wholeMs = performance.now() - start;
  // Geometry is opened and streamed between the second mark and the fourth.
  const webIfcMs = (marks[3] ?? 0) - (marks[1] ?? 0);
  return {
    crossings: found.result.penetrations.reduce((n, p) => n + p.crossings.length, 0),
    wholeMs,
    ownMs: wholeMs - webIfcMs,
    peakMb: peakMb(),
  };
}

/** Other work on the machine makes single runs up to a third slower: the quickest of so many counts. */
const TIMES = 3;

/**
 * The first use of a piece of code compiles it; that is no model's cost. Asked for the `first` run alone,
 * this shows what a command that reads one model and ends pays for it, and its memory.
 */
async function quickest<T>(
  time: (bytes: Uint8Array) => Promise<T>,
  model: Uint8Array,
  lengthMs: (times: T) => number,
): Promise<T> {
  const warming = manyCrossings(2000).toBytes();
  for (let n = 0; n < 3; n += 1) await time(warming);
  let best = await time(model);
  for (let n = 1; n < TIMES; n += 1) {
    const times = await time(model);
    if (lengthMs(times) < lengthMs(best)) best = times;
  }
  return best;
}

async function run<T>(
  time: (bytes: Uint8Array) => Promise<T>,
  lengthMs: (times: T) => number,
): Promise<T> {
  const model = new Uint8Array(readFileSync(file));
  return isFirst ? time(model) : quickest(time, model, lengthMs);
}

const [mode, file = '', isFirst] = process.argv.slice(2);
const times =
  mode === 'open'
    ? await run(timeOpen, ({ openAndStreamMs }) => openAndStreamMs)
    : await run(timeWhole, ({ wholeMs }) => wholeMs);
console.log(JSON.stringify(times));
