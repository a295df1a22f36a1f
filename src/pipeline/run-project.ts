import { groupBy, sortedBy } from '../basics/order.ts';
import type { Query } from '../basics/query.ts';
import { designSeals } from '../design/design-seals.ts';
import { takeOff } from '../design/take-off.ts';
import { matchCables } from '../match/match-cables.ts';
import type { Arrangement, ArrangementProblem } from '../model/arrangement.ts';
import type { BcfAnswer } from '../model/bcf-answers.ts';
import type { Matches, Schedule } from '../model/cable.ts';
import { type Decision, decisionKey } from '../model/decision.ts';
import type { InputFile } from '../model/input.ts';
import type { Issue } from '../model/issue.ts';
import type { Penetration } from '../model/penetration.ts';
import type { Range } from '../model/range.ts';
import type { IssuedFacts, Register } from '../model/register.ts';
import { resultJsonSchema, type SealbookResult } from '../model/result.ts';
import type { Seal } from '../model/seal.ts';
import type { Assumption, Settings } from '../model/settings.ts';
import type { TakeOff } from '../model/take-off.ts';
import {
  cableContradictions,
  contradictionQueries,
  mergeDecisions,
} from '../register/decisions.ts';
import { issuedFacts } from '../register/issued-facts.ts';
import { asBuiltQueries, takeSiteEdits } from '../register/take-edits.ts';
import { tagPenetrations, updateRegister } from '../register/update-register.ts';
import { buildResult, resultText } from '../write/result/build-result.ts';
import { writeSealPages } from '../write/seal-pages/write-seal-pages.ts';
import { writeTables } from '../write/tables/write-tables.ts';
import { workbookParts } from '../write/workbook/workbook-parts.ts';
import { writeWorkbook } from '../write/workbook/write-workbook.ts';
import {
  matchDecisions,
  reviewQueries,
  sealChoices,
  usableDecisions,
  withAnswer,
  withDiameters,
} from './apply-decisions.ts';
import { withAnswersOnCables } from './decisions-from-answers.ts';
import { explainNothing } from './explain-nothing.ts';
import { listBasis } from './list-basis.ts';
import { modelRequirements } from './model-requirements.ts';
import { openRegister, registerBytes } from './open-register.ts';
import type { Platform } from './platform.ts';
import { type ProjectFinds, readAndFind } from './read-and-find.ts';
import type { MissingFile } from './read-inputs.ts';
import { takeWorkbooks } from './take-workbooks.ts';
import { tagFiles, writeQueries } from './write-tagged.ts';

export interface RunInput {
  readonly settings: Settings;
  readonly assumptions: readonly Assumption[];
  readonly range: Range;
  /** Every file named under `files:`, under its key. */
  readonly files: readonly InputFile[];
  /** The register as the last run left it; null for a first run. */
  readonly register?: InputFile | null;
  /** Decisions made since, on the review page or elsewhere; they join those of the register. */
  readonly decisions?: readonly Decision[];
  /** Files that could not be had; each becomes a query. */
  readonly missing?: readonly MissingFile[];
  /** Use what can be read when a file can't be. */
  readonly keepGoing?: boolean;
  /** What an earlier run of the same files and settings read and found: it is not done again. */
  readonly finds?: ProjectFinds;
  /** How bodies are arranged, where a caller keeps what it arranged before. */
  readonly arrange?: (problem: ArrangementProblem) => Arrangement;
}

export interface RunOutput {
  readonly issue: Issue;
  readonly result: SealbookResult;
  readonly files: readonly { readonly name: string; readonly bytes: Uint8Array }[];
  /** The register after this run, to be kept for the next. */
  readonly register: Uint8Array;
  readonly finds: ProjectFinds;
}

const WORKBOOK_NAME = 'sealbook.xlsx';
const RESULT_NAME = 'result.json';
const SCHEMA_NAME = 'sealbook-result.schema.json';

/** The whole job: from the files' bytes to an issue and the bytes of all outputs. */
export async function runProject(input: RunInput, platform: Platform): Promise<RunOutput> {
  const made = await makeIssue(input, platform);
  const { drawings } = made.finds.read.result;
  const tagged = tagFiles({ issue: made.issue, drawings, files: input.files }, platform);
  const issue = withQueries(made.issue, tagged.queries);
  const result = buildResult(issue);
  return {
    issue,
    result,
    files: [
      ...(await writeFiles(issue, result, platform)),
      ...tagged.files,
      ...(await writeQueries(issue, input.files, platform)),
    ],
    register: await registerBytes(made.register, platform.sha256),
    finds: made.finds,
  };
}

async function makeIssue(
  input: RunInput,
  platform: Platform,
): Promise<{ issue: Issue; register: Register; finds: ProjectFinds }> {
  const { settings, range } = input;
  const step = (name: string) => platform.onProgress?.({ step: name, done: 0, total: 0 });
  const before = input.register ? await openRegister(input.register, platform.sha256) : null;
  const finds = input.finds ?? (await readAndFind(input, platform));
  const { read, found } = finds;
  const { building, sources } = read.result;
  const cameBack = await takeWorkbooks(
    input.files,
    settings,
    before,
    input.keepGoing ?? false,
    platform,
  );
  const decisions = mergeDecisions(before?.decisions ?? [], [
    ...cameBack.decisions,
    ...(input.decisions ?? []),
  ]);
  const given = usableDecisions(decisions, range);
  const readKeys = new Set(sources.map(({ key }) => key));
  const required = modelRequirements(
    input.files.filter(({ key }) => readKeys.has(key)),
    settings,
  );
  step('matching cables');
  const tagging = tagPenetrations(found.result.penetrations, before, settings.tags.pattern);
  const usable = withAnswersOnCables(
    given.result,
    read.result.answers,
    read.result.schedule,
    tagging.tags,
    settings.issue.revision,
  );
  const measured = withDiameters(read.result.schedule, usable.result);
  const schedule = measured.result;
  const answersOnCables = matchDecisions(usable.result, schedule, tagging.tags);
  const matched = matchCables(
    found.result.penetrations,
    building,
    schedule,
    answersOnCables,
    settings,
  );
  const penetrations = inOrderOf(tagging.tags, found.result.penetrations, (each) => each.id);
  step('designing seals');
  const designed = designSeals(
    {
      penetrations,
      schedule,
      matches: matched.result,
      range,
      settings,
      choices: sealChoices(usable.result, tagging.tags),
    },
    {
      ...(platform.onProgress ? { onProgress: platform.onProgress } : {}),
      ...(input.arrange ? { arrange: input.arrange } : {}),
    },
  );
  const seals = inOrderOf(tagging.tags, designed.result, (seal) => seal.penetrationId);
  const facts = factsOf(penetrations, seals, schedule, matched.result);
  const updated = updateRegister({
    tagging,
    penetrations,
    facts,
    seals: groupBy(seals, (seal) => seal.penetrationId),
    basis: { range, design: settings.design },
    before,
    decisions,
    taken: cameBack.taken,
    revision: settings.issue.revision,
    filesRead: readKeys,
  });
  const site = takeSiteEdits(cameBack.site, updated.register.records);
  const register = { ...updated.register, records: [...site.records] };
  const decidedOn = new Map(usable.result.map((each) => [decisionKey(each), each]));
  const answers = new Map(read.result.answers.map((answer) => [answer.queryId, answer]));
  const issue: Issue = {
    settings,
    assumptions: input.assumptions,
    sources,
    penetrations,
    tags: tagging.tags,
    schedule,
    matches: matched.result,
    seals,
    takeOff: takeOff(seals, penetrations, range, settings),
    ledger: found.result.ledger,
    queries: onlyOnce([
      ...read.queries.filter(({ id }) => !measured.settled.has(id)),
      ...required.queries,
      ...found.queries,
      ...explainNothing(read.result, found.result),
      ...matched.queries,
      ...designed.queries,
      ...cameBack.queries,
      ...site.queries,
      ...asBuiltQueries(register.records),
      ...given.queries,
      ...usable.queries,
      ...measured.queries,
      ...reviewQueries(usable.result, tagging.tags, tagsOf(register)),
      ...cableContradictions(usable.result, read.result.schedule.cables),
      ...contradictionQueries(usable.result, byTag(facts, tagging.tags)),
    ]).map((query) => withAnswer(answered(query, answers.get(query.id)), decidedOn)),
    basis: listBasis(settings, input.assumptions, range),
    unread: read.result.unread,
    range,
    changes: updated.changes,
    records: new Map(register.records.map((record) => [record.tag, record])),
    decisions,
    ...(required.result.length > 0 ? { requirements: required.result } : {}),
  };
  return { issue, register, finds };
}

/** Facts by penetration id, for the register. */
function factsOf(
  penetrations: readonly Penetration[],
  seals: readonly Seal[],
  schedule: Schedule,
  { matches }: Matches,
): ReadonlyMap<string, IssuedFacts> {
  const sealsOf = groupBy(seals, (seal) => seal.penetrationId);
  const matchesOf = groupBy(matches, (match) => match.penetrationId);
  const refs = new Map(schedule.cables.map((cable) => [cable.id, cable.ref]));
  return new Map(
    penetrations.map((penetration) => {
      const cables = (matchesOf.get(penetration.id) ?? []).map(
        (match) => refs.get(match.cableId) ?? match.cableId,
      );
      return [penetration.id, issuedFacts(penetration, sealsOf.get(penetration.id) ?? [], cables)];
    }),
  );
}

function tagsOf(register: Register): ReadonlySet<string> {
  return new Set(register.records.map(({ tag }) => tag));
}

/** What is known by penetration id, by tag. */
function byTag<T>(
  byId: ReadonlyMap<string, T>,
  tags: ReadonlyMap<string, string>,
): ReadonlyMap<string, T> {
  return new Map([...byId].map(([id, value]) => [tags.get(id) ?? id, value]));
}

/** In the order of the tags; within a penetration the order given stays. */
function inOrderOf<T>(
  tags: ReadonlyMap<string, string>,
  items: readonly T[],
  penetrationIdOf: (item: T) => string,
): T[] {
  const groups = groupBy(items, penetrationIdOf);
  return [...tags.keys()].flatMap((id) => groups.get(id) ?? []);
}

function withQueries(issue: Issue, more: readonly Query[]): Issue {
  return { ...issue, queries: onlyOnce([...issue.queries, ...more]) };
}

/** The query with what people have written to it. */
function answered(query: Query, answer: BcfAnswer | undefined): Query {
  if (answer === undefined || answer.state === 'open') return query;
  const comments = answer.comments.map(
    ({ author, date, text }) => `${author}${date === null ? '' : `, ${date}`}: ${text}`,
  );
  const text = [...comments, ...(answer.status === null ? [] : [answer.status])].join('\n');
  return { ...query, answer: { state: answer.state, text } };
}

/** Sorted by id; the same question asked by two steps is asked once. */
function onlyOnce(queries: readonly Query[]): Query[] {
  const byId = new Map(queries.map((query) => [query.id, query]));
  return sortedBy([...byId.values()], (query) => query.id);
}

/** What one seal takes by itself. */
function takesOf({ penetrations, range, settings }: Issue): (seal: Seal) => TakeOff {
  const byId = new Map(penetrations.map((each) => [each.id, each]));
  return (seal) => {
    const penetration = byId.get(seal.penetrationId);
    return takeOff([seal], penetration === undefined ? [] : [penetration], range, settings);
  };
}

async function writeFiles(issue: Issue, result: SealbookResult, platform: Platform) {
  const files: { name: string; bytes: Uint8Array }[] = [];
  if (issue.settings.outputs.workbook) {
    platform.onProgress?.({ step: 'writing the workbook', done: 0, total: 0 });
    const bytes = await writeWorkbook(issue, { svgToPng: platform.svgToPng });
    files.push({ name: WORKBOOK_NAME, bytes });
    for (const part of workbookParts(issue)) {
      platform.onProgress?.({ step: `writing the workbook of ${part.name}`, done: 0, total: 0 });
      const own = await writeWorkbook(issue, { svgToPng: platform.svgToPng, part });
      files.push({ name: part.file, bytes: own });
    }
  }
  const addText = (name: string, text: string) =>
    files.push({ name, bytes: new TextEncoder().encode(text) });
  if (issue.settings.outputs.json) {
    addText(RESULT_NAME, resultText(result));
    addText(SCHEMA_NAME, `${JSON.stringify(resultJsonSchema(), null, 2)}\n`);
  }
  if (issue.settings.outputs.tables) {
    for (const { name, text } of writeTables(issue)) addText(name, text);
  }
  if (issue.settings.outputs.sealPages) {
    platform.onProgress?.({ step: 'writing the seal pages', done: 0, total: 0 });
    for (const { name, text } of writeSealPages(issue, takesOf(issue))) addText(name, text);
  }
  return files;
}
