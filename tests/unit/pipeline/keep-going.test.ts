import { expect, test } from 'vitest';
import { Settings } from '../../../src/model/settings.ts';
import { runProject } from '../../../src/pipeline/run-project.ts';
import { sampleRange } from '../../../src/read/range/sample-range.ts';
import { IfcMaker } from '../../makers/ifc/ifc-maker.ts';

const platform = {
  sha256: () => '',
  svgToPng: () => Promise.resolve(Uint8Array.of(137, 80, 78, 71)),
};

function model(): Uint8Array {
  const maker = new IfcMaker({ schema: 'IFC4' });
  maker.wall({ at: [0, 0, 0], length: 4000, thickness: 200, height: 3000 });
  return maker.toBytes();
}

// Any kind of file may be damaged while the others are sound.
test.each(['ifc', 'dxf', 'schedule', 'cable-table', 'bcf', 'workbook', 'ids'])(
  'a damaged file of kind %s is asked about once, and the rest goes on',
  async (kind) => {
    const settings = Settings.parse({
      files: { m: { path: 'm.ifc', kind: 'ifc' }, bad: { path: 'bad', kind } },
      outputs: { workbook: false, sealPages: false },
    });
    const files = [
      { key: 'm', name: 'm.ifc', bytes: model() },
      { key: 'bad', name: 'bad', bytes: new TextEncoder().encode('\u0001damaged\u0002') },
    ];
    const run = (keepGoing: boolean) =>
      runProject({ settings, assumptions: [], range: sampleRange(), files, keepGoing }, platform);
    const { issue } = await run(true);
    const asked = issue.queries.filter(({ code }) => code === 'file-not-read');
    expect(asked.map(({ id }) => id)).toEqual([expect.stringContaining('bad')]);
    await expect(run(false)).rejects.toMatchObject({ where: { file: 'bad' } });
  },
);
