import { createHash } from 'node:crypto';
import path from 'node:path';
import { loadProject } from '../../src/cli/load-project.ts';
import { findInDrawings } from '../../src/find/drawings/find-in-drawings.ts';
import { findInModels } from '../../src/find/models/find-in-models.ts';
import type { InputFile } from '../../src/model/input.ts';
import { Settings } from '../../src/model/settings.ts';
import { askForCable } from '../../src/pipeline/add-cable.ts';
import { openOpening } from '../../src/pipeline/open-project.ts';
import type { Platform } from '../../src/pipeline/platform.ts';
import { type Inputs, readInputs } from '../../src/pipeline/read-inputs.ts';
import { runProject } from '../../src/pipeline/run-project.ts';
import { sizeJson, sizeOpening } from '../../src/pipeline/size-opening.ts';
import { checkIds } from '../../src/read/ids/check-ids.ts';
import { readIds } from '../../src/read/ids/read-ids.ts';
import { readProject } from '../../src/read/project/read-project.ts';
import { readRange } from '../../src/read/range/read-range.ts';
import { sampleRange } from '../../src/read/range/sample-range.ts';
import { readRegister } from '../../src/read/register/read-register.ts';
import { openSheets } from '../../src/read/schedule/open-sheets.ts';
import { canBeCarriedOn, writeBcf } from '../../src/write/bcf/write-bcf.ts';
import { registerText } from '../../src/write/register/register-text.ts';
import { makeIssue } from '../makers/issue/make-issue.ts';
import { repoRoot } from '../set-up/outside.ts';
import type { Format } from './samples.ts';

/** Reads a file as the tool does and checks that nothing of it got lost; throws what it finds. */
export type Target = (bytes: Uint8Array, beside: Uint8Array | null) => Promise<void>;

export const sha256 = (bytes: Uint8Array): string =>
  createHash('sha256').update(bytes).digest('hex');

const PLATFORM: Platform = {
  sha256,
  svgToPng: () => Promise.resolve(Uint8Array.of(137, 80, 78, 71)),
};

/** A loss that nobody was told of. */
class Lost extends Error {}

function must(holds: boolean, what: string): void {
  if (!holds) throw new Lost(what);
}

const file = (name: string, bytes: Uint8Array): InputFile => ({ key: 'f', name, bytes });

async function readAs(kind: string, name: string, bytes: Uint8Array) {
  const settings = Settings.parse({ files: { f: { path: name, kind } } });
  const { result } = await readInputs({ settings, files: [file(name, bytes)] }, PLATFORM);
  return { settings, result };
}

async function model(bytes: Uint8Array): Promise<void> {
  const { settings, result } = await readAs('ifc', 'm.ifc', bytes);
  const { building } = result;
  if (building === null) throw new Lost('A model that was read gave no building.');
  const { ledger, penetrations } = findInModels(building, settings).result;
  must(ledger.services.length === building.services.length, 'A service is not in the ledger.');
  must(ledger.openings.length === building.openings.length, 'An opening is not in the ledger.');
  finite(penetrations);
}

async function drawing(bytes: Uint8Array): Promise<void> {
  const { settings, result } = await readAs('dxf', 'd.dxf', bytes);
  const { ledger, penetrations } = findInDrawings(result.drawings, settings).result;
  for (const { outcome, reason, penetrationIds, id } of [...ledger.services, ...ledger.openings]) {
    must(penetrationIds.length > 0 || reason !== null, `${id} (${outcome}) has no reason.`);
  }
  finite(penetrations);
}

function finite(
  penetrations: readonly {
    readonly id: string;
    readonly frame: { readonly originMm: readonly number[] };
    readonly thicknessMm: number;
  }[],
): void {
  for (const { id, frame, thicknessMm } of penetrations) {
    must(
      [...frame.originMm, thicknessMm].every(Number.isFinite),
      `${id} lies at a place that is no number.`,
    );
  }
}

async function schedule(name: string, bytes: Uint8Array): Promise<void> {
  const { result } = await readAs('schedule', name, bytes);
  const { sheets } = (await openSheets(file(name, bytes), {})).result;
  rowsAccounted(result, sheets);
}

function rowsAccounted(
  { schedule: { rows, cables } }: Inputs,
  sheets: readonly { readonly name: string; readonly rows: readonly { readonly row: number }[] }[],
): void {
  const known = new Set(rows.map(({ place }) => `${place.sheet}\n${place.row}`));
  for (const sheet of sheets) {
    for (const { row } of sheet.rows) {
      must(known.has(`${sheet.name}\n${row}`), `Row ${row} of ${sheet.name} got lost.`);
    }
  }
  const ids = new Set(cables.map(({ id }) => id));
  for (const { outcome, cableId, queryId } of rows) {
    if (outcome === 'cable') must(cableId !== null && ids.has(cableId), 'A row lost its cable.');
    must(outcome !== 'query' || queryId !== null, 'A row lost its query.');
  }
}

const chamber = path.join(repoRoot, 'samples', 'valve-chamber', 'project.yaml');
let sampleFiles: Promise<readonly InputFile[]> | null = null;

/** Settings that are accepted must carry the small sample to its end. */
async function project(bytes: Uint8Array): Promise<void> {
  const { settings, assumptions } = readProject(file('project.yaml', bytes));
  sampleFiles ??= loadProject([chamber], null, false).then(({ files }) => files);
  const files = (await sampleFiles).filter(({ key }) => settings.files[key] !== undefined);
  await runProject({ settings, assumptions, files, range: sampleRange() }, PLATFORM);
}

async function issues(bytes: Uint8Array): Promise<void> {
  const { settings } = await readAs('bcf', 'b.bcf', bytes);
  if (!canBeCarriedOn(bytes, settings.limits)) return;
  await writeBcf(makeIssue(), { svgToPng: PLATFORM.svgToPng, previous: bytes });
}

async function requirements(bytes: Uint8Array, beside: Uint8Array | null): Promise<void> {
  const { result } = readIds(file('r.ids', bytes));
  if (beside === null) return;
  const report = checkIds(result, beside);
  must(
    report.specifications.length === result.specifications.length,
    'A specification has no verdict.',
  );
}

/** A register that is accepted is written as it was read, and answers. */
async function register(bytes: Uint8Array): Promise<void> {
  const read = await readRegister(file('register.jsonl', bytes), sha256);
  const again = new TextEncoder().encode(await registerText(read, sha256));
  const second = await readRegister(file('register.jsonl', again), sha256);
  must(JSON.stringify(second) === JSON.stringify(read), 'The register changes by being kept.');
  const [first] = read.records;
  if (first !== undefined) askForCable(read, { tag: first.tag, ref: 'new', diameterMm: 12 });
}

const OPENING = new TextEncoder().encode(
  JSON.stringify({
    opening: { type: 'circle', diameterMm: 120 },
    cables: [{ diameterMm: 20, count: 3 }, { diameterMm: 31.5 }],
    thicknessMm: 200,
    duties: [{ duty: 'water', headM: 1 }],
  }),
);

/** A range that is accepted must be one that a seal can be designed from. */
async function range(bytes: Uint8Array): Promise<void> {
  const given = readRange(file('range.yaml', bytes));
  const task = openOpening(file('opening.json', OPENING));
  const seal = sizeOpening({ ...task, range: given, bare: false, effort: 'quick' });
  const text = JSON.stringify(sizeJson(seal, given), (_, value: unknown) =>
    typeof value === 'number' && !Number.isFinite(value) ? 'NOT A NUMBER' : value,
  );
  must(!text.includes('NOT A NUMBER'), 'A figure of the seal is no number.');
}

export const TARGETS: Readonly<Record<Format, Target>> = {
  ifc: model,
  dxf: drawing,
  xlsx: (bytes) => schedule('s.xlsx', bytes),
  csv: (bytes) => schedule('s.csv', bytes),
  yaml: project,
  bcf: issues,
  ids: requirements,
  register,
  range,
};
