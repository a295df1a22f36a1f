import { createHash } from 'node:crypto';
import { createReadStream } from 'node:fs';
import { readFile } from 'node:fs/promises';
import path from 'node:path';
import { pipeline } from 'node:stream/promises';
import { openProject } from '../pipeline/open-project.ts';

/**
 * SHA-256 over a project file and everything it reads, so that the same work is known again and changed
 * work is done anew. A file that can't be read counts by its absence: the run itself will say so.
 */
export async function projectKey(file: string): Promise<string> {
  const hash = createHash('sha256');
  const bytes = new Uint8Array(await readFile(file).catch(() => Buffer.alloc(0)));
  hash.update(bytes);
  for (const each of pathsOf(file, bytes)) {
    hash.update(`\0${each}\0`);
    try {
      // Streamed, since models may be larger than what one wants in memory many times over.
      await pipeline(createReadStream(path.resolve(path.dirname(file), each)), async (parts) => {
        for await (const part of parts) hash.update(part as Uint8Array);
      });
    } catch {
      hash.update('\0missing');
    }
  }
  return hash.digest('hex');
}

/** Paths the project names; none where it can't be read. */
function pathsOf(file: string, bytes: Uint8Array): string[] {
  try {
    const { settings } = openProject({ key: 'project', name: path.basename(file), bytes });
    const named = Object.values(settings.files).map((each) => each.path);
    return settings.range === undefined ? named : [...named, settings.range];
  } catch {
    return [];
  }
}
