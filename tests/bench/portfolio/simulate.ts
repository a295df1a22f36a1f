/** What is measured of one building, and what is assumed of machines and storage. */
export interface PortfolioModel {
  readonly buildings: number;
  readonly workers: number;
  /** Time of one run alone on one core, seconds; each building's own varies round it. */
  readonly runS: number;
  /** Spread of run times: standard deviation of their logarithm. */
  readonly spread: number;
  readonly inputMb: number;
  readonly outputMb: number;
  /** What the shared storage gives to all workers together, MB/s. */
  readonly storageMbPerS: number;
  /** Chance that a worker dies during a job, 0–1. */
  readonly deathRatio: number;
  /** Until a dead worker's job is noticed and begins anew, seconds. */
  readonly holdS: number;
  readonly seed: number;
}

export interface PortfolioOutcome {
  readonly hours: number;
  /** Share of the workers' time that goes into runs that counted, 0–1. */
  readonly usefulRatio: number;
  readonly lostRuns: number;
  /** No order of work can be quicker than this. */
  readonly leastHours: number;
}

/**
 * Workers that take jobs off one queue: each reads its inputs from shared storage, runs, writes. A run
 * whose worker dies is begun anew once its hold has run out. Storage is shared evenly by those that use it
 * on average: a job's transfer takes as long as if all workers used it at the same share.
 */
export function simulatePortfolio(model: PortfolioModel): PortfolioOutcome {
  const random = seeded(model.seed);
  const share = model.storageMbPerS / Math.min(model.workers, model.buildings);
  const transferS = (model.inputMb + model.outputMb) / share;
  const durations = Array.from(
    { length: model.buildings },
    () => model.runS * Math.exp(model.spread * normal(random)) + transferS,
  );
  // When each worker is free again; the earliest takes the next job.
  const free = new Float64Array(model.workers);
  let lostRuns = 0;
  const waiting = durations.map((durationS) => ({ durationS, fromS: 0 }));
  for (let job = waiting.shift(); job !== undefined; job = waiting.shift()) {
    let worker = 0;
    for (let at = 1; at < free.length; at += 1) {
      if ((free[at] ?? 0) < (free[worker] ?? 0)) worker = at;
    }
    const startS = Math.max(free[worker] ?? 0, job.fromS);
    if (random() < model.deathRatio) {
      const diedS = startS + job.durationS * random();
      free[worker] = diedS + model.holdS;
      lostRuns += 1;
      waiting.push({ durationS: job.durationS, fromS: diedS + model.holdS });
    } else free[worker] = startS + job.durationS;
  }
  const endS = Math.max(...free);
  const sumS = durations.reduce((sum, each) => sum + each, 0);
  return {
    hours: endS / 3600,
    usefulRatio: sumS / (endS * model.workers),
    lostRuns,
    leastHours: Math.max(sumS / model.workers, Math.max(...durations)) / 3600,
  };
}

/** Mulberry32, public domain: small, even, the same everywhere. */
function seeded(seed: number): () => number {
  let state = seed >>> 0;
  return () => {
    state = (state + 0x6d2b79f5) >>> 0;
    let t = Math.imul(state ^ (state >>> 15), 1 | state);
    t = (t + Math.imul(t ^ (t >>> 7), 61 | t)) ^ t;
    return ((t ^ (t >>> 14)) >>> 0) / 2 ** 32;
  };
}

/** Box and Muller's way to a normal variable. */
function normal(random: () => number): number {
  return Math.sqrt(-2 * Math.log(1 - random())) * Math.cos(2 * Math.PI * random());
}
