import { sortedBy } from '../basics/order.ts';
import type { Query, WithQueries } from '../basics/query.ts';
import { designSeals } from '../design/design-seals.ts';
import { takeOff } from '../design/take-off.ts';
import { findInDrawings } from '../find/drawings/find-in-drawings.ts';
import { mergeFindings } from '../find/merge-findings.ts';
import { findInModels } from '../find/models/find-in-models.ts';
import { matchCables } from '../match/match-cables.ts';
import type { InputFile } from '../model/input.ts';
import type { Issue } from '../model/issue.ts';
import type { Findings } from '../model/penetration.ts';
import type { Range } from '../model/range.ts';
import type { SealbookResult } from '../model/result.ts';
import type { Assumption, Settings } from '../model/settings.ts';
import { assignTags } from '../register/assign-tags.ts';
import { buildResult, resultText } from '../write/result/build-result.ts';
import { writeWorkbook } from '../write/workbook/write-workbook.ts';
import { listBasis } from './list-basis.ts';
import type { Platform } from './platform.ts';
import { type Inputs, type MissingFile, readInputs } from './read-inputs.ts';

export interface RunInput {
  readonly settings: Settings;
  readonly assumptions: readonly Assumption[];
  readonly range: Range;
  /** Every file named under `files:`, under its key. */
  readonly files: readonly InputFile[];
  /** Files that could not be had; each becomes a query. */
  readonly missing?: readonly MissingFile[];
  /** Use what can be read when a file can't be. */
  readonly keepGoing?: boolean;
}

export interface RunOutput {
  readonly issue: Issue;
  readonly result: SealbookResult;
  readonly files: readonly { readonly name: string; readonly bytes: Uint8Array }[];
}

const WORKBOOK_NAME = 'sealbook.xlsx';
const RESULT_NAME = 'result.json';

/** The whole job: from the files' bytes to an issue and the bytes of all outputs. */
export async function runProject(input: RunInput, platform: Platform): Promise<RunOutput> {
  const issue = await makeIssue(input, platform);
  const result = buildResult(issue);
  return { issue, result, files: await writeFiles(issue, result, platform) };
}

/** Names of what `runProject` writes, for a dry run. */
export function outputNames(settings: Settings): string[] {
  return [
    ...(settings.outputs.workbook ? [WORKBOOK_NAME] : []),
    ...(settings.outputs.json ? [RESULT_NAME] : []),
  ];
}

async function makeIssue(input: RunInput, platform: Platform): Promise<Issue> {
  const { settings, range } = input;
  const step = (name: string) => platform.onProgress?.({ step: name, done: 0, total: 0 });
  const read = await readInputs(input, platform);
  const { building, schedule } = read.result;
  step('finding penetrations');
  const found = find(read.result, settings);
  step('matching cables');
  const matched = matchCables(found.result.penetrations, building, schedule, [], settings);
  step('designing seals');
  const tags = assignTags(found.result.penetrations, settings.tags.pattern);
  const order = new Map([...tags.keys()].map((id, place) => [id, place]));
  const penetrations = [...found.result.penetrations].sort(byPlace(order, (each) => each.id));
  const designed = designSeals(
    { penetrations, schedule, matches: matched.result, range, settings },
    platform.onProgress ? { onProgress: platform.onProgress } : {},
  );
  return {
    settings,
    assumptions: input.assumptions,
    sources: read.result.sources,
    penetrations,
    tags,
    schedule,
    matches: matched.result,
    seals: [...designed.result].sort(byPlace(order, (each) => each.penetrationId)),
    takeOff: takeOff(designed.result, penetrations, range, settings),
    ledger: found.result.ledger,
    queries: onlyOnce([...read.queries, ...found.queries, ...matched.queries, ...designed.queries]),
    basis: listBasis(settings, input.assumptions, range),
    unread: read.result.unread,
    range,
  };
}

function find(inputs: Inputs, settings: Settings): WithQueries<Findings> {
  const inModels = inputs.building === null ? null : findInModels(inputs.building, settings);
  const inDrawings =
    inputs.drawings.length === 0 ? null : findInDrawings(inputs.drawings, settings);
  if (inModels === null) return inDrawings ?? NOTHING_FOUND;
  if (inDrawings === null) return inModels;
  const merged = mergeFindings(inModels.result, inDrawings.result, settings);
  return {
    result: merged.result,
    queries: [...inModels.queries, ...inDrawings.queries, ...merged.queries],
  };
}

const NOTHING_FOUND: WithQueries<Findings> = {
  result: { penetrations: [], ledger: { services: [], openings: [] } },
  queries: [],
};

/** In order of tag; what has no place keeps its order at the end. */
function byPlace<T>(order: ReadonlyMap<string, number>, id: (item: T) => string) {
  const place = (item: T) => order.get(id(item)) ?? order.size;
  return (a: T, b: T) => place(a) - place(b);
}

/** Sorted by id; the same question asked by two steps is asked once. */
function onlyOnce(queries: readonly Query[]): Query[] {
  const byId = new Map(queries.map((query) => [query.id, query]));
  return sortedBy([...byId.values()], (query) => query.id);
}

async function writeFiles(issue: Issue, result: SealbookResult, platform: Platform) {
  const files: { name: string; bytes: Uint8Array }[] = [];
  if (issue.settings.outputs.workbook) {
    platform.onProgress?.({ step: 'writing the workbook', done: 0, total: 0 });
    const bytes = await writeWorkbook(issue, { svgToPng: platform.svgToPng });
    files.push({ name: WORKBOOK_NAME, bytes });
  }
  if (issue.settings.outputs.json) {
    files.push({ name: RESULT_NAME, bytes: new TextEncoder().encode(resultText(result)) });
  }
  return files;
}
