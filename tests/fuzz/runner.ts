import { type ChildProcess, fork } from 'node:child_process';
import path from 'node:path';
import { repoRoot } from '../set-up/outside.ts';
import type { Answer, Ask, Outcome } from './child.ts';
import type { Format } from './samples.ts';

export interface Bounds {
  readonly seconds: number;
  readonly memoryMb: number;
}

const START_SECONDS = 120;
/** A child is replaced after so many cases, so that what libraries keep is no find. */
const CASES_A_CHILD = 300;
const CHILD = path.join(repoRoot, 'tests', 'fuzz', 'child.ts');

/** Runs cases of one format in a process of its own, ended where it takes too much. */
export class Runner {
  readonly #format: Format;
  readonly #seed: number;
  readonly #bounds: Bounds;
  #child: ChildProcess | null = null;
  #cases = 0;

  constructor(format: Format, seed: number, bounds: Bounds) {
    this.#format = format;
    this.#seed = seed;
    this.#bounds = bounds;
  }

  async run(ask: Ask): Promise<Outcome> {
    if (this.#cases >= CASES_A_CHILD) this.stop();
    this.#cases += 1;
    const answer = await this.#answer(ask);
    if (typeof answer === 'string') return { kind: 'fault', signature: answer, text: answer };
    if (answer.answer !== 'outcome') throw new Error('The child answers something else.');
    if (answer.rssMb <= this.#bounds.memoryMb) return answer.outcome;
    this.stop();
    const text = `more than ${this.#bounds.memoryMb} MB`;
    return { kind: 'fault', signature: text, text };
  }

  async bytesOf(index: number): Promise<{ bytes: Uint8Array; sample: string }> {
    const answer = await this.#answer({ ask: 'bytes', index });
    if (typeof answer === 'string' || answer.answer !== 'bytes') {
      throw new Error(`Case ${index} can't be made again.`);
    }
    return answer;
  }

  stop(): void {
    this.#child?.kill('SIGKILL');
    this.#child = null;
    this.#cases = 0;
  }

  /** The answer, or in words why there is none. */
  async #answer(ask: Ask): Promise<Answer | string> {
    this.#child ??= await this.#start();
    const child = this.#child;
    const answered = answerOf(child, this.#bounds.seconds);
    child.send(ask);
    const answer = await answered;
    if (typeof answer === 'string') this.stop();
    return answer;
  }

  async #start(): Promise<ChildProcess> {
    const child = fork(CHILD, [this.#format, String(this.#seed)], {
      execArgv: ['--import', 'tsx', `--max-old-space-size=${this.#bounds.memoryMb}`],
      serialization: 'advanced',
      stdio: ['ignore', 'ignore', 'ignore', 'ipc'],
    });
    const ready = await answerOf(child, START_SECONDS);
    if (typeof ready === 'string')
      throw new Error(`The process for cases does not start: ${ready}.`);
    return child;
  }
}

function answerOf(child: ChildProcess, seconds: number): Promise<Answer | string> {
  return new Promise((resolve) => {
    const done = (answer: Answer | string) => {
      clearTimeout(timer);
      child.removeAllListeners();
      resolve(answer);
    };
    const timer = setTimeout(() => done(`longer than ${seconds} seconds`), seconds * 1000);
    child.once('message', (answer) => done(answer as Answer));
    child.once('exit', (code, signal) => done(`ended by itself (${signal ?? code})`));
    child.once('error', (error) => done(error.message));
  });
}
