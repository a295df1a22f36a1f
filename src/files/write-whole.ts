import { open, rm } from 'node:fs/promises';
import { SealbookError } from '../basics/errors.ts';

/**
 * Writes a new file and waits until it is on disk, so that a power cut after a rename can't empty it. What
 * lies there under this name goes first: a link would lead the bytes to somebody else's file.
 */
export async function writeWhole(file: string, bytes: Uint8Array): Promise<void> {
  await rm(file, { force: true }).catch(unwritable(file));
  const handle = await open(file, 'wx').catch(unwritable(file));
  try {
    await handle.writeFile(bytes);
    await handle.sync();
  } catch (cause) {
    unwritable(file)(cause);
  } finally {
    await handle.close();
  }
}

/** For `catch`: turns the system's refusal into `output-unwritable` with the file named. */
export function unwritable(file: string): (cause: unknown) => never {
  return (cause) => {
    throw new SealbookError('output-unwritable', `${file} can't be written.`, {
      where: { file },
      todo: 'Check the rights and free space of the folder, or close the file where it is open.',
      cause,
    });
  };
}
