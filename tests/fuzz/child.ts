// The process in which cases run: it may be ended at any moment by its parent.
import { SealbookError } from '../../src/basics/errors.ts';
import { loadSamples, makeCase } from './make-case.ts';
import type { Format } from './samples.ts';
import { TARGETS } from './targets.ts';

export type Ask =
  | { readonly ask: 'run'; readonly index: number }
  | { readonly ask: 'bytes'; readonly index: number }
  | { readonly ask: 'try'; readonly bytes: Uint8Array; readonly sample: string };

export type Outcome =
  | { readonly kind: 'ok' }
  | { readonly kind: 'refused'; readonly code: string }
  | { readonly kind: 'fault'; readonly signature: string; readonly text: string };

export type Answer =
  | { readonly answer: 'ready' }
  | { readonly answer: 'outcome'; readonly outcome: Outcome; readonly rssMb: number }
  | { readonly answer: 'bytes'; readonly bytes: Uint8Array; readonly sample: string };

const [format, seed] = [process.argv[2] as Format, Number(process.argv[3])];
const samples = await loadSamples(format);

async function outcomeOf(bytes: Uint8Array, beside: Uint8Array | null): Promise<Outcome> {
  try {
    await TARGETS[format](bytes, beside);
    return { kind: 'ok' };
  } catch (error) {
    if (error instanceof SealbookError) return { kind: 'refused', code: error.code };
    const text = error instanceof Error ? (error.stack ?? error.message) : String(error);
    return { kind: 'fault', signature: signatureOf(text), text };
  }
}

/** What went wrong and where, without numbers that differ from case to case. */
function signatureOf(text: string): string {
  const [message = ''] = text.split('\n');
  const place = /src\/[\w/.-]+\.ts:\d+/.exec(text)?.[0] ?? '';
  return `${message
    .replace(/\d+(\.\d+)?/g, '0')
    .replace(/"[^"]*"/g, '""')
    .slice(0, 100)} ${place}`;
}

async function answerTo(message: Ask): Promise<Answer> {
  if (message.ask === 'try') {
    const sample = samples.find(({ name }) => name === message.sample);
    return report(await outcomeOf(Uint8Array.from(message.bytes), sample?.beside ?? null));
  }
  const made = makeCase(format, samples, seed, message.index);
  if (message.ask === 'bytes') {
    return { answer: 'bytes', bytes: made.bytes, sample: made.sample.name };
  }
  return report(await outcomeOf(made.bytes, made.sample.beside));
}

function report(outcome: Outcome): Answer {
  return { answer: 'outcome', outcome, rssMb: process.memoryUsage().rss / 2 ** 20 };
}

process.on('message', (message: Ask) => {
  void answerTo(message).then((answer) => process.send?.(answer));
});
process.send?.({ answer: 'ready' } satisfies Answer);
