// Started by whole-bench.ts, a process for each size, so that memory is that size's own.
import { type FlatMesh, IfcAPI, LogLevel } from 'web-ifc';
import { nodePlatform } from '../../../src/cli/node-platform.ts';
import { openPile } from '../../../src/pipeline/review/open-pile.ts';
import { runProject } from '../../../src/pipeline/run-project.ts';
import { manyCrossings } from '../../makers/ifc/many-crossings.ts';

const crossings = Number(process.argv[2]);
const model = manyCrossings(crossings).toBytes();

/** Every third crossing is a conduit; each of these gets two cables that name it. */
function schedule(): Uint8Array {
  const lines = ['Reference;Diameter mm;Route'];
  for (let at = 2; at < crossings; at += 3) {
    const name = `S ${Math.floor(at / 100)}/${at % 100}`;
    lines.push(`C-${at}-A;${10 + (at % 9)};${name}`, `C-${at}-B;${12 + (at % 7)};${name}`);
  }
  return new TextEncoder().encode(lines.join('\n'));
}

const project = [
  'project: {name: whole}',
  'files:',
  '  m: {path: model.ifc, kind: ifc}',
  '  c: {path: cables.csv, kind: schedule}',
].join('\n');

/** Milliseconds by stage, as the steps of a run follow each other. */
const stages = new Map<string, number>();
let current: { stage: string; since: number } | null = null;

function enter(stage: string | null): void {
  const now = performance.now();
  if (current !== null) {
    stages.set(current.stage, (stages.get(current.stage) ?? 0) + now - current.since);
  }
  current = stage === null ? null : { stage, since: now };
}

const STAGES: readonly (readonly [RegExp, string])[] = [
  [/^reading model/, 'read'],
  [/^reading cables/, 'schedule'],
  [/^finding/, 'find'],
  [/^matching/, 'match'],
  [/^designing/, 'design'],
  [/^tagging/, 'tag'],
  [/^writing/, 'write'],
];

async function openAndStream(): Promise<{ openMs: number; streamMs: number }> {
  const api = new IfcAPI();
  await api.Init();
  api.SetLogLevel(LogLevel.LOG_LEVEL_OFF);
  const start = performance.now();
  const open = api.OpenModel(model);
  const opened = performance.now();
  api.StreamAllMeshes(open, (mesh: FlatMesh) => mesh.geometries.size());
  const streamed = performance.now();
  api.CloseModel(open);
  return { openMs: opened - start, streamMs: streamed - opened };
}

const baseline = await openAndStream();
const files = [
  { name: 'model.ifc', bytes: model },
  { name: 'cables.csv', bytes: schedule() },
  { name: 'project.yaml', bytes: new TextEncoder().encode(project) },
];
const start = performance.now();
const { issue } = await runProject(
  openPile(files),
  nodePlatform(({ step }) => {
    const stage = STAGES.find(([pattern]) => pattern.test(step))?.[1];
    if (stage !== undefined && stage !== current?.stage) enter(stage);
  }),
);
enter(null);
process.stdout.write(
  JSON.stringify({
    crossings,
    found: issue.penetrations.length,
    seals: issue.seals.length,
    modelMb: model.length / 1e6,
    ...baseline,
    wholeMs: performance.now() - start,
    stagesMs: Object.fromEntries(stages),
    peakMb: process.resourceUsage().maxRSS / 1024,
  }),
);
