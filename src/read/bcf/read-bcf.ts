import { SealbookError, withFile } from '../../basics/errors.ts';
import { type ReadLimits, USUAL_LIMITS } from '../../basics/limits.ts';
import { compareText, sortedBy } from '../../basics/order.ts';
import { makeQuery, type Query, type WithQueries } from '../../basics/query.ts';
import type { BcfFile, BcfTopic } from '../../formats/bcf/bcf-file.ts';
import { parseBcf } from '../../formats/bcf/parse-bcf.ts';
import type { BcfAnswer, BcfAnswers } from '../../model/bcf-answers.ts';
import type { InputFile } from '../../model/input.ts';
import { queryOfLink } from '../../model/query-link.ts';

/**
 * Answers to our queries in a BCF archive, 2.1 or 3.0. A topic of ours is known by its links to the
 * queries; all others are listed and left alone.
 *
 * @throws SealbookError `input-unreadable` if it is no BCF, `input-too-large` beyond limits.
 */
export function readBcf(
  file: InputFile,
  limits: ReadLimits = USUAL_LIMITS,
): WithQueries<BcfAnswers> {
  const bcf = parseNamed(file, limits);
  const ours = bcf.topics.map((topic) => ({ topic, queryIds: topic.links.flatMap(queryOfLink) }));
  return {
    result: {
      version: bcf.version,
      answers: sortedBy(
        ours.flatMap(({ topic, queryIds }) => queryIds.map((id) => answerOf(topic, id))),
        ({ queryId }) => queryId,
      ),
      others: ours
        .filter(({ queryIds }) => queryIds.length === 0)
        .map(({ topic }) => ({ guid: topic.guid, title: topic.title })),
    },
    queries: problemQueries(file, bcf),
  };
}

function answerOf(topic: BcfTopic, queryId: string): BcfAnswer {
  const comments = topic.comments
    .filter(({ text }) => text !== '')
    .map(({ author, date, text }) => ({ author: author ?? 'not stated', date, text }))
    .sort((a, b) => compareText(a.date ?? '', b.date ?? ''));
  return {
    queryId,
    topicGuid: topic.guid,
    title: topic.title,
    state: stateOf(topic.status, comments.length),
    status: topic.status,
    assignedTo: topic.assignedTo,
    comments,
  };
}

/** Words of programs for a topic that is done; free text by the standard. */
const CLOSED = /\b(closed?|done|solved|resolved|completed?|finished)\b/;
const OPEN = /\b(open|new|active|reopened)\b/;

function stateOf(status: string | null, comments: number): BcfAnswer['state'] {
  const words = (status ?? '').toLowerCase().replaceAll('_', ' ');
  if (CLOSED.test(words)) return 'closed';
  return comments > 0 || (words !== '' && !OPEN.test(words)) ? 'answered' : 'open';
}

function problemQueries(file: InputFile, bcf: BcfFile): Query[] {
  return bcf.problems.map(({ entry, text }) =>
    makeQuery('topic-unclear', {
      about: `${file.key}/${entry}`,
      text: `In ${file.name}, ${entry} ${text}.`,
      why: 'An answer in that part may be missed.',
      settles: 'The archive exported again, or the answer given in another way.',
      evidence: [{ fact: 'topic', text: entry, place: { fileKey: file.key } }],
    }),
  );
}

function parseNamed(file: InputFile, limits: ReadLimits): BcfFile {
  try {
    return parseBcf(file.bytes, limits);
  } catch (error) {
    throw error instanceof SealbookError ? withFile(error, file.name) : error;
  }
}
