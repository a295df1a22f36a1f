import type { Arrangement, ArrangementProblem } from '../model/arrangement.ts';
import { canonicalProblem, withOwnRefs } from './canonical-problem.ts';

/** The same search, but each problem is worked out once, whatever its bodies are called. */
export function arrangeOnce(
  arrange: (problem: ArrangementProblem) => Arrangement,
): (problem: ArrangementProblem) => Arrangement {
  const known = new Map<string, Arrangement>();
  return (problem) => {
    const canonical = canonicalProblem(problem);
    let arrangement = known.get(canonical.key);
    if (arrangement === undefined) {
      arrangement = arrange(canonical.problem);
      known.set(canonical.key, arrangement);
    }
    return withOwnRefs(arrangement, canonical.refs);
  };
}
