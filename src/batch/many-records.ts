import { open, readFile } from 'node:fs/promises';
import { unwritable } from '../files/write-whole.ts';
import { ManyRecord } from '../model/portfolio.ts';

/**
 * What became of the projects so far, the newest by path. A line that was cut off by a power cut or a
 * kill counts as never written.
 */
export async function readRecords(file: string): Promise<ReadonlyMap<string, ManyRecord>> {
  const text = await readFile(file, 'utf8').catch(() => '');
  const records = new Map<string, ManyRecord>();
  for (const line of text.split('\n')) {
    const record = readRecord(line);
    if (record !== null) records.set(record.path, record);
  }
  return records;
}

function readRecord(line: string): ManyRecord | null {
  try {
    return ManyRecord.safeParse(JSON.parse(line)).data ?? null;
  } catch {
    return null;
  }
}

/** Adds a line, on disk before it counts. Begins with a line feed, so that a torn line spoils no other. */
export async function addRecord(file: string, record: ManyRecord): Promise<void> {
  const handle = await open(file, 'a').catch(unwritable(file));
  try {
    await handle.appendFile(`\n${JSON.stringify(record)}`);
    await handle.sync();
  } finally {
    await handle.close();
  }
}
