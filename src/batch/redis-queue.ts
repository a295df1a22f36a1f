import { createHash } from 'node:crypto';
import { DelayedError, type Job, Queue, UnrecoverableError, Worker } from 'bullmq';
import { z } from 'zod';
import type { ManyJob, ManyOptions, WorkOff } from './run-many.ts';
import { rest } from './run-many.ts';
import { runOne } from './run-one.ts';

/** A job as it lies in Redis: paths as every machine sees them. */
const QueuedJob = z.strictObject({
  file: z.string().min(1),
  out: z.string().min(1),
  timeLimitMs: z.number().positive(),
});

export interface RedisPlace {
  /** "redis://host:6379". */
  readonly url: string;
  /** Name of the queue; workers and lists that share it share the work. */
  readonly queue: string;
}

/** Between two looks at the jobs, ms; own choice. */
const LOOK_EVERY_MS = 500;
/** A worker that has not renewed its hold on a job for so long has died, ms; own choice. */
const HOLD_MS = 30_000;
const FIRST_WAIT_MS = 1000;
/** A job may lose its worker so often before it is given up. */
const MOST_LOST_WORKERS = 5;

const connectionOf = ({ url }: RedisPlace) => ({ url, maxRetriesPerRequest: null });

/**
 * Hands jobs to workers on any machine by a queue in Redis and gathers what becomes of them. A job is
 * known by its inputs and places, so that handing it over twice does nothing; jobs that a restarted
 * Redis has forgotten are handed over again.
 */
export function onMachines(place: RedisPlace, options: ManyOptions): WorkOff {
  return async (jobs, settle, again) => {
    const queue = new Queue(place.queue, { connection: connectionOf(place) });
    // Without Redis for a while: the client tries again by itself, and so does the next look.
    queue.on('error', () => {});
    const open = new Map(jobs.map((job) => [jobIdOf(job), job]));
    const seen = new Map<string, number>();
    try {
      await forgetFailed(queue, [...open.keys()]);
      while (open.size > 0 && !options.signal.aborted) {
        for (const [id, job] of open) {
          if (options.signal.aborted) return;
          const queued = await queue.getJob(id);
          if (queued === undefined)
            await queue.add('run', dataOf(job, options), optionsOf(id, options));
          else if (await isSettled(queued, job, settle)) open.delete(id);
          else tellOfAttempts(queued, job, seen, again);
        }
        await rest(LOOK_EVERY_MS, options.signal);
      }
    } finally {
      await queue.close();
    }
  };
}

function dataOf({ file, out }: ManyJob, { timeLimitMs }: ManyOptions): z.infer<typeof QueuedJob> {
  return { file, out, timeLimitMs };
}

function optionsOf(jobId: string, { retries }: ManyOptions) {
  const backoff = { type: 'exponential', delay: FIRST_WAIT_MS };
  return { jobId, attempts: retries + 1, backoff };
}

function jobIdOf({ key, file, out }: ManyJob): string {
  return createHash('sha256')
    .update(JSON.stringify([key, file, out]))
    .digest('hex');
}

/** What was given up in an earlier run is tried again in this one. */
async function forgetFailed(queue: Queue, ids: readonly string[]): Promise<void> {
  for (const id of ids) {
    const job = await queue.getJob(id);
    if (job !== undefined && (await job.getState()) === 'failed') await job.remove();
  }
}

async function isSettled(
  queued: Job,
  job: ManyJob,
  settle: Parameters<WorkOff>[1],
): Promise<boolean> {
  const state = await queued.getState();
  const attempts = Math.max(1, queued.attemptsMade);
  if (state === 'completed') {
    await settle(job, attempts, { isDone: true, reason: null, mayPass: false });
  } else if (state === 'failed') {
    await settle(job, attempts, { isDone: false, reason: queued.failedReason, mayPass: false });
  } else return false;
  return true;
}

function tellOfAttempts(
  queued: Job,
  job: ManyJob,
  seen: Map<string, number>,
  again: Parameters<WorkOff>[2],
): void {
  const known = seen.get(job.key) ?? 0;
  if (queued.attemptsMade <= known) return;
  seen.set(job.key, queued.attemptsMade);
  again(job, queued.failedReason ?? '');
}

export interface WorkerEvents {
  readonly onStart: (file: string) => void;
  readonly onEnd: (file: string, reason: string | null) => void;
}

/** Works jobs of the queue off until it is stopped; what it is at then goes back to the queue. */
export async function workForQueue(
  place: RedisPlace,
  concurrency: number,
  signal: AbortSignal,
  events: WorkerEvents,
  holdMs = HOLD_MS,
): Promise<void> {
  const worker = new Worker(place.queue, (job, token) => workOn(job, token, signal, events), {
    ...{ connection: connectionOf(place), concurrency, lockDuration: holdMs },
    ...{ stalledInterval: holdMs, maxStalledCount: MOST_LOST_WORKERS },
  });
  worker.on('error', () => {});
  await new Promise<void>((resolve) => {
    if (signal.aborted) resolve();
    else signal.addEventListener('abort', () => resolve());
  });
  await worker.close();
}

async function workOn(
  job: Job,
  token: string | undefined,
  signal: AbortSignal,
  { onStart, onEnd }: WorkerEvents,
): Promise<void> {
  const data = QueuedJob.safeParse(job.data).data;
  if (data === undefined) throw new UnrecoverableError('This is no job of a list of projects.');
  onStart(data.file);
  const { isDone, reason, mayPass } = await runOne(data.file, data.out, {
    timeLimitMs: data.timeLimitMs,
    signal,
  });
  if (!isDone && signal.aborted) {
    await job.moveToDelayed(Date.now(), token);
    throw new DelayedError();
  }
  onEnd(data.file, reason);
  if (isDone) return;
  throw mayPass ? new Error(reason ?? '') : new UnrecoverableError(reason ?? '');
}
