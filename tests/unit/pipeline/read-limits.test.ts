import { zipSync } from 'fflate';
import { describe, expect, test } from 'vitest';
import type { ReadLimits } from '../../../src/basics/limits.ts';
import { timeLimit } from '../../../src/basics/time-limit.ts';
import { Settings } from '../../../src/model/settings.ts';
import type { Platform } from '../../../src/pipeline/platform.ts';
import { readInputs } from '../../../src/pipeline/read-inputs.ts';

const text = (value: string) => new TextEncoder().encode(value);

/** Reads one file under narrow limits; the platform's clock moves 100 ms a look. */
function readOne(
  name: string,
  kind: string,
  bytes: Uint8Array,
  limits: Partial<Record<keyof ReadLimits, number>>,
) {
  let ms = 0;
  const platform: Platform = {
    sha256: () => '',
    svgToPng: () => Promise.reject(new Error('no pictures')),
    nowMs: () => {
      ms += 100;
      return ms;
    },
  };
  const settings = Settings.parse({ files: { given: { path: name, kind } }, limits });
  return readInputs({ settings, files: [{ key: 'given', name, bytes }] }, platform);
}

const step = (records: number) =>
  text(
    [
      'ISO-10303-21;',
      "HEADER;FILE_DESCRIPTION((''),'2;1');FILE_NAME('','',(''),(''),'','','');",
      "FILE_SCHEMA(('IFC4'));",
      'ENDSEC;',
      'DATA;',
      ...Array.from({ length: records }, (_, n) => `#${n + 1}=IFCDIRECTION((1.,0.,0.));`),
      'ENDSEC;',
      'END-ISO-10303-21;',
    ].join('\n'),
  );

const dxf = (lines: number) =>
  text(
    [
      '0\nSECTION\n2\nENTITIES',
      ...Array.from({ length: lines }, (_, n) => `0\nLINE\n8\nA\n10\n0\n20\n${n}\n11\n9\n21\n${n}`),
      '0\nENDSEC\n0\nEOF\n',
    ].join('\n'),
  );

const csv = (rows: number) => text(`Cable ref,OD mm\n${'W1,12\n'.repeat(rows)}`);
const bcf = (markup: string) =>
  zipSync({
    'bcf.version': text('<Version VersionId="3.0"/>'),
    'a/markup.bcf': text(markup),
    zeros: new Uint8Array(2 ** 21),
  });

describe('what goes beyond a limit is refused with the file, the limit and the setting', () => {
  test.each([
    ['model.ifc', 'ifc', step(20), { fileMb: 0.0001 }, /0\.0001 MB/],
    ['model.ifc', 'ifc', step(20), { entities: 10 }, /10 records/],
    ['plan.dxf', 'dxf', dxf(20), { fileMb: 0.0001 }, /0\.0001 MB/],
    ['plan.dxf', 'dxf', dxf(20), { entities: 10 }, /10 records/],
    ['cables.csv', 'schedule', csv(20), { rows: 10 }, /10 rows/],
    ['cables.csv', 'schedule', csv(20), { cells: 10 }, /10 cells/],
    ['back.bcf', 'bcf', bcf('<Markup/>'), { archiveEntries: 2 }, /2 entries/],
    ['back.bcf', 'bcf', bcf('<Markup/>'), { unpackedMb: 1 }, /1 MB/],
    // The clock of this test moves 100 ms at each look.
    ['model.ifc', 'ifc', step(5), { fileSeconds: 0.05 }, /0\.05 seconds/],
    ['plan.dxf', 'dxf', dxf(20_000), { fileSeconds: 0.05 }, /0\.05 seconds/],
    ['cables.csv', 'schedule', csv(5000), { fileSeconds: 0.05 }, /0\.05 seconds/],
    ['back.bcf', 'bcf', bcf('<Markup/>'), { fileSeconds: 0.05 }, /0\.05 seconds/],
  ] as const)('%s (%s), limit %#', async (name, kind, bytes, limits, message) => {
    const [setting] = Object.keys(limits);
    await expect(readOne(name, kind, bytes, limits)).rejects.toMatchObject({
      code: 'input-too-large',
      message: expect.stringMatching(message),
      where: { file: name },
      todo: expect.stringContaining(`limits.${setting}`),
    });
  });

  test('a part of an archive that is too much is asked about, and the rest is read', async () => {
    const deep = `${'<a>'.repeat(9)}${'</a>'.repeat(9)}`;
    const { queries } = await readOne('back.bcf', 'bcf', bcf(deep), { xmlDepth: 5 });
    expect(queries.map(({ code, text: said }) => [code, said])).toEqual([
      ['topic-unclear', expect.stringContaining('nests deeper than 5')],
    ]);
  });
});

test('without a clock there is no limit on time', () => {
  const check = timeLimit(undefined, 0.001);
  expect(check).not.toThrow();
});
