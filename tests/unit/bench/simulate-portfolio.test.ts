import fc from 'fast-check';
import { expect, test } from 'vitest';
import { type PortfolioModel, simulatePortfolio } from '../../bench/portfolio/simulate.ts';

const plain: PortfolioModel = {
  ...{ buildings: 12, workers: 4, runS: 3600, spread: 0, inputMb: 0, outputMb: 0 },
  ...{ storageMbPerS: 1000, deathRatio: 0, holdS: 30, seed: 1 },
};

test('twelve equal jobs of an hour on four workers take three hours', () => {
  expect(simulatePortfolio(plain)).toEqual({
    hours: 3,
    leastHours: 3,
    usefulRatio: 1,
    lostRuns: 0,
  });
});

test('a queue never takes longer than the least possible and one longest job more', () => {
  // Graham (1969), Bounds on multiprocessing timing anomalies: list scheduling ends within
  // sum / m + (1 - 1/m) · longest, from memory.
  fc.assert(
    fc.property(
      fc.integer({ min: 1, max: 60 }),
      fc.integer({ min: 1, max: 12 }),
      fc.integer({ min: 1, max: 1e6 }),
      (buildings, workers, seed) => {
        const { hours, leastHours } = simulatePortfolio({
          ...plain,
          ...{ buildings, workers, seed, spread: 0.5 },
        });
        expect(hours).toBeGreaterThanOrEqual(leastHours - 1e-9);
        expect(hours).toBeLessThanOrEqual(2 * leastHours + 1e-9);
      },
    ),
  );
});

test('workers that die cost time, and each job is done all the same', () => {
  const dying = simulatePortfolio({ ...plain, buildings: 400, deathRatio: 0.1 });
  const alive = simulatePortfolio({ ...plain, buildings: 400 });
  expect(dying.lostRuns).toBeGreaterThan(20);
  expect(dying.hours).toBeGreaterThan(alive.hours);
});
