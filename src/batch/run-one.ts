import { spawn } from 'node:child_process';
import path from 'node:path';
import { fileURLToPath } from 'node:url';

/** How one attempt at a project ended. */
export interface Attempt {
  readonly isDone: boolean;
  /** Why not, in the words of the run; null where it is done. */
  readonly reason: string | null;
  /** Whether another attempt may end otherwise. */
  readonly mayPass: boolean;
}

export interface AttemptOptions {
  readonly timeLimitMs: number;
  /** Stops the run; what it was writing appears whole or not at all. */
  readonly signal: AbortSignal;
}

/** Wrong settings and missing inputs stay wrong however often they are tried. */
const EXIT_SETTINGS = 2;
const LONGEST_REASON = 2000;

/**
 * Runs one project in a process of its own: what hangs, dies or runs out of memory takes nothing with
 * it, and a run that is cut off leaves its outputs and register as they were.
 */
export function runOne(file: string, out: string, options: AttemptOptions): Promise<Attempt> {
  const main = path.join(path.dirname(fileURLToPath(import.meta.url)), '../cli/main.js');
  const child = spawn(process.execPath, [main, 'run', file, '--out', out, '--json'], {
    stdio: ['ignore', 'ignore', 'pipe'],
  });
  let complaint = '';
  child.stderr.on('data', (part: Uint8Array) => {
    complaint = `${complaint}${Buffer.from(part).toString('utf8')}`.slice(-LONGEST_REASON);
  });
  let isLate = false;
  const timer = setTimeout(() => {
    isLate = true;
    child.kill('SIGKILL');
  }, options.timeLimitMs);
  const stop = () => child.kill('SIGKILL');
  options.signal.addEventListener('abort', stop);
  return new Promise((resolve) => {
    child.once('error', (error) => resolve(failed(error.message, true)));
    child.once('close', (code, signal) => {
      clearTimeout(timer);
      options.signal.removeEventListener('abort', stop);
      if (isLate)
        resolve(failed(`it took more than ${options.timeLimitMs / 60_000} minutes`, false));
      else if (code === 0) resolve({ isDone: true, reason: null, mayPass: false });
      else if (code === null) resolve(failed(`its process was ended by ${signal ?? '?'}`, true));
      else resolve(failed(complaint.trim() || `exit code ${code}`, code !== EXIT_SETTINGS));
    });
  });
}

function failed(reason: string, mayPass: boolean): Attempt {
  return { isDone: false, reason, mayPass };
}
