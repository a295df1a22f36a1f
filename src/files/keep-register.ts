import { copyFile, rename } from 'node:fs/promises';
import path from 'node:path';
import { SealbookError } from '../basics/errors.ts';
import { holdLock } from './hold-lock.ts';
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
  await holdLock(`${file}.lock`, `The register ${file} was not written`, async () => {
    const now = await readRegisterFile(file);
    if (digest(now) !== digest(asRead)) throw writtenMeanwhile(file);
    if (now !== null && digest(now) === digest(bytes)) return;
    if (now !== null) {
      await copyFile(file, `${file}.before.part`).catch(unwritable(file));
      await rename(`${file}.before.part`, `${file}.before`).catch(unwritable(file));
    }
    await writeWhole(`${file}.part`, bytes);
    await rename(`${file}.part`, file).catch(unwritable(file));
  });
}

function digest(bytes: Uint8Array | null): string {
  return bytes === null ? '' : sha256(bytes);
}

function writtenMeanwhile(file: string): SealbookError {
  return new SealbookError(
    'output-unwritable',
    `The register ${file} was not written: another run has written it meanwhile.`,
    { where: { file }, todo: 'Run again.' },
  );
}
