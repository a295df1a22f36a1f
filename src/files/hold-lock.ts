import { link, readFile, rename, rm } from 'node:fs/promises';
import os from 'node:os';
import { SealbookError } from '../basics/errors.ts';
import { unwritable, writeWhole } from './write-whole.ts';

/** What a lock file says of who holds it. */
interface Holder {
  readonly pid: number;
  readonly host: string;
}

/**
 * Does something while a lock file of this name is held, so that no other run does it at once. A lock
 * whose run was killed on this machine is taken over. Throws `output-unwritable` where another holds it.
 */
export async function holdLock<T>(file: string, what: string, work: () => Promise<T>): Promise<T> {
  await takeLock(file, what);
  try {
    return await work();
  } finally {
    await rm(file, { force: true });
  }
}

async function takeLock(file: string, what: string): Promise<void> {
  if (await createLock(file)) return;
  if (isDead(await readHolder(file)) && (await removeDead(file)) && (await createLock(file)))
    return;
  throw new SealbookError('output-unwritable', `${what}: ${file} says that another run holds it.`, {
    where: { file },
    todo: `Wait for the other run; if there is none, remove ${file}.`,
  });
}

/** Moves a dead lock away. Of two runs that see it, the second may catch the first one's new lock: it is put back. */
async function removeDead(file: string): Promise<boolean> {
  const aside = `${file}.${process.pid}`;
  try {
    await rename(file, aside);
    const isGone = isDead(await readHolder(aside));
    if (!isGone) await link(aside, file);
    await rm(aside, { force: true });
    return isGone;
  } catch {
    return false;
  }
}

/** Appears with its content or not at all, so that a lock always says who holds it. */
async function createLock(file: string): Promise<boolean> {
  const holder: Holder = { pid: process.pid, host: os.hostname() };
  const beside = `${file}.${process.pid}.part`;
  await writeWhole(beside, new TextEncoder().encode(JSON.stringify(holder)));
  try {
    await link(beside, file);
    return true;
  } catch (cause) {
    if ((cause as NodeJS.ErrnoException).code === 'EEXIST') return false;
    return unwritable(file)(cause);
  } finally {
    await rm(beside, { force: true });
  }
}

async function readHolder(file: string): Promise<Holder | null> {
  try {
    const value: unknown = JSON.parse(await readFile(file, 'utf8'));
    const { pid, host } = value as Partial<Holder>;
    return typeof pid === 'number' && typeof host === 'string' ? { pid, host } : null;
  } catch {
    return null;
  }
}

/** Whether its process is surely gone. On another machine, or with no name in it, nobody can tell. */
function isDead(holder: Holder | null): boolean {
  return holder !== null && holder.host === os.hostname() && !isRunning(holder.pid);
}

/** Whether a process of this machine still runs. */
export function isRunning(pid: number): boolean {
  try {
    process.kill(pid, 0);
    return true;
  } catch (error) {
    // Without the right to signal it, it is there all the same.
    return (error as NodeJS.ErrnoException).code === 'EPERM';
  }
}
