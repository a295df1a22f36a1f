import type { DroppedFile } from '../../pipeline/review/open-pile.ts';

const REGISTER_NAME = 'register.jsonl';

/**
 * The register that this tab kept of the same files, so that a reload or a lost worker loses no
 * decision; null where there is none, or where one was dropped with the files.
 */
export function keptRegister(dropped: readonly DroppedFile[]): DroppedFile | null {
  if (dropped.some(({ name }) => name.endsWith('.jsonl'))) return null;
  const text = sessionStorage.getItem(keyOf(dropped));
  return text === null ? null : { name: REGISTER_NAME, bytes: new TextEncoder().encode(text) };
}

/** Keeps it in this tab alone; one that is larger than a tab may keep is left to be taken away as a file. */
export function keepRegister(dropped: readonly DroppedFile[], bytes: Uint8Array): void {
  try {
    sessionStorage.setItem(keyOf(dropped), new TextDecoder().decode(bytes));
  } catch (error) {
    if (!(error instanceof DOMException)) throw error;
    sessionStorage.removeItem(keyOf(dropped));
  }
}

function keyOf(dropped: readonly DroppedFile[]): string {
  const names = dropped.map(({ name, bytes }) => `${name} ${bytes.length}`).sort();
  return `sealbook ${JSON.stringify(names)}`;
}
