import { matchCables } from '../../../src/match/match-cables.ts';
import { Settings } from '../../../src/model/settings.ts';
import { largeProject } from './large-project.ts';

export interface MatchingMeasure {
  readonly cables: number;
  readonly penetrations: number;
  readonly segments: number;
  readonly matches: number;
  readonly milliseconds: number;
  /** Processor time, which other work on the machine does not change. */
  readonly cpuMilliseconds: number;
  /** Heap in use after matching, MB. */
  readonly heapMb: number;
}

/** Matching at three sizes, the largest 20,000 cables, 10,000 penetrations, 50,000 segments. */
export function benchMatching(
  halls: readonly number[] = [12, 25, 50],
  isJoined = false,
): MatchingMeasure[] {
  const settings = Settings.parse({});
  return halls.map((count) => {
    const { building, penetrations, schedule } = largeProject(count, 400, isJoined);
    const start = performance.now();
    const cpuStart = process.cpuUsage();
    const { result } = matchCables(penetrations, building, schedule, [], settings);
    const cpu = process.cpuUsage(cpuStart);
    return {
      cables: schedule.cables.length,
      penetrations: penetrations.length,
      segments: building.services.length,
      matches: result.matches.length,
      milliseconds: Math.round(performance.now() - start),
      cpuMilliseconds: Math.round((cpu.user + cpu.system) / 1000),
      heapMb: Math.round(process.memoryUsage().heapUsed / 2 ** 20),
    };
  });
}
