import { expect, test } from 'vitest';
import { writeZip } from '../../../src/formats/shared/zip-archive.ts';
import { Settings } from '../../../src/model/settings.ts';
import { readInputs } from '../../../src/pipeline/read-inputs.ts';
import { writeQueries } from '../../../src/pipeline/write-tagged.ts';
import { makeIssue } from '../../makers/issue/make-issue.ts';

const platform = {
  sha256: () => '',
  svgToPng: () => Promise.resolve(Uint8Array.of(137, 80, 78, 71)),
};
const utf8 = (text: string) => new TextEncoder().encode(text);
const archive = (version: string) =>
  writeZip([{ name: 'bcf.version', bytes: utf8(`<Version VersionId="${version}"/>`) }], null);

test.each([
  ['of another version', archive('2.1')],
  ['that is none', utf8('no archive')],
])('an archive of answers %s does not keep the issue from being written', async (_, bytes) => {
  const issue = makeIssue();
  const settings = { ...issue.settings, files: { back: { path: 'b.bcf', kind: 'bcf' as const } } };
  const file = { key: 'back', name: 'b.bcf', bytes };
  const written = await writeQueries({ ...issue, settings }, [file], platform);
  expect(written.map(({ name }) => name)).toEqual(['queries.bcf']);
});

test('that an archive of another version is not carried on is asked about', async () => {
  const settings = Settings.parse({ files: { back: { path: 'b.bcf', kind: 'bcf' } } });
  const read = async (version: string) => {
    const files = [{ key: 'back', name: 'b.bcf', bytes: archive(version) }];
    return (await readInputs({ settings, files }, platform)).queries.map(({ code }) => code);
  };
  expect(await read('2.1')).toEqual(['topic-unclear']);
  expect(await read('3.0')).toEqual([]);
});
