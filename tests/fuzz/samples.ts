import { existsSync, readdirSync, readFileSync } from 'node:fs';
import path from 'node:path';
import { repoRoot, sharedPath } from '../set-up/outside.ts';

export const FORMATS = [
  'ifc',
  'dxf',
  'xlsx',
  'csv',
  'yaml',
  'bcf',
  'ids',
  'register',
  'range',
] as const;
export type Format = (typeof FORMATS)[number];

export interface Sample {
  readonly name: string;
  readonly bytes: Uint8Array;
  /** What the sample is judged with: the model of an IDS case. */
  readonly beside: Uint8Array | null;
}

const ENDINGS: Partial<Record<Format, RegExp>> = {
  ifc: /\.ifc$/,
  dxf: /\.dxf$/,
  xlsx: /\.xlsx$/,
  csv: /\.csv$/,
  bcf: /\.bcf$/,
  ids: /\.ids$/,
  yaml: /(?<!range)\.yaml$/,
  range: /range\.yaml$/,
};

/** All samples of a format, ours and the shared ones, in the order of their paths. */
export function samplesOf(format: Format): Sample[] {
  const ending = ENDINGS[format];
  if (ending === undefined) return [];
  const folders = [path.join(repoRoot, 'samples'), sharedPath('samples'), sharedPath('schemas')];
  return (
    folders
      .filter((folder) => existsSync(folder))
      .flatMap((folder) =>
        readdirSync(folder, { recursive: true, encoding: 'utf8' })
          .sort()
          .map((name) => path.join(folder, name)),
      )
      // Binary drawings are refused by their first bytes: mutating them shows nothing.
      .filter((file) => ending.test(file) && !/schemas.*\.ifc$|binary.*\.dxf$/.test(file))
      .map((file) => ({ name: path.basename(file), bytes: bytesOf(file), beside: modelOf(file) }))
  );
}

function modelOf(file: string): Uint8Array | null {
  const model = file.replace(/\.ids$/, '.ifc');
  return file.endsWith('.ids') && existsSync(model) ? bytesOf(model) : null;
}

/** A plain copy: Node's own buffers share memory. */
function bytesOf(file: string): Uint8Array {
  return Uint8Array.from(readFileSync(file));
}
