import { SealbookError } from '../../basics/errors.ts';
import { type ReadLimits, USUAL_LIMITS } from '../../basics/limits.ts';
import type { Query } from '../../basics/query.ts';
import { stableUuid } from '../../basics/stable-uuid.ts';
import type { BcfFile, BcfTopic, BcfViewpoint } from '../../formats/bcf/bcf-file.ts';
import { parseBcf } from '../../formats/bcf/parse-bcf.ts';
import { printBcf } from '../../formats/bcf/print-bcf.ts';
import { readZip } from '../../formats/shared/zip-archive.ts';
import type { ElementRef } from '../../model/ids.ts';
import type { Issue } from '../../model/issue.ts';
import type { Penetration } from '../../model/penetration.ts';
import { linkOfQuery, queryOfLink } from '../../model/query-link.ts';
import { cameraFor } from './camera.ts';
import { groupQueries, type QueryGroup } from './group-queries.ts';
import { mergeTopic, retiredTopic } from './merge-topic.ts';
import { snapshotSvg } from './snapshot-svg.ts';

export interface BcfOptions {
  /** Picture of an SVG, PNG bytes. */
  readonly svgToPng: (svg: string, widthPx: number) => Uint8Array | Promise<Uint8Array>;
  /** The archive of the last issue: its comments and states are kept, topics of others too. */
  readonly previous?: Uint8Array;
  /** Limits for reading it. */
  readonly limits?: ReadLimits;
  /** Whether queries that are only to be known become topics too. */
  readonly withNotes?: boolean;
}

const SNAPSHOT_PX = 960;
/** Places of one topic that get a view of their own; the others are listed. */
const MOST_VIEWS = 12;
const MOST_LISTED = 100;
/**
 * Pictures of one archive; places beyond have a view without a picture. Drawing and packing one takes
 * about as long as designing fifty seals, and people open the first of a topic.
 */
const MOST_PICTURES = 300;
const LABEL = 'sealbook';

const TYPES = { note: 'Remark', ask: 'Question', stop: 'Blocking question' } as const;
const PRIORITIES = { note: 'Low', ask: 'Normal', stop: 'High' } as const;
const STATUSES = ['Open', 'In progress', 'Answered', 'Closed'] as const;

/**
 * The queries of an issue as a BCF 3.0 archive: a topic a cause, each with views of its places. Ids
 * follow from the cause, so a second run updates. Dates come from the settings alone.
 *
 * @throws SealbookError `input-unreadable` where `previous` is no BCF 3.0 archive.
 */
export async function writeBcf(issue: Issue, options: BcfOptions): Promise<Uint8Array> {
  const previous =
    options.previous === undefined
      ? null
      : readPrevious(options.previous, options.limits ?? USUAL_LIMITS);
  const former = new Map(previous?.file.topics.map((topic) => [topic.guid, topic]));
  const topics: BcfTopic[] = [];
  const groups = groupQueries(issue, options.withNotes ?? false);
  const pictured = picturedPlaces(groups);
  for (const group of groups) {
    const topic = await topicOf(issue, group, pictured, options);
    const old = former.get(topic.guid);
    topics.push(old === undefined ? topic : mergeTopic(topic, old));
    former.delete(topic.guid);
  }
  const { preparedBy, date } = issue.settings.issue;
  const left = [...former.values()];
  const retired = left.filter(isOurs).map((topic) => retiredTopic(topic, stamp(issue), preparedBy));
  const foreign = left.filter((topic) => !isOurs(topic));
  return printBcf(
    {
      project: projectOf(issue),
      topics: [...topics, ...retired],
      words: wordsOf(topics, previous?.file ?? null),
      kept: previous === null ? [] : keptEntries(previous.entries, foreign),
    },
    date ?? null,
  );
}

interface Previous {
  readonly file: BcfFile;
  readonly entries: ReadonlyMap<string, Uint8Array>;
}

/** Whether an archive can be carried on: one of 3.0 that can be read. */
export function canBeCarriedOn(bytes: Uint8Array, limits: ReadLimits): boolean {
  try {
    readPrevious(bytes, limits);
    return true;
  } catch (error) {
    if (error instanceof SealbookError) return false;
    throw error;
  }
}

function readPrevious(bytes: Uint8Array, limits: ReadLimits): Previous {
  const file = parseBcf(bytes, limits);
  if (file.version !== '3.0') {
    throw new SealbookError(
      'input-unreadable',
      `The former BCF archive is version ${file.version}; only 3.0 can be carried on.`,
      { todo: 'Give the archive that the last run wrote, or leave it out to start afresh.' },
    );
  }
  return { file, entries: readZip(bytes, limits) };
}

/** Entries of topics of others, and documents, as they were. */
function keptEntries(entries: Previous['entries'], foreign: readonly BcfTopic[]) {
  const folders = foreign.map(({ folder }) => `${folder}/`);
  return [...entries]
    .filter(
      ([name]) =>
        name === 'documents.xml' ||
        name.startsWith('documents/') ||
        folders.some((folder) => name.startsWith(folder)),
    )
    .map(([name, bytes]) => ({ name, bytes }));
}

/**
 * Keys of the places that get a picture: the first place of every topic before any second one, and
 * blocking questions before others.
 */
function picturedPlaces(groups: readonly QueryGroup[]): ReadonlySet<string> {
  const rank = { stop: 0, ask: 1, note: 2 };
  const ordered = [...groups].sort(
    (a, b) => rank[worstOf(a.queries).severity] - rank[worstOf(b.queries).severity],
  );
  const keys = Array.from({ length: MOST_VIEWS }, (_, view) =>
    ordered.flatMap((group) => {
      const place = group.places[view];
      return place === undefined ? [] : [placeKey(group, place)];
    }),
  ).flat();
  return new Set(keys.slice(0, MOST_PICTURES));
}

const placeKey = ({ key }: QueryGroup, { id }: Penetration): string => `${key}/${id}`;

async function topicOf(
  issue: Issue,
  group: QueryGroup,
  pictured: ReadonlySet<string>,
  options: BcfOptions,
): Promise<BcfTopic> {
  const guid = stableUuid(`topic/${projectOf(issue).id}/${group.key}`);
  const worst = worstOf(group.queries);
  const viewpoints: BcfViewpoint[] = [];
  for (const [index, place] of group.places.slice(0, MOST_VIEWS).entries()) {
    const isPictured = pictured.has(placeKey(group, place));
    const snapshot = isPictured ? await pictureOf(issue, group, place, options) : null;
    viewpoints.push({ ...viewpointOf(issue, group, place), index, snapshot });
  }
  return {
    guid,
    folder: guid,
    type: TYPES[worst.severity],
    status: 'Open',
    title: titleOf(group, worst),
    priority: PRIORITIES[worst.severity],
    labels: [LABEL, worst.code],
    links: group.queries.map(({ id }) => linkOfQuery(id)),
    createdOn: stamp(issue),
    createdBy: issue.settings.issue.preparedBy,
    modifiedOn: null,
    modifiedBy: null,
    assignedTo: worst.to,
    description: descriptionOf(issue, group),
    files: issue.sources.filter(({ kind }) => kind === 'ifc').map(({ name }) => name),
    comments: [],
    viewpoints,
  };
}

async function pictureOf(
  issue: Issue,
  group: QueryGroup,
  place: Penetration,
  { svgToPng }: BcfOptions,
): Promise<Uint8Array> {
  const tag = issue.tags.get(place.id) ?? place.id;
  const question = group.queries.find(({ penetrationId }) => penetrationId === place.id);
  return svgToPng(snapshotSvg(place, tag, question?.text ?? ''), SNAPSHOT_PX);
}

function viewpointOf(
  issue: Issue,
  group: QueryGroup,
  place: Penetration,
): Omit<BcfViewpoint, 'index' | 'snapshot'> {
  const shown = globalIdsOf(issue, [
    ...place.hosts.map(({ ref }) => ref),
    ...place.openings.map(({ ref }) => ref),
    ...place.crossings.flatMap(({ refs }) => refs),
  ]);
  return {
    guid: stableUuid(`viewpoint/${projectOf(issue).id}/${placeKey(group, place)}`),
    camera: cameraFor(place),
    selected: shown,
    // Only what matters is shown: nothing can stand between the camera and the place.
    defaultVisibility: shown.length === 0,
    exceptions: shown,
    openingsVisible: true,
  };
}

/** GlobalIds of elements of models; drawings have none. */
function globalIdsOf(issue: Issue, refs: readonly ElementRef[]): string[] {
  const models = new Set(issue.sources.filter(({ kind }) => kind === 'ifc').map(({ key }) => key));
  const ids = refs
    .filter(({ fileKey, id }) => models.has(fileKey) && /^[0-9A-Za-z_$]{22}$/.test(id))
    .map(({ id }) => id);
  return [...new Set(ids)];
}

function titleOf({ queries, places, about }: QueryGroup, { code }: Query): string {
  const words = code.replaceAll('-', ' ');
  const what = words.charAt(0).toUpperCase() + words.slice(1);
  const count =
    places.length > 1
      ? ` (${places.length} places)`
      : queries.length > 1
        ? ` (${queries.length})`
        : '';
  return `${what}: ${about}${count}`;
}

function descriptionOf(issue: Issue, { queries }: QueryGroup): string {
  const [first] = queries;
  const lines = queries.slice(0, MOST_LISTED).map((query) => {
    const tag = query.penetrationId === null ? undefined : issue.tags.get(query.penetrationId);
    return tag === undefined ? `• ${query.text}` : `• ${tag}: ${query.text}`;
  });
  const more = queries.length - lines.length;
  return [
    ...lines,
    ...(more > 0 ? [`• and ${more} more, listed in the workbook`] : []),
    `Why it matters: ${first?.why ?? ''}`,
    `What would settle it: ${first?.settles ?? ''}`,
  ].join('\n');
}

function worstOf(queries: readonly Query[]): Query {
  const rank = { note: 0, ask: 1, stop: 2 };
  const [worst] = [...queries].sort((a, b) => rank[b.severity] - rank[a.severity]);
  if (worst === undefined) throw new RangeError('A group of queries is empty.');
  return worst;
}

function isOurs(topic: BcfTopic): boolean {
  return topic.links.some((link) => queryOfLink(link).length > 0);
}

function projectOf({ settings }: Issue): { readonly id: string; readonly name: string } {
  const { name, number } = settings.project;
  // The number stays when a project is renamed.
  return { id: stableUuid(`project/${number === '' ? name : number}`), name };
}

function stamp({ settings }: Issue): string | null {
  return settings.issue.date === undefined ? null : `${settings.issue.date}T00:00:00Z`;
}

/** Our words, and those the former archive allowed. */
function wordsOf(topics: readonly BcfTopic[], previous: BcfFile | null) {
  const union = (ours: readonly string[], theirs: readonly string[] | undefined) => [
    ...new Set([...ours, ...(theirs ?? [])]),
  ];
  const words = previous?.words;
  return {
    types: union(Object.values(TYPES), words?.types),
    statuses: union(STATUSES, words?.statuses),
    priorities: union(Object.values(PRIORITIES), words?.priorities),
    labels: union([...new Set(topics.flatMap(({ labels }) => labels))].sort(), words?.labels),
    users: union(
      [...new Set(topics.flatMap(({ assignedTo, createdBy }) => [assignedTo, createdBy]))]
        .filter((user) => user !== null)
        .sort(),
      words?.users,
    ),
  };
}
