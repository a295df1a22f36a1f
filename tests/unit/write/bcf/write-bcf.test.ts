import { expect, test } from 'vitest';
import { makeQuery } from '../../../../src/basics/query.ts';
import { parseBcf } from '../../../../src/formats/bcf/parse-bcf.ts';
import { printBcf } from '../../../../src/formats/bcf/print-bcf.ts';
import { readZip } from '../../../../src/formats/shared/zip-archive.ts';
import type { Issue } from '../../../../src/model/issue.ts';
import { readBcf } from '../../../../src/read/bcf/read-bcf.ts';
import { writeBcf } from '../../../../src/write/bcf/write-bcf.ts';
import { HOSTILE, makeIssue } from '../../../makers/issue/make-issue.ts';

const svgToPng = () => Uint8Array.of(0x89, 0x50, 0x4e, 0x47);
const read = (bytes: Uint8Array) => readBcf({ key: 'bcf', name: 'x.bcf', bytes }).result;

function query(about: string, penetrationId: string | null, text = 'Which size is it?') {
  return makeQuery('size-unknown', {
    about,
    penetrationId,
    text,
    why: 'Without it no seal.',
    settles: 'A size.',
  });
}

/** Two penetrations of one wall, one of another. */
function issueWith(queries: Issue['queries'], changes: Partial<Issue> = {}): Issue {
  const issue = makeIssue();
  const [first, second, third] = issue.penetrations;
  if (first === undefined || second === undefined || third === undefined) {
    throw new Error('the maker has too few penetrations');
  }
  const [host] = first.hosts;
  if (host === undefined) throw new Error('the maker has no host');
  const wall = (id: string) => [
    { ...host, id: `arch:${id}`, name: id, ref: { fileKey: 'arch', id: `0${id}`.padEnd(22, '0') } },
  ];
  const penetrations = [
    { ...first, hosts: wall('W1') },
    { ...second, hosts: wall('W1') },
    { ...third, hosts: wall('W2') },
  ];
  return { ...issue, penetrations, queries, ...changes };
}

test('the same question about one wall is one topic, about another wall another', async () => {
  const issue = issueWith([]);
  const [a, b, c] = issue.penetrations.map(({ id }) => id);
  const queries = [query('a', a ?? ''), query('b', b ?? ''), query('c', c ?? ''), query('d', null)];
  const bytes = await writeBcf({ ...issue, queries }, { svgToPng });
  const { topics } = parseBcf(bytes);
  expect(topics.map(({ viewpoints }) => viewpoints.length).sort()).toEqual([0, 1, 2]);
  expect(
    topics.map(({ title }) => title).filter((title) => title.includes('2 places')).length,
  ).toBe(1);
  expect(read(bytes).answers.map(({ queryId }) => queryId)).toEqual(queries.map(({ id }) => id));
});

test('host and services of the place are selected and alone to be seen', async () => {
  const issue = issueWith([]);
  const [first] = issue.penetrations;
  const bytes = await writeBcf({ ...issue, queries: [query('a', first?.id ?? '')] }, { svgToPng });
  const view = parseBcf(bytes).topics[0]?.viewpoints[0];
  expect(view?.selected).toContain(first?.hosts[0]?.ref.id);
  expect(view?.exceptions).toEqual(view?.selected);
  expect(view?.defaultVisibility).toBe(false);
  expect(view?.snapshot).toEqual(svgToPng());
});

test('the same issue gives the same bytes', async () => {
  const first = await writeBcf(makeIssue(), { svgToPng });
  expect(Buffer.compare(await writeBcf(makeIssue(), { svgToPng }), first)).toBe(0);
});

test('a second run keeps what people did, updates what changed and closes what is settled', async () => {
  const issue = issueWith([]);
  const [a, , c] = issue.penetrations.map(({ id }) => id);
  const before = { ...issue, queries: [query('a', a ?? ''), query('c', c ?? '')] };
  const first = parseBcf(await writeBcf(before, { svgToPng }));
  // Somebody answers both in another program.
  const answered = first.topics.map((topic) => ({
    ...topic,
    status: 'In progress',
    comments: [
      {
        guid: '11111111-1111-4111-8111-111111111111',
        date: '2026-03-01T10:00:00Z',
        author: 'services engineer',
        text: 'It is a 110 duct.',
        viewpointGuid: null,
        modifiedOn: null,
        modifiedBy: null,
      },
    ],
  }));
  const previous = printBcf(
    { project: { id: 'p', name: 'p' }, topics: answered, words: first.words, kept: [] },
    null,
  );
  expect(read(previous).answers[0]).toMatchObject({
    queryId: 'size-unknown:a',
    state: 'answered',
    comments: [{ author: 'services engineer', text: 'It is a 110 duct.' }],
  });
  // The next issue still asks about the first wall, in other words, and no longer about the second.
  const after = { ...issue, queries: [query('a', a ?? '', 'Is it 110 outside or inside?')] };
  const second = parseBcf(await writeBcf(after, { svgToPng, previous }));
  expect(second.topics.map(({ guid }) => guid)).toEqual(first.topics.map(({ guid }) => guid));
  const asked = second.topics.find(({ description }) => description?.includes('outside or inside'));
  expect(asked).toMatchObject({ status: 'In progress', createdOn: '2026-02-27T00:00:00Z' });
  expect(asked?.comments.map(({ text }) => text)).toEqual(['It is a 110 duct.']);
  expect(asked?.modifiedOn).not.toBeNull();
  const settled = second.topics.find(({ guid }) => guid !== asked?.guid);
  expect(settled?.status).toBe('Closed');
  expect(settled?.comments.length).toBe(1);
  // A third run with nothing new changes nothing.
  const third = await writeBcf(after, {
    svgToPng,
    previous: await writeBcf(after, { svgToPng, previous }),
  });
  const fourth = await writeBcf(after, { svgToPng, previous: third });
  expect(Buffer.compare(fourth, third)).toBe(0);
});

test('texts from drawings stay texts', async () => {
  const issue = issueWith(HOSTILE.map((text, at) => query(`q${at}`, null, text)));
  const { topics } = parseBcf(await writeBcf(issue, { svgToPng }));
  expect(topics.length).toBe(1);
  expect(topics[0]?.description).toContain('<script>alert(1)</script>');
});

test('notes are left out unless asked for', async () => {
  const note = { ...query('n', null), severity: 'note' as const };
  const count = async (withNotes: boolean) =>
    parseBcf(await writeBcf(issueWith([note]), { svgToPng, withNotes })).topics.length;
  expect(await count(false)).toBe(0);
  expect(await count(true)).toBe(1);
});

test('folders are entries of their own, and dates come from the settings', async () => {
  const bytes = await writeBcf(makeIssue(), { svgToPng });
  expect(readZip(bytes).size).toBeGreaterThan(3);
  const names = new TextDecoder('latin1').decode(bytes);
  expect(names).toMatch(/[0-9a-f-]{36}\/PK/);
  for (const { createdOn } of parseBcf(bytes).topics)
    expect(createdOn).toBe('2026-02-27T00:00:00Z');
});

test('a former archive of another version is refused', async () => {
  const bytes = await writeBcf(makeIssue(), { svgToPng });
  const entries = [...readZip(bytes)];
  const { writeZip } = await import('../../../../src/formats/shared/zip-archive.ts');
  const old = writeZip(
    entries.map(([name, content]) => ({
      name,
      bytes:
        name === 'bcf.version' ? new TextEncoder().encode('<Version VersionId="2.1"/>') : content,
    })),
    null,
  );
  await expect(writeBcf(makeIssue(), { svgToPng, previous: old })).rejects.toThrow(/only 3.0/);
});
