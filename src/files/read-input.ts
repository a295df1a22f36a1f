import { createHash } from 'node:crypto';
import { readFile, stat } from 'node:fs/promises';
import { SealbookError } from '../basics/errors.ts';

const BYTES_PER_MB = 1024 * 1024;

/**
 * The whole of a file. Throws `input-missing` when it is not there or not a file,
 * `input-too-large` past the limit, `input-unreadable` when the system refuses it.
 */
export async function readInput(path: string, limitMb: number): Promise<Uint8Array> {
  const found = await stat(path).catch((cause: unknown) => {
    throw new SealbookError('input-missing', `There is no file ${path}.`, {
      where: { file: path },
      todo: 'Check the path, also in the project file under files:.',
      cause,
    });
  });
  if (!found.isFile()) {
    throw new SealbookError('input-missing', `${path} is not a file.`, {
      where: { file: path },
      todo: 'Name a file, or a folder that holds a project.yaml.',
    });
  }
  if (found.size > limitMb * BYTES_PER_MB) {
    throw new SealbookError(
      'input-too-large',
      `${path} has ${Math.ceil(found.size / BYTES_PER_MB)} MB; the limit is ${limitMb} MB.`,
      { where: { file: path }, todo: 'Raise limits.fileMb in the project file if it is meant.' },
    );
  }
  const buffer = await readFile(path).catch((cause: unknown) => {
    throw new SealbookError('input-unreadable', `${path} can't be read.`, {
      where: { file: path },
      todo: 'Check the rights of the file.',
      cause,
    });
  });
  const after = await stat(path).catch(() => null);
  if (after === null || after.mtimeMs !== found.mtimeMs || after.size !== found.size) {
    throw new SealbookError('input-unreadable', `${path} changed while it was being read.`, {
      where: { file: path },
      todo: 'Wait until whoever writes it is done, and run again.',
    });
  }
  // A plain view, since Node's own kind shares its memory where `slice` should copy.
  return new Uint8Array(buffer.buffer, buffer.byteOffset, buffer.byteLength);
}

/** SHA-256 as lower-case hex. */
export function sha256(bytes: Uint8Array): string {
  return createHash('sha256').update(bytes).digest('hex');
}
