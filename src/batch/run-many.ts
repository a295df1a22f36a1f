import path from 'node:path';
import type { ManyRecord } from '../model/portfolio.ts';
import type { ListedProject } from './list-projects.ts';
import { addRecord, readRecords } from './many-records.ts';
import { projectKey } from './project-key.ts';
import { type Attempt, runOne } from './run-one.ts';

/** A project to be worked on, known by its content. */
export interface ManyJob extends ListedProject {
  readonly key: string;
  /** Where its outputs go. */
  readonly out: string;
}

export interface ManyOptions {
  /** Folder of the portfolio. */
  readonly out: string;
  /** Attempts beyond the first. */
  readonly retries: number;
  readonly timeLimitMs: number;
  readonly signal: AbortSignal;
  /** Told of every project that is done, given up, or tried again. */
  readonly onEvent: (event: ManyEvent) => void;
}

export interface ManyEvent {
  readonly path: string;
  readonly state: 'done' | 'dead' | 'again';
  readonly reason: string | null;
  readonly finished: number;
  readonly total: number;
}

const RECORDS_NAME = 'many.jsonl';

/** Works off jobs somehow, and calls back once for each that is done or given up. */
export type WorkOff = (
  jobs: readonly ManyJob[],
  settle: (job: ManyJob, attempts: number, last: Attempt) => Promise<void>,
  again: (job: ManyJob, reason: string) => void,
) => Promise<void>;

/**
 * Brings every project of a list to an end: those that were done before with just these inputs are left,
 * the others are worked off and recorded one by one, so that a stop loses nothing but what is under way.
 */
export async function runMany(
  projects: readonly ListedProject[],
  options: ManyOptions,
  workOff: WorkOff,
): Promise<ReadonlyMap<string, ManyRecord>> {
  const file = path.join(options.out, RECORDS_NAME);
  const before = await readRecords(file);
  const open: ManyJob[] = [];
  let finished = 0;
  for (const project of projects) {
    const key = await projectKey(project.file);
    const known = before.get(project.path);
    const isDone = known?.key === key && known.folder === project.folder && known.state === 'done';
    if (isDone) finished += 1;
    else open.push({ ...project, key, out: path.join(options.out, project.folder) });
  }
  const tell = (job: ManyJob, state: ManyEvent['state'], reason: string | null) =>
    options.onEvent({ path: job.path, state, reason, finished, total: projects.length });
  await workOff(
    open,
    async ({ key, ...job }, attempts, { isDone, reason }) => {
      const state = isDone ? 'done' : 'dead';
      const { path: listed, folder } = job;
      await addRecord(file, { key, path: listed, folder, state, attempts, reason });
      finished += 1;
      tell({ key, ...job }, state, reason);
    },
    (job, reason) => tell(job, 'again', reason),
  );
  return readRecords(file);
}

/** The first wait before another attempt; it doubles with each. */
const FIRST_WAIT_MS = 1000;

/** Works jobs off on this machine, so many at once, each in a process of its own. */
export function onThisMachine(workers: number, options: ManyOptions): WorkOff {
  return async (jobs, settle, again) => {
    const waiting = [...jobs];
    const worker = async (): Promise<void> => {
      for (let job = waiting.shift(); job !== undefined; job = waiting.shift()) {
        await tryJob(job, options, settle, again);
        if (options.signal.aborted) return;
      }
    };
    await Promise.all(Array.from({ length: workers }, worker));
  };
}

async function tryJob(
  job: ManyJob,
  options: ManyOptions,
  settle: Parameters<WorkOff>[1],
  again: Parameters<WorkOff>[2],
): Promise<void> {
  for (let attempts = 1; !options.signal.aborted; attempts += 1) {
    const attempt = await runOne(job.file, job.out, options);
    // What was cut off by a stop is neither done nor given up: the next run takes it up again.
    if (options.signal.aborted && !attempt.isDone) return;
    if (attempt.isDone || !attempt.mayPass || attempts > options.retries) {
      await settle(job, attempts, attempt);
      return;
    }
    again(job, attempt.reason ?? '');
    await rest(FIRST_WAIT_MS * 2 ** (attempts - 1), options.signal);
  }
}

/** Waits, or until it is stopped. */
export function rest(ms: number, signal: AbortSignal): Promise<void> {
  return new Promise((resolve) => {
    if (signal.aborted) {
      resolve();
      return;
    }
    const end = () => {
      clearTimeout(timer);
      signal.removeEventListener('abort', end);
      resolve();
    };
    const timer = setTimeout(end, ms);
    signal.addEventListener('abort', end);
  });
}
