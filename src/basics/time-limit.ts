import { SealbookError } from './errors.ts';

/** Called now and then by work that may be long; throws when its time is up. */
export type CheckTime = () => void;

/**
 * A check against a clock that the platform hands in, counted from now. Without a clock there is no
 * limit, so that the core alone gives the same for the same input on any machine.
 * @param nowMs milliseconds from any start
 */
export function timeLimit(nowMs: (() => number) | undefined, seconds: number): CheckTime {
  if (nowMs === undefined) return () => {};
  const end = nowMs() + seconds * 1000;
  return () => {
    if (nowMs() > end) throw tooSlow(seconds);
  };
}

/** The error about a file that took longer than it may. */
export function tooSlow(seconds: number): SealbookError {
  return new SealbookError('input-too-large', `Reading took more than ${seconds} seconds.`, {
    todo: 'Raise limits.fileSeconds in the project file if the file is meant; else check where it comes from.',
  });
}
