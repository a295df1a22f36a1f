import { readFileSync } from 'node:fs';
import path from 'node:path';
import { expect, test } from 'vitest';
import { annexTruth } from '../../samples/make/annex-truth.ts';
import { drawnHoles } from '../../samples/make/drawn-truth.ts';
import { stationTruth } from '../../samples/make/station-truth.ts';
import { repoRoot, testWith } from '../set-up/outside.ts';
import { compareDrawn } from './compare-drawn.ts';
import { type ComparableResult, compareWithTruth } from './compare-with-truth.ts';
import { countByLayer, countCables, countInModel } from './independent-counts.ts';
import { runSample } from './run-sample.ts';

const inSamples = (file: string): string => path.join(repoRoot, 'samples', file);

function partsOf(account: Readonly<Record<string, unknown>>): number {
  const { total: _, ...parts } = account;
  return Object.values(parts).reduce<number>(
    (sum, part) => sum + (typeof part === 'number' ? part : 0),
    0,
  );
}

async function countAll(folder: string, files: readonly string[]) {
  const counts = await Promise.all(
    files.map((file) => countInModel(readFileSync(inSamples(`${folder}/${file}`)))),
  );
  return {
    services: counts.reduce((sum, each) => sum + each.services, 0),
    openings: counts.reduce((sum, each) => sum + each.openings, 0),
  };
}

test('valve chamber: a run agrees with what the sample holds', async () => {
  const result = await runSample('valve-chamber/project.yaml');
  expect(compareWithTruth(result as ComparableResult, annexTruth())).toEqual([]);
});

test('pumping station: models, drawings and schedule together agree with what the sample holds', async () => {
  const result = await runSample('pumping-station/project.yaml');
  expect(compareWithTruth(result as ComparableResult, stationTruth())).toEqual([]);
}, 300_000);

test('pumping station: drawings alone say what a person reads out of them', async () => {
  const result = await runSample('pumping-station/drawings-only.yaml');
  expect(compareDrawn(result as ComparableResult, drawnHoles())).toEqual([]);
}, 300_000);

testWith(
  ['ezdxf', 'openpyxl'],
  'pumping station: every service, opening and cable that independent readers count is in the ledger',
  async () => {
    const { ledger } = await runSample('pumping-station/project.yaml');
    const models = await countAll('pumping-station', ['architecture.ifc', 'services.ifc']);
    const plan = countByLayer(inSamples('pumping-station/plan.dxf'));
    const section = countByLayer(inSamples('pumping-station/pit-section.dxf'));
    const on = (counts: Readonly<Record<string, number>>, layers: readonly string[]): number =>
      layers.reduce((sum, layer) => sum + (counts[layer] ?? 0), 0);
    const drawnServices =
      on(plan, ['E-CABL-TRAY', 'E-CABL-COND', 'E-CABL-WIRE', 'M-DUCT', 'P-PIPE']) +
      on(section, ['E-POWR-DUCT', 'E-CABL-COND']);
    expect(ledger.services.total).toBe(models.services + drawnServices);
    // Holes of the elevation; the marks beside the plan's holes are symbols, not holes.
    expect(ledger.openings.total).toBe(models.openings + on(section, ['S-OPNG']));
    const cables = countCables(inSamples('pumping-station/cable-schedule.xlsx'), [
      { sheet: 'Power', reference: 'Cable ref', status: 'Status' },
      { sheet: 'Control and data', reference: 'Cable no.', status: 'Status' },
    ]);
    expect(ledger.cables.total).toBe((cables['Power'] ?? 0) + (cables['Control and data'] ?? 0));
    for (const account of [ledger.services, ledger.openings, ledger.cables]) {
      expect(partsOf(account)).toBe(account.total);
    }
  },
  // Arranging a whole station takes a while on a machine that does other things too.
  300_000,
);

test('public building: the duct through the roof is found in the hole that the slab has', async () => {
  const result = await runSample('public-building/project.yaml');
  const counts = await countAll('public-building', [
    'pcert4x3-building-architecture.ifc',
    'pcert4x3-building-hvac.ifc',
  ]);
  expect(counts).toEqual({ services: 1, openings: 0 });
  expect(result.ledger.services.total).toBe(1);
  expect(result.ledger.services.through).toBe(1);
  // The published model cuts the hole into the mesh of the slab, without an opening element.
  expect(result.penetrations.map(({ kind }) => kind)).toEqual(['hole']);
});
