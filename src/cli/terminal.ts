import { SingleBar } from 'cli-progress';
import { SealbookError } from '../basics/errors.ts';
import type { OnProgress } from '../basics/progress.ts';

/** Messages go to stderr, so that stdout carries answers only. */
export function say(text: string): void {
  process.stderr.write(`${text}\n`);
}

/** The answer itself, to stdout. */
export function answer(text: string): void {
  process.stdout.write(`${text}\n`);
}

/** Bold on a terminal that wants it; NO_COLOR and pipes get plain text. */
export function strong(text: string): string {
  const styled = process.stdout.isTTY && process.env['NO_COLOR'] === undefined;
  return styled ? `\u001b[1m${text}\u001b[22m` : text;
}

export interface ProgressLine {
  readonly onProgress: OnProgress | null;
  readonly stop: () => void;
}

/** A line that shows what is being done; only on a terminal. */
export function progressLine(): ProgressLine {
  if (!process.stderr.isTTY) return { onProgress: null, stop: () => {} };
  const bar = new SingleBar({
    format: '{step} {of}',
    clearOnComplete: true,
    hideCursor: true,
    stream: process.stderr,
  });
  bar.start(1, 0, { step: '', of: '' });
  return {
    onProgress: ({ step, done, total }) => {
      bar.update(0, { step: printable(step), of: total > 0 ? `${done} of ${total}` : '' });
    },
    stop: () => bar.stop(),
  };
}

/** An error for people: what, then what to do. Our own faults show where they happened. */
export function errorText(error: unknown): string {
  if (error instanceof SealbookError) {
    const { file, line } = error.where;
    const place = file === undefined || error.message.includes(file) ? '' : `${file}: `;
    const at = line === undefined || /line \d/.test(error.message) ? '' : ` (line ${line})`;
    const todo = error.todo === null ? '' : `\n  ${printable(error.todo)}`;
    return `${printable(place + error.message)}${at}${todo}`;
  }
  const detail = error instanceof Error ? (error.stack ?? error.message) : String(error);
  return `This is a fault of sealbook's own, not of your files.\n${detail}`;
}

/** Text from files without control characters, which could drive the terminal. */
export function printable(text: string): string {
  // biome-ignore lint/suspicious/noControlCharactersInRegex: they are what is taken out.
  return text.replace(/[\u0000-\u0008\u000b-\u001f\u007f-\u009f]/g, ' ');
}
