import { type DesignInput, designSeals } from '../../../src/design/design-seals.ts';
import { takeOff } from '../../../src/design/take-off.ts';
import type { Cable, CableMatch } from '../../../src/model/cable.ts';
import type { Penetration } from '../../../src/model/penetration.ts';
import { Settings } from '../../../src/model/settings.ts';
import { sampleRange } from '../../../src/read/range/sample-range.ts';
import {
  makeCable,
  makeHost,
  makeMatch,
  makeMatches,
  makePenetration,
  makeSchedule,
} from '../../makers/seal/make-penetration.ts';
import { plainArrangement } from '../../makers/seal/plain-arrangement.ts';

export interface DesignBench {
  readonly seals: number;
  readonly types: number;
  readonly queries: number;
  readonly designMs: number;
  readonly takeOffMs: number;
}

/**
 * Quantities and checks of many seals, the arranging left out: `penetrations` holes of which
 * `different` are built differently, with duties, four to eleven cables each.
 */
export function benchDesign(penetrations = 10_000, different = 2_000): DesignBench {
  const input = inputOf(penetrations, different);
  const start = performance.now();
  const { result, queries } = designSeals(input, { arrange: plainArrangement });
  const designed = performance.now();
  takeOff(result, input.penetrations, input.range, input.settings);
  return {
    seals: result.length,
    types: new Set(result.map(({ typeKey }) => typeKey)).size,
    queries: queries.length,
    designMs: designed - start,
    takeOffMs: performance.now() - designed,
  };
}

function inputOf(count: number, different: number): DesignInput {
  const penetrations: Penetration[] = [];
  const cables: Cable[] = [];
  const matches: CableMatch[] = [];
  for (let at = 0; at < count; at += 1) {
    const type = at % different;
    const hole = makePenetration({
      id: `arch:wall/arch:o${String(at).padStart(5, '0')}`,
      shape: { type: 'circle', diameterMm: 150 + (type % 200) },
      frame: {
        originMm: [(at % 100) * 1000, 0, 1000 + Math.floor(at / 100) * 20],
        axis: [0, 1, 0],
        right: [1, 0, 0],
        up: [0, 0, 1],
      },
      hosts: [
        makeHost({ fireRating: type % 3 === 0 ? 'EI 60' : null, isExternal: type % 2 === 0 }),
      ],
    });
    penetrations.push(hole);
    for (let number = 0; number < 4 + (type % 8); number += 1) {
      const cable = makeCable(`C${at}-${number}`, {
        diameterMm: 10 + ((type + number) % 190) / 10,
      });
      cables.push(cable);
      matches.push(makeMatch(cable, hole));
    }
  }
  return {
    penetrations,
    schedule: makeSchedule(cables),
    matches: makeMatches(matches),
    range: sampleRange(),
    settings: Settings.parse({
      ground: { levelMm: 2000, waterLevelMm: 3000 },
      design: { spare: { count: 0 } },
    }),
  };
}
