import { Worker } from 'node:worker_threads';
import { withFile } from '../basics/errors.ts';
import { tooSlow } from '../basics/time-limit.ts';
import { errorText } from './terminal.ts';

let thread: Worker | null = null;

/**
 * Ends the process when reading a file takes longer than it may. A geometry engine or spreadsheet
 * library is given a file whole and may never return, and then no clock of this thread is looked at;
 * so another thread waits beside it. What can still be refused in good order is refused first: the
 * thread waits a tenth and a second longer.
 * @returns ends the watch over this file
 */
export function watchReading(file: string, seconds: number): () => void {
  thread ??= startThread();
  const text = errorText(withFile(tooSlow(seconds), file));
  thread.postMessage({ text, afterMs: Math.min(seconds * 1100 + 1000, LONGEST_MS) });
  return () => thread?.postMessage(null);
}

/** A timer set for longer goes off at once; this is 24 days. */
const LONGEST_MS = 2 ** 31 - 1;

/** Plain script text, since the file it stands in may run from source as well as built. */
const WATCH = `
const { parentPort } = require('node:worker_threads');
const { writeSync } = require('node:fs');
let timer;
parentPort.on('message', (watch) => {
  clearTimeout(timer);
  if (watch === null) return;
  timer = setTimeout(() => {
    try { writeSync(2, watch.text + '\\n'); } finally { process.kill(process.pid, 'SIGKILL'); }
  }, watch.afterMs);
});`;

function startThread(): Worker {
  const worker = new Worker(WATCH, { eval: true, execArgv: [] });
  // It must not keep alive a process whose work is done.
  worker.unref();
  return worker;
}
