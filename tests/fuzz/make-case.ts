import path from 'node:path';
import { loadProject } from '../../src/cli/load-project.ts';
import { openRange } from '../../src/pipeline/open-project.ts';
import { runProject } from '../../src/pipeline/run-project.ts';
import { seeded } from '../makers/schedule/corrupt.ts';
import { repoRoot } from '../set-up/outside.ts';
import {
  type Cut,
  dxfRecords,
  linePairs,
  lines,
  mutateText,
  type Random,
  toBytes,
  toText,
  xmlTags,
} from './mutate.ts';
import { mutateZip } from './mutate-zip.ts';
import { type Format, type Sample, samplesOf } from './samples.ts';
import { sha256 } from './targets.ts';

const CUTS: Readonly<Record<Format, readonly Cut[]>> = {
  ifc: [lines],
  dxf: [dxfRecords, linePairs, lines],
  xlsx: [],
  csv: [lines],
  yaml: [lines],
  bcf: [],
  ids: [xmlTags],
  register: [lines],
  range: [lines],
};

/** The samples of a format; the register is one that a run of a sample gives. */
export async function loadSamples(format: Format): Promise<readonly Sample[]> {
  return format === 'register' ? [await madeRegister()] : samplesOf(format);
}

async function madeRegister(): Promise<Sample> {
  const folder = path.join(repoRoot, 'samples', 'valve-chamber');
  const { settings, assumptions, files, rangeFile } = await loadProject([folder], null, false);
  const outputs = { ...settings.outputs, workbook: false, bcf: false, sealPages: false };
  const { register } = await runProject(
    {
      settings: { ...settings, outputs },
      assumptions,
      files,
      range: openRange(rangeFile).range,
    },
    { sha256, svgToPng: () => Promise.resolve(new Uint8Array()) },
  );
  return { name: 'register.jsonl', bytes: register, beside: null };
}

export interface FuzzCase {
  readonly sample: Sample;
  readonly bytes: Uint8Array;
}

/** The case of that number: the same for the same seed and samples. */
export function makeCase(
  format: Format,
  samples: readonly Sample[],
  seed: number,
  index: number,
): FuzzCase {
  const random = seeded(seed * 1_000_003 + index);
  // The first numbers of neighbouring seeds lie near each other.
  for (let n = 0; n < 4; n += 1) random();
  const sample = chosen(samples, random);
  if (format === 'xlsx' || format === 'bcf')
    return { sample, bytes: mutateZip(sample.bytes, random) };
  const text = mutateText(toText(sample.bytes), CUTS[format], random);
  const isSigned = format === 'register' && random() < 0.8;
  return { sample, bytes: toBytes(isSigned ? signed(text) : text) };
}

/** Small samples are taken more often than large ones, since they take less time. */
function chosen(samples: readonly Sample[], random: Random): Sample {
  const weights = samples.map(({ bytes }) => 1 / (bytes.length + 2000) ** 0.7);
  let left = random() * weights.reduce((sum, weight) => sum + weight, 0);
  const found = samples.find((_, n) => {
    left -= weights[n] ?? 0;
    return left <= 0;
  });
  const [first] = samples;
  if (first === undefined) throw new Error('There are no samples of this format.');
  return found ?? first;
}

/** A register whose end line agrees with what was changed, so that its lines are looked at. */
export function signed(text: string): string {
  const body = text.split('\n').filter((line) => line !== '' && !line.startsWith('{"end"'));
  const bytes = toBytes(`${body.join('\n')}\n`);
  return `${toText(bytes)}${JSON.stringify({ end: body.length - 1, sha256: sha256(bytes) })}\n`;
}
