import { arrange } from '../../../src/design/arrange/arrange.ts';
import { arrangeOnce } from '../../../src/design/arrange-once.ts';
import type { ArrangementProblem, Effort } from '../../../src/model/arrangement.ts';
import { problemOf, testRandom } from '../../makers/openings/feasible-openings.ts';
import { type BenchLine, busyMs } from './measures.ts';
import { SAMPLE_TUBES } from './sample-tubes.ts';

const BORES = [50, 63, 75, 90, 100, 110, 125, 150, 160, 200] as const;
const CABLES = [7, 9, 12, 15, 18, 22, 27, 33, 37, 45] as const;

/** Openings as they come: mostly ducts with a few cables, some rectangles, seven in ten repeated. */
function mixedProblem(k: number, count: number, effort: Effort): ArrangementProblem {
  const kind = k < 0.3 * count ? k : Math.floor(testRandom(k + 1)() * 0.3 * count);
  const random = testRandom(kind * 31 + 7);
  const size = BORES[Math.floor(random() * BORES.length)] ?? 100;
  const isTray = random() < 0.2;
  const width = 2 * size;
  const bodies = [];
  let free = (isTray ? 1.6 : 0.785) * size * size * (0.15 + 0.3 * random());
  for (let i = 0; i < 24; i++) {
    const diameterMm = CABLES[Math.floor(random() * CABLES.length)] ?? 12;
    const area = 0.785 * (diameterMm + 4) ** 2;
    if (area > free || diameterMm > 0.7 * size) continue;
    free -= area;
    bodies.push({ ref: String(i), outline: { type: 'circle' as const, diameterMm } });
  }
  return problemOf(
    isTray
      ? { type: 'rectangle', widthMm: width, heightMm: size }
      : { type: 'circle', diameterMm: size },
    bodies,
    {
      fillers: SAMPLE_TUBES,
      splitTubes: kind % 2 === 0,
      effort,
      policy: { count: 2, diameterMm: 25 },
    },
  );
}

export function benchMix(count: number): BenchLine[] {
  return (['quick', 'normal'] as const).map((effort) => {
    // Warm first, on other openings.
    for (let k = 0; k < 40; k++) arrange(mixedProblem(10_000 + k, 100_000, 'quick'));
    const solve = arrangeOnce(arrange);
    const size = effort === 'quick' ? count : Math.ceil(count / 5);
    const start = busyMs();
    let fits = 0;
    for (let k = 0; k < size; k++) {
      if (solve(mixedProblem(k, size, effort)).verdict === 'fits') fits++;
    }
    const seconds = ((busyMs() - start) / 1000) * (10_000 / size);
    const limit = effort === 'quick' ? 60 : 400;
    return {
      work: `10,000 openings of a real mix, ${effort} (${size} run, scaled up; ${fits} fit)`,
      must: `≤ ${limit} s`,
      reached: `${seconds.toFixed(0)} s`,
      isMet: seconds <= limit,
    };
  });
}
