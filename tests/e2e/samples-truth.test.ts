import { readFileSync } from 'node:fs';
import path from 'node:path';
import { expect, test } from 'vitest';
import { annexTruth } from '../../samples/make/annex-truth.ts';
import { stationTruth } from '../../samples/make/station-truth.ts';
import type { Truth } from '../../samples/make/truth-model.ts';
import { repoRoot, testWith } from '../set-up/outside.ts';
import { countByLayer, countCables, countInModel } from './independent-counts.ts';

const inSamples = (file: string): string => path.join(repoRoot, 'samples', file);
const TRUTHS: readonly (readonly [string, Truth])[] = [
  ['pumping-station', stationTruth()],
  ['valve-chamber', annexTruth()],
];

test.each(TRUTHS)(
  '%s: an independent reader counts as many services and openings as the truth',
  async (folder, truth) => {
    const files = new Set([...truth.services, ...truth.openings].map(({ file }) => file));
    let [services, openings] = [0, 0];
    for (const file of files) {
      const counts = await countInModel(readFileSync(inSamples(`${folder}/${file}`)));
      services += counts.services;
      openings += counts.openings;
    }
    expect({ services, openings }).toEqual({
      services: truth.services.length,
      openings: truth.openings.length,
    });
  },
);

testWith(['openpyxl'], 'openpyxl counts as many cables as the truth', () => {
  const counts = countCables(inSamples('pumping-station/cable-schedule.xlsx'), [
    { sheet: 'Power', reference: 'Cable ref', status: 'Status' },
    { sheet: 'Control and data', reference: 'Cable no.', status: 'Status' },
  ]);
  const { cables } = stationTruth();
  const onSheet = (sheet: string) => cables.filter((cable) => cable.sheet === sheet).length;
  expect(counts).toEqual({
    Power: onSheet('Power'),
    'Control and data': onSheet('Control and data'),
  });
  expect(cables.length).toBe(89);
});

testWith(['ezdxf'], 'ezdxf counts as many drawn services as the truth', () => {
  const { drawings } = stationTruth();
  expect(drawings.length).toBe(2);
  for (const drawing of drawings) {
    const counts = countByLayer(inSamples(`pumping-station/${drawing.file}`));
    for (const [layer, count] of Object.entries({ ...drawing.services, ...drawing.hidden })) {
      expect(counts[layer], `${drawing.file} ${layer}`).toBe(count);
    }
  }
});
