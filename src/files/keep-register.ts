import { copyFile, open, rename, rm } from 'node:fs/promises';
import path from 'node:path';
import { SealbookError } from '../basics/errors.ts';
import { makeFolder } from './make-folder.ts';
import { readInput, sha256 } from './read-input.ts';
import { unwritable, writeWhole } from './write-whole.ts';

const REGISTER_LIMIT_MB = 1024;

/** The register's bytes, or null where there is none yet. */
export async function readRegisterFile(file: string): Promise<Uint8Array | null> {
  try {
    return await readInput(file, REGISTER_LIMIT_MB);
  } catch (error) {
    if (error instanceof SealbookError && error.code === 'input-missing') return null;
    throw error;
  }
}

/**
 * Replaces the register, whole or not at all, and keeps the version before it as `….before`.
 * Throws `output-unwritable` when another run is writing it, or has written it since it was read:
 * two runs must not give the same number to two holes.
 */
export async function keepRegister(
  file: string,
  asRead: Uint8Array | null,
  bytes: Uint8Array,
): Promise<void> {
  await makeFolder(path.dirname(file));
  const lock = `${file}.lock`;
  const handle = await open(lock, 'wx').catch((cause: NodeJS.ErrnoException) => {
    if (cause.code !== 'EEXIST') unwritable(lock)(cause);
    throw refused(
      file,
      `${lock} says that another run is writing it`,
      `Wait for the other run; if there is none, remove ${lock}.`,
      cause,
    );
  });
  try {
    const now = await readRegisterFile(file);
    if (digest(now) !== digest(asRead)) {
      throw refused(file, 'another run has written it meanwhile', 'Run again.', undefined);
    }
    if (now !== null && digest(now) === digest(bytes)) return;
    if (now !== null) await copyFile(file, `${file}.before`).catch(unwritable(file));
    await writeWhole(`${file}.part`, bytes);
    await rename(`${file}.part`, file).catch(unwritable(file));
  } finally {
    await handle.close();
    await rm(lock, { force: true });
  }
}

function digest(bytes: Uint8Array | null): string {
  return bytes === null ? '' : sha256(bytes);
}

function refused(file: string, why: string, todo: string, cause: unknown): SealbookError {
  return new SealbookError('output-unwritable', `The register ${file} was not written: ${why}.`, {
    where: { file },
    todo,
    cause,
  });
}
