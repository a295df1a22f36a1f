/** A function with its gradient: returns the value at x and writes the gradient into `gradient`. */
export type Objective = (x: Float64Array, gradient: Float64Array) => number;

export interface LbfgsOptions {
  readonly maxSteps: number;
  /** Stop when the value is at or below this. */
  readonly valueBelow: number;
  /** Stop when the value falls by less than a fifth over this many steps; never when absent. */
  readonly stallSteps?: number;
  /** Stop when the squared gradient is at or below this share of the value. */
  readonly gradientRatio: number;
}

/** Minimiser with its own work space, made once for a number of variables. */
export interface Lbfgs {
  /** Lowers the objective from `x`, in place; returns the value reached. */
  minimise(objective: Objective, x: Float64Array, options: LbfgsOptions): number;
  /** Evaluations of objectives so far. */
  readonly evaluations: () => number;
}

const MEMORY = 5;

/**
 * Limited-memory quasi-Newton minimiser for sums of squared overlaps, which are zero at a solution
 * and have a piecewise linear gradient.
 * @source Nocedal and Wright, Numerical Optimization, algorithms 7.4 and 7.5; line search by halving
 * with one quadratic interpolation.
 */
export function makeLbfgs(size: number): Lbfgs {
  const gradient = new Float64Array(size);
  const trialGradient = new Float64Array(size);
  const trial = new Float64Array(size);
  const direction = new Float64Array(size);
  // The stored pairs, one after another in one array each.
  const steps = new Float64Array(MEMORY * size);
  const changes = new Float64Array(MEMORY * size);
  const curvatures = new Float64Array(MEMORY);
  const alphas = new Float64Array(MEMORY);
  let evaluations = 0;

  function minimise(objective: Objective, x: Float64Array, options: LbfgsOptions): number {
    let value = objective(x, gradient);
    evaluations++;
    let stored = 0;
    let newest = -1;
    const stallSteps = options.stallSteps ?? Number.POSITIVE_INFINITY;
    let lookAgain = stallSteps;
    let before = value;
    for (let step = 0; step < options.maxSteps; step++) {
      if (value <= options.valueBelow) return value;
      if (step === lookAgain) {
        if (value > 0.8 * before) return value;
        before = value;
        lookAgain = step + stallSteps;
      }
      const squared = dot(gradient, gradient, size);
      if (squared <= options.gradientRatio * value) return value;
      findDirection(stored, newest);
      let slope = dot(gradient, direction, size);
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

  /** Direction from the stored pairs, newest first; plain descent without any. */
  function findDirection(stored: number, newest: number): void {
    for (let k = 0; k < size; k++) direction[k] = -(gradient[k] as number);
    let scale = 0.25;
    for (let back = 0; back < stored; back++) {
      const at = (newest - back + MEMORY) % MEMORY;
      const rho = curvatures[at] as number;
      const alpha = dotAt(steps, at * size, direction, size) / rho;
      alphas[at] = alpha;
      addAt(direction, -alpha, changes, at * size, size);
      if (back === 0) scale = rho / squareAt(changes, at * size, size);
    }
    for (let k = 0; k < size; k++) direction[k] = (direction[k] as number) * scale;
    for (let back = stored - 1; back >= 0; back--) {
      const at = (newest - back + MEMORY) % MEMORY;
      const beta = dotAt(changes, at * size, direction, size) / (curvatures[at] as number);
      addAt(direction, (alphas[at] as number) - beta, steps, at * size, size);
    }
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
      for (let k = 0; k < size; k++)
        trial[k] = (x[k] as number) + length * (direction[k] as number);
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
    const base = at * size;
    let curvature = 0;
    let squared = 0;
    for (let k = 0; k < size; k++) {
      const ds = (trial[k] as number) - (x[k] as number);
      const dy = (trialGradient[k] as number) - (gradient[k] as number);
      steps[base + k] = ds;
      changes[base + k] = dy;
      curvature += ds * dy;
      squared += dy * dy;
      x[k] = trial[k] as number;
      gradient[k] = trialGradient[k] as number;
    }
    curvatures[at] = curvature;
    return curvature > 1e-10 * squared && curvature > 0;
  }

  return { minimise, evaluations: () => evaluations };
}

function dot(a: Float64Array, b: Float64Array, size: number): number {
  let total = 0;
  for (let k = 0; k < size; k++) total += (a[k] as number) * (b[k] as number);
  return total;
}

/** Of the stretch of `a` from `base` and all of `b`. */
function dotAt(a: Float64Array, base: number, b: Float64Array, size: number): number {
  let total = 0;
  for (let k = 0; k < size; k++) total += (a[base + k] as number) * (b[k] as number);
  return total;
}

function squareAt(a: Float64Array, base: number, size: number): number {
  let total = 0;
  for (let k = base; k < base + size; k++) total += (a[k] as number) * (a[k] as number);
  return total;
}

/** Adds `weight` times the stretch of `from` at `base`. */
function addAt(
  to: Float64Array,
  weight: number,
  from: Float64Array,
  base: number,
  size: number,
): void {
  for (let k = 0; k < size; k++) to[k] = (to[k] as number) + weight * (from[base + k] as number);
}
