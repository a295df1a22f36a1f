import { FaultProject, type Left, torn } from './fault-project.ts';

export interface KillReport {
  readonly kills: number;
  /** Runs that had ended before they were to be killed. */
  readonly tooLate: number;
  /** Where a file was neither old nor new, or the next run did not go on. */
  readonly faults: readonly string[];
}

/**
 * Kills runs at random moments, half of them in the last part where files are written. After each kill
 * every file must be as before or as after, and the next run must give what an undisturbed one gives.
 */
export async function killRuns(count: number, seed: number): Promise<KillReport> {
  const project = new FaultProject();
  const random = seeded(seed);
  const faults: string[] = [];
  let tooLate = 0;
  try {
    const states = ['one', 'two'] as const;
    const whole = new Map<string, Left>();
    let shortestMs = Number.POSITIVE_INFINITY;
    // Twice each, so that the register has come to rest in each state.
    for (const state of [...states, ...states]) {
      project.setState(state);
      const begin = performance.now();
      project.run();
      shortestMs = Math.min(shortestMs, performance.now() - begin);
      whole.set(state, project.left());
    }
    for (let kill = 0; kill < count; kill += 1) {
      const [from, to] = kill % 2 === 0 ? (['two', 'one'] as const) : (['one', 'two'] as const);
      project.setState(to);
      const share = kill % 4 < 2 ? random() : 0.6 + 0.4 * random();
      if (await isKilled(project, share * shortestMs)) {
        const broken = torn(
          project.left(),
          whole.get(from) ?? new Map(),
          whole.get(to) ?? new Map(),
        );
        if (broken.length > 0) faults.push(`kill ${kill}: ${broken.join(', ')}`);
      } else tooLate += 1;
      const next = project.run();
      const now = project.left();
      const expected = whole.get(to) ?? new Map();
      const wrong = [...expected].filter(([name, content]) => now.get(name) !== content);
      const leftover = [...now.keys()].filter((name) => !expected.has(name));
      if (next.status !== 0) faults.push(`after kill ${kill}: exit ${next.status}: ${next.stderr}`);
      if (wrong.length > 0)
        faults.push(`after kill ${kill}: other ${wrong.map(([n]) => n).join()}`);
      if (leftover.length > 0) faults.push(`after kill ${kill}: left over ${leftover.join()}`);
    }
  } finally {
    project.remove();
  }
  return { kills: count - tooLate, tooLate, faults };
}

/** Whether it was killed, and had not ended before. */
function isKilled(project: FaultProject, afterMs: number): Promise<boolean> {
  const child = project.start();
  const timer = setTimeout(() => child.kill('SIGKILL'), afterMs);
  return new Promise((resolve) => {
    child.once('exit', (_code, signal) => {
      clearTimeout(timer);
      resolve(signal === 'SIGKILL');
    });
  });
}

/** Park and Miller's minimal standard generator (1988), from memory. */
function seeded(seed: number): () => number {
  let state = seed;
  return () => {
    state = (state * 48_271) % 2_147_483_647;
    return state / 2_147_483_647;
  };
}
