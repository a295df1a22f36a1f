/** A function with its gradient: returns the value at x and writes the gradient into `gradient`. */
export type Objective = (x: Float64Array, gradient: Float64Array) => number;

export interface LbfgsOptions {
  readonly maxSteps: number;
  /** Stop when the value is at or below this. */
  readonly valueBelow: number;
  /** Stop when the value falls by less than a fifth over this many steps; never when absent. */
  readonly stallSteps?: number;
}

/** Minimiser with its own work space, made once for a number of variables. */
export interface Lbfgs {
  /**
   * Lowers the objective from `x`, in place; returns the value reached. Stops when the squared
   * gradient is at or below `gradientRatio` times the value.
   */
  minimise(
    objective: Objective,
    x: Float64Array,
    options: LbfgsOptions,
    gradientRatio: number,
  ): number;
  /** Evaluations of objectives so far. */
  readonly evaluations: () => number;
}

const MEMORY = 5;

/**
 * Limited-memory quasi-Newton minimiser for sums of squared overlaps, which are zero at a solution
 * and have a piecewise linear gradient.
 * @source Nocedal and Wright, Numerical Optimization, algorithms 7.4 and 7.5; line search by halving
 * with one quadratic interpolation. Passes over the vectors are drawn together: with a few dozen
 * unknowns they cost as much as the objective.
 */
export function makeLbfgs(size: number): Lbfgs {
  const gradient = new Float64Array(size);
  const trialGradient = new Float64Array(size);
  const trial = new Float64Array(size);
  const direction = new Float64Array(size);
  const steps = Array.from({ length: MEMORY }, () => new Float64Array(size));
  const changes = Array.from({ length: MEMORY }, () => new Float64Array(size));
  const curvatures = new Float64Array(MEMORY);
  /** Squared length of each change. */
  const squares = new Float64Array(MEMORY);
  const alphas = new Float64Array(MEMORY);
  let evaluations = 0;

  function minimise(
    objective: Objective,
    x: Float64Array,
    options: LbfgsOptions,
    gradientRatio: number,
  ): number {
    let value = objective(x, gradient);
    evaluations++;
    let stored = 0;
    let newest = -1;
    const { maxSteps, valueBelow } = options;
    const stallSteps = options.stallSteps ?? maxSteps;
    let lookAgain = stallSteps;
    let before = value;
    for (let step = 0; step < maxSteps; step++) {
      if (value <= valueBelow) return value;
      if (step === lookAgain) {
        if (value > 0.8 * before) return value;
        before = value;
        lookAgain = step + stallSteps;
      }
      const squared = dot(gradient, gradient, size);
      if (squared <= gradientRatio * value) return value;
      let slope = findDirection(stored, newest);
      if (!(slope < 0)) {
        stored = 0;
        for (let k = 0; k < size; k++) direction[k] = -(gradient[k] as number) * 0.25;
        slope = -squared * 0.25;
      }
      const reached = lineSearch(objective, x, value, slope);
      if (reached === null) {
        if (stored === 0) return value;
        stored = 0;
        continue;
      }
      newest = (newest + 1) % MEMORY;
      if (remember(x, newest)) stored = Math.min(stored + 1, MEMORY);
      else newest = (newest + MEMORY - 1) % MEMORY;
      value = reached;
    }
    return value;
  }

  /** Direction from the stored pairs, newest first; plain descent without any. Returns its slope. */
  function findDirection(stored: number, newest: number): number {
    let scale = 0.25;
    for (let k = 0; k < size; k++) direction[k] = -(gradient[k] as number);
    let along = stored > 0 ? dot(steps[newest] as Float64Array, direction, size) : 0;
    for (let back = 0; back < stored; back++) {
      const at = (newest - back + MEMORY) % MEMORY;
      const alpha = along / (curvatures[at] as number);
      alphas[at] = alpha;
      if (back === 0) scale = (curvatures[at] as number) / (squares[at] as number);
      const change = changes[at] as Float64Array;
      if (back === stored - 1) {
        for (let k = 0; k < size; k++) {
          direction[k] = ((direction[k] as number) - alpha * (change[k] as number)) * scale;
        }
        continue;
      }
      const next = steps[(at - 1 + MEMORY) % MEMORY] as Float64Array;
      along = addAndDot(direction, -alpha, change, next, size);
    }
    if (stored === 0) return scaleAndSlope(direction, scale, gradient, size);
    const oldest = (newest - stored + 1 + MEMORY) % MEMORY;
    along = dot(changes[oldest] as Float64Array, direction, size);
    for (let back = stored - 1; back >= 0; back--) {
      const at = (newest - back + MEMORY) % MEMORY;
      const weight = (alphas[at] as number) - along / (curvatures[at] as number);
      const next = back === 0 ? gradient : (changes[(at + 1) % MEMORY] as Float64Array);
      along = addAndDot(direction, weight, steps[at] as Float64Array, next, size);
    }
    return along;
  }

  /** Leaves the new point in `trial` and its gradient in `trialGradient`; null when stuck. */
  function lineSearch(
    objective: Objective,
    x: Float64Array,
    value: number,
    slope: number,
  ): number | null {
    let length = 1;
    for (let attempt = 0; attempt < 20; attempt++) {
      for (let k = 0; k < size; k++) {
        trial[k] = (x[k] as number) + length * (direction[k] as number);
      }
      const reached = objective(trial, trialGradient);
      evaluations++;
      if (reached <= value + 1e-4 * length * slope) return reached;
      const quadratic = (-slope * length * length) / (2 * (reached - value - slope * length));
      length = Math.max(0.1 * length, Math.min(0.5 * length, quadratic));
    }
    return null;
  }

  /** Moves x to the trial point and stores the pair; false when its curvature is useless. */
  function remember(x: Float64Array, at: number): boolean {
    const step = steps[at] as Float64Array;
    const change = changes[at] as Float64Array;
    let curvature = 0;
    let squared = 0;
    for (let k = 0; k < size; k++) {
      const ds = (trial[k] as number) - (x[k] as number);
      const dy = (trialGradient[k] as number) - (gradient[k] as number);
      step[k] = ds;
      change[k] = dy;
      curvature += ds * dy;
      squared += dy * dy;
      x[k] = trial[k] as number;
      gradient[k] = trialGradient[k] as number;
    }
    curvatures[at] = curvature;
    squares[at] = squared;
    return curvature > 1e-10 * squared && curvature > 0;
  }

  return { minimise, evaluations: () => evaluations };
}

function dot(a: Float64Array, b: Float64Array, size: number): number {
  let total = 0;
  for (let k = 0; k < size; k++) total += (a[k] as number) * (b[k] as number);
  return total;
}

/** Adds `weight` times `from` to `to` and returns what that is along `other`. */
function addAndDot(
  to: Float64Array,
  weight: number,
  from: Float64Array,
  other: Float64Array,
  size: number,
): number {
  let total = 0;
  for (let k = 0; k < size; k++) {
    const value = (to[k] as number) + weight * (from[k] as number);
    to[k] = value;
    total += value * (other[k] as number);
  }
  return total;
}

function scaleAndSlope(
  direction: Float64Array,
  scale: number,
  gradient: Float64Array,
  size: number,
): number {
  let slope = 0;
  for (let k = 0; k < size; k++) {
    const value = (direction[k] as number) * scale;
    direction[k] = value;
    slope += value * (gradient[k] as number);
  }
  return slope;
}
