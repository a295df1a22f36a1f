import { readFile } from 'node:fs/promises';
import os from 'node:os';
import path from 'node:path';
import { Command } from 'commander';
import { SealbookError } from '../basics/errors.ts';
import type { ListedProject } from '../batch/list-projects.ts';
import type { ManyEvent, ManyOptions } from '../batch/run-many.ts';
import type { ManyRecord, PortfolioProject } from '../model/portfolio.ts';
import { answer, printable, say } from './terminal.ts';

interface ManyCommandOptions {
  readonly out: string;
  readonly workers?: string;
  readonly retries: string;
  readonly timeLimit: string;
  readonly redis?: string;
  readonly queue: string;
  readonly work?: boolean;
  readonly json?: boolean;
}

/** Some projects were given up. */
const EXIT_DEAD = 3;

/** `sealbook many LIST`: many projects, here or across machines. */
export function manyCommand(): Command {
  return new Command('many')
    .description('runs many projects, and writes a workbook of them all')
    .argument('[list]', 'a text file with a project a line, or a folder that holds projects')
    .option('--out <dir>', 'folder for the outputs of all projects', 'many')
    .option('--workers <n>', 'projects worked on at once on this machine')
    .option('--retries <n>', 'further attempts at what fails and may pass', '2')
    .option('--time-limit <minutes>', 'longest time for one project', '120')
    .option('--redis <url>', 'hand the work to a queue in Redis, for workers on any machine')
    .option('--queue <name>', 'name of that queue', 'sealbook')
    .option('--work', 'be a worker of that queue, until stopped')
    .option('--json', 'print what became of each project as JSON')
    .action(many);
}

async function many(list: string | undefined, options: ManyCommandOptions): Promise<void> {
  const stopper = stopOnSignals();
  const workers = countOf('--workers', options.workers ?? String(defaultWorkers()), 1);
  if (options.work) {
    await beWorker(options, workers, stopper);
    return;
  }
  if (list === undefined) {
    throw new SealbookError('usage', 'No list of projects was named.', {
      todo: 'Name a text file with a project a line, or a folder that holds projects.',
    });
  }
  const { listProjects } = await import('../batch/list-projects.ts');
  const { makeFolder } = await import('../files/make-folder.ts');
  const { holdLock } = await import('../files/hold-lock.ts');
  const out = path.resolve(options.out);
  const projects = await listProjects(list);
  await makeFolder(out);
  const lock = path.join(out, 'many.lock');
  await holdLock(lock, `${options.out} was not worked on`, () =>
    work(projects, out, options, workers, stopper),
  );
}

async function work(
  projects: readonly ListedProject[],
  out: string,
  options: ManyCommandOptions,
  workers: number,
  signal: AbortSignal,
): Promise<void> {
  const { onThisMachine, runMany } = await import('../batch/run-many.ts');
  const manyOptions: ManyOptions = {
    out,
    retries: countOf('--retries', options.retries, 0),
    timeLimitMs: countOf('--time-limit', options.timeLimit, 1) * 60_000,
    signal,
    onEvent: (event) => say(eventText(event)),
  };
  say(`${projects.length} projects …`);
  const workOff =
    options.redis === undefined
      ? onThisMachine(workers, manyOptions)
      : (await import('../batch/redis-queue.ts')).onMachines(
          { url: options.redis, queue: options.queue },
          manyOptions,
        );
  const records = await runMany(projects, manyOptions, workOff);
  const portfolio = await Promise.all(
    projects.map((project) => portfolioProject(project, records.get(project.path), out)),
  );
  const written = await writePortfolioFiles(portfolio, out);
  report(portfolio, written, options.json ?? false, signal.aborted);
}

async function portfolioProject(
  { path: listed, folder }: ListedProject,
  record: ManyRecord | undefined,
  out: string,
): Promise<PortfolioProject> {
  const { summariseProject } = await import('../pipeline/portfolio/summarise-project.ts');
  const base = { path: listed, folder, attempts: record?.attempts ?? 0 };
  if (record === undefined) return { ...base, state: 'waiting', reason: null, summary: null };
  if (record.state === 'dead') {
    return { ...base, state: 'dead', reason: record.reason, summary: null };
  }
  const file = path.join(out, folder, 'result.json');
  try {
    const summary = summariseProject(await readFile(file, 'utf8'), file);
    return { ...base, state: 'done', reason: null, summary };
  } catch (error) {
    // Its outputs were taken away since, or its project asks for no result.json.
    const reason = error instanceof SealbookError ? error.message : `${file} can't be read.`;
    return { ...base, state: 'done', reason, summary: null };
  }
}

async function writePortfolioFiles(portfolio: readonly PortfolioProject[], out: string) {
  const { writePortfolio } = await import('../pipeline/portfolio/write-portfolio.ts');
  const { writeOutputs } = await import('../files/write-outputs.ts');
  return writeOutputs(out, await writePortfolio(portfolio), []);
}

function report(
  portfolio: readonly PortfolioProject[],
  written: readonly string[],
  asJson: boolean,
  isStopped: boolean,
): void {
  const count = (state: PortfolioProject['state']) =>
    portfolio.filter((each) => each.state === state).length;
  const totals = { done: count('done'), dead: count('dead'), waiting: count('waiting') };
  if (asJson) {
    answer(JSON.stringify({ totals, isStopped, files: written, projects: portfolio }, null, 2));
  } else {
    const dead = portfolio.filter(({ state }) => state === 'dead');
    answer(
      [
        `${totals.done} done, ${totals.dead} given up, ${totals.waiting} not worked on yet`,
        ...dead.map(({ path: listed, reason }) => `  ${printable(`${listed}: ${reason ?? ''}`)}`),
        'Design aid, not a certificate: local code, tested evidence and licensed people decide.',
        'Written:',
        ...written.map((file) => `  ${printable(file)}`),
      ].join('\n'),
    );
  }
  if (isStopped) say('Stopped; the same command goes on where this one left off.');
  if (totals.dead > 0) process.exitCode = EXIT_DEAD;
}

async function beWorker(
  { redis, queue }: ManyCommandOptions,
  workers: number,
  signal: AbortSignal,
): Promise<void> {
  if (redis === undefined) {
    throw new SealbookError('usage', '--work needs --redis.', {
      todo: 'Name the Redis that the list was handed to.',
    });
  }
  const { workForQueue } = await import('../batch/redis-queue.ts');
  say(`Working for the queue ${queue}, ${workers} at once. Ctrl-C ends it.`);
  await workForQueue({ url: redis, queue }, workers, signal, {
    onStart: (file) => say(`begun: ${printable(file)}`),
    onEnd: (file, reason) => say(printable(`${reason ?? 'done'}: ${file}`)),
  });
}

/** One project takes one core nearly whole, and up to a few gigabytes. */
function defaultWorkers(): number {
  return Math.max(1, os.availableParallelism() - 1);
}

function countOf(option: string, text: string, least: number): number {
  const count = Number(text);
  if (Number.isInteger(count) && count >= least && count <= 10_000) return count;
  throw new SealbookError('usage', `"${text}" after ${option} is not understood.`, {
    todo: `Give a whole number of at least ${least}.`,
  });
}

function eventText({ path: listed, state, reason, finished, total }: ManyEvent): string {
  const words = { done: 'done', dead: 'given up', again: 'tried again' };
  const why = reason === null ? '' : `: ${reason.split('\n')[0] ?? ''}`;
  return printable(`[${finished}/${total}] ${words[state]}  ${listed}${why}`);
}

/** The first signal ends the work in order, a second one at once. */
function stopOnSignals(): AbortSignal {
  const controller = new AbortController();
  for (const signal of ['SIGINT', 'SIGTERM'] as const) {
    process.once(signal, () => {
      say('Stopping …');
      controller.abort();
      process.once(signal, () => process.exit(1));
    });
  }
  return controller.signal;
}
