// npm run fuzz -- --minutes N [--format ifc] [--seed S] [--seconds T] [--memory MB] [--jobs J] [--out DIR]
// Mutates every sample and reads it in a process of its own. An outcome other than a result whose
// ledger adds up, or a SealbookError, is a find: kept with its seed, and made smaller.
import { mkdirSync, writeFileSync } from 'node:fs';
import { availableParallelism } from 'node:os';
import path from 'node:path';
import { parseArgs } from 'node:util';
import { minimise } from './minimise.ts';
import { Runner } from './runner.ts';
import { FORMATS, type Format } from './samples.ts';

const { values } = parseArgs({
  options: {
    minutes: { type: 'string', default: '1' },
    format: { type: 'string', multiple: true, default: [...FORMATS] },
    seed: { type: 'string', default: '1' },
    seconds: { type: 'string', default: '30' },
    memory: { type: 'string', default: '2048' },
    jobs: { type: 'string', default: String(availableParallelism()) },
    tries: { type: 'string', default: '300' },
    out: { type: 'string', default: 'out/fuzz' },
  },
});

const say = (text: string): void => {
  process.stdout.write(`${text}\n`);
};
const seed = Number(values.seed);
const bounds = { seconds: Number(values.seconds), memoryMb: Number(values.memory) };

interface Tally {
  readonly format: Format;
  executions: number;
  ok: number;
  refused: Record<string, number>;
  /** Cases by what went wrong. */
  finds: Map<string, number>;
  seconds: number;
}

async function fuzz(format: Format, minutes: number): Promise<Tally> {
  const tally: Tally = {
    format,
    executions: 0,
    ok: 0,
    refused: {},
    finds: new Map(),
    seconds: 0,
  };
  const runner = new Runner(format, seed, bounds);
  const start = performance.now();
  for (let index = 0; performance.now() - start < minutes * 60_000; index += 1) {
    const outcome = await runner.run({ ask: 'run', index });
    tally.executions += 1;
    if (outcome.kind === 'ok') tally.ok += 1;
    else if (outcome.kind === 'refused') {
      tally.refused[outcome.code] = (tally.refused[outcome.code] ?? 0) + 1;
    } else {
      const before = tally.finds.get(outcome.signature) ?? 0;
      tally.finds.set(outcome.signature, before + 1);
      // What is slow or large looks the same whatever the cause, so a few of each are kept.
      if (before < (isBeyondBounds(outcome.signature) ? 4 : 1))
        await keep(format, index, outcome.signature, outcome.text);
    }
  }
  tally.seconds = (performance.now() - start) / 1000;
  runner.stop();
  return tally;
}

const isBeyondBounds = (signature: string): boolean =>
  /longer than|more than|ended/.test(signature);

function lineOf({ format, executions, seconds, ok, refused, finds }: Tally): string {
  const found = [...finds].map(([what, count]) => `${count} × ${what}`);
  return [
    `${format}: seed ${seed}`,
    `${executions} executions in ${(seconds / 60).toFixed(1)} min`,
    `${ok} read`,
    `refused ${JSON.stringify(refused)}`,
    `finds ${found.length > 0 ? found.join('; ') : 'none'}`,
  ].join(', ');
}

/** Saves a find: the bytes as they came, smaller ones, and how to make them again. */
async function keep(format: Format, index: number, signature: string, text: string) {
  const runner = new Runner(format, seed, bounds);
  const { bytes, sample } = await runner.bytesOf(index);
  const folder = path.join(values.out, `${format}-${seed}-${index}`);
  mkdirSync(folder, { recursive: true });
  writeFileSync(path.join(folder, `found.${format}`), bytes);
  const about = `format ${format}, seed ${seed}, case ${index}, sample ${sample}\n${signature}\n\n${text}\n`;
  writeFileSync(path.join(folder, 'about.txt'), about);
  say(`FIND ${format} seed ${seed} case ${index} (${sample}): ${signature}`);
  const fails = async (tried: Uint8Array) => {
    const outcome = await runner.run({ ask: 'try', bytes: tried, sample });
    return outcome.kind === 'fault' && outcome.signature === signature;
  };
  const tries = isBeyondBounds(signature)
    ? Math.min(12, Number(values.tries))
    : Number(values.tries);
  writeFileSync(path.join(folder, `small.${format}`), await minimise(format, bytes, fails, tries));
  runner.stop();
}

const asked = values.format.filter((name): name is Format => FORMATS.some((each) => each === name));
if (asked.length !== values.format.length) {
  say(`Formats: ${FORMATS.join(', ')}.`);
  process.exitCode = 2;
} else {
  const waiting = [...asked];
  const work = async () => {
    for (let format = waiting.shift(); format !== undefined; format = waiting.shift()) {
      const tally = await fuzz(format, Number(values.minutes));
      if (tally.finds.size > 0) process.exitCode = 1;
      say(lineOf(tally));
    }
  };
  await Promise.all(Array.from({ length: Number(values.jobs) }, work));
}
