import { unzipSync, zipSync } from 'fflate';
import { lines, toBytes, toText, xmlTags } from './mutate.ts';
import type { Format } from './samples.ts';

/** Whether bytes still show the fault. */
export type StillFails = (bytes: Uint8Array) => Promise<boolean>;

/** Smaller bytes that show the same fault, as far as `tries` go. */
export async function minimise(
  format: Format,
  bytes: Uint8Array,
  fails: StillFails,
  tries: number,
): Promise<Uint8Array> {
  const budget = { left: tries };
  if (format !== 'xlsx' && format !== 'bcf') {
    return toBytes(await smaller(toText(bytes), (text) => fails(toBytes(text)), budget));
  }
  let entries: [string, Uint8Array][];
  try {
    entries = Object.entries(unzipSync(bytes));
  } catch {
    // The packing itself is the fault.
    return toBytes(await smaller(toText(bytes), (text) => fails(toBytes(text)), budget));
  }
  const zipped = (all: readonly [string, Uint8Array][]) => zipSync(Object.fromEntries(all));
  for (const entry of [...entries]) {
    const others = entries.filter((each) => each !== entry);
    if (await spent(budget, () => fails(zipped(others)))) entries = others;
  }
  for (const entry of entries) {
    const with_ = (text: string) =>
      zipped(entries.map((each) => (each === entry ? [each[0], toBytes(text)] : each)));
    entry[1] = toBytes(await smaller(toText(entry[1]), (text) => fails(with_(text)), budget));
  }
  return zipped(entries);
}

interface Budget {
  left: number;
}

async function spent(budget: Budget, check: () => Promise<boolean>): Promise<boolean> {
  if (budget.left <= 0) return false;
  budget.left -= 1;
  return check();
}

/** Takes out ever smaller runs of lines, then of tags, as long as the fault stays. */
async function smaller(
  text: string,
  fails: (text: string) => Promise<boolean>,
  budget: Budget,
): Promise<string> {
  let best = text;
  for (const cut of [lines, xmlTags]) {
    let parts = cut(best);
    for (let run = Math.ceil(parts.length / 2); run >= 1; run = Math.floor(run / 2)) {
      for (let at = 0; at < parts.length && budget.left > 0; ) {
        const without = [...parts.slice(0, at), ...parts.slice(at + run)];
        if (await spent(budget, () => fails(without.join('')))) parts = without;
        else at += run;
      }
    }
    best = parts.join('');
  }
  return best;
}
