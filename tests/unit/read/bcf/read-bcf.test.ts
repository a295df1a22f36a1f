import { expect, test } from 'vitest';
import { writeZip } from '../../../../src/formats/shared/zip-archive.ts';
import { linkOfQuery, queryOfLink } from '../../../../src/model/query-link.ts';
import { readBcf } from '../../../../src/read/bcf/read-bcf.ts';

const GUID = '11111111-1111-4111-8111-111111111111';

function archive(markup: string, version = '2.1', folder = GUID) {
  const bytes = (text: string) => new TextEncoder().encode(text);
  return writeZip(
    [
      { name: 'bcf.version', bytes: bytes(`<Version VersionId="${version}"/>`) },
      { name: `${folder}/markup.bcf`, bytes: bytes(markup) },
    ],
    null,
  );
}

const read = (bytes: Uint8Array) => readBcf({ key: 'bcf', name: 'back.bcf', bytes });

test('an answer in 2.1, with a query id of any characters', () => {
  const id = 'size-unknown:arch:a/b ü&<"';
  const markup = `<Markup><Topic Guid="${GUID.toUpperCase()}" TopicStatus="CLOSED">
    <ReferenceLink>${linkOfQuery(id)}</ReferenceLink><Title>Size</Title></Topic>
    <Comment Guid="x"><Date>2026-02-02T00:00:00Z</Date><Author>b</Author><Comment>second</Comment></Comment>
    <Comment Guid="y"><Date>2026-01-01T00:00:00Z</Date><Author>a</Author><Comment>first</Comment></Comment>
    </Markup>`;
  const { result, queries } = read(archive(markup));
  expect(queries).toEqual([]);
  expect(result.answers).toEqual([
    expect.objectContaining({
      queryId: id,
      topicGuid: GUID,
      state: 'closed',
      comments: [
        { author: 'a', date: '2026-01-01T00:00:00Z', text: 'first' },
        { author: 'b', date: '2026-02-02T00:00:00Z', text: 'second' },
      ],
    }),
  ]);
});

test.each([
  ['Open', 'open'],
  ['Active', 'open'],
  [null, 'open'],
  ['In progress', 'answered'],
  ['IN_PROGRESS', 'answered'],
  ['Resolved', 'closed'],
  ['Done', 'closed'],
])('the status %s counts as %s', (status, state) => {
  const attribute = status === null ? '' : ` TopicStatus="${status}"`;
  const markup = `<Markup><Topic Guid="${GUID}"${attribute}><ReferenceLink>${linkOfQuery('q')}</ReferenceLink><Title>T</Title></Topic></Markup>`;
  expect(read(archive(markup)).result.answers[0]?.state).toBe(state);
});

test('a damaged part is asked about and the rest is read', () => {
  const { result, queries } = read(archive('<Markup><Topic>'));
  expect(result.answers).toEqual([]);
  expect(queries.map(({ code }) => code)).toEqual(['topic-unclear']);
  expect(
    read(archive(`<Markup><Topic Guid="${GUID}"/></Markup>`, '3.0', 'elsewhere')).queries[0]?.text,
  ).toMatch(/lies in the folder elsewhere/);
});

test('what is no BCF is said so', () => {
  const zip = writeZip([{ name: 'a.txt', bytes: new Uint8Array(3) }], null);
  expect(() => read(zip)).toThrow(/no BCF/);
  expect(() => read(new Uint8Array(10))).toThrow(/not a zip/);
});

test('links of others and damaged ones carry no query', () => {
  expect(queryOfLink('https://example.com')).toEqual([]);
  expect(queryOfLink('urn:sealbook:query:%E0%A4%A')).toEqual([]);
  expect(queryOfLink(linkOfQuery('a:b'))).toEqual(['a:b']);
});
