import { SealbookError } from './errors.ts';
import type { CheckTime } from './time-limit.ts';

/**
 * How much one file may ask of us, under `limits:` in the project file. Everything read may come
 * from strangers, so each reader counts and stops. Our own choices: several times what the largest
 * public samples need, and what a machine with 16 GB of memory still bears.
 */
export interface ReadLimits {
  /** Size of a file. */
  readonly fileMb: number;
  /** Records of a model; records of a drawing; what its blocks add up to when taken apart. */
  readonly entities: number;
  /** Blocks within blocks of a drawing. */
  readonly depth: number;
  /** Copies in one array of a drawing; parts of a model's shape, each counted as often as it is used. */
  readonly copies: number;
  /** Entries of an archive (XLSX, BCF). */
  readonly archiveEntries: number;
  /** What an archive may unpack to, all entries together. */
  readonly unpackedMb: number;
  /** How many times its own size a large archive may unpack to. */
  readonly unpackedRatio: number;
  /** Elements of one XML part. */
  readonly xmlElements: number;
  /** Elements within elements of XML. */
  readonly xmlDepth: number;
  /** Rows of a delimited file or a sheet. */
  readonly rows: number;
  /** Cells of a workbook or a delimited file. */
  readonly cells: number;
  /** Time for reading one file, where the platform hands in a clock. */
  readonly fileSeconds: number;
  /** Looked at now and then while reading. */
  readonly checkTime?: CheckTime;
}

export const USUAL_LIMITS: ReadLimits = {
  fileMb: 1024,
  entities: 20_000_000,
  depth: 16,
  copies: 10_000,
  archiveEntries: 20_000,
  unpackedMb: 400,
  unpackedRatio: 250,
  xmlElements: 1_000_000,
  xmlDepth: 100,
  rows: 1_000_000,
  cells: 2_000_000,
  fileSeconds: 1800,
};

/** `input-too-large`: what was counted, and the setting that lets more through. */
export function beyondLimit(
  setting: Exclude<keyof ReadLimits, 'checkTime'>,
  message: string,
): SealbookError {
  return new SealbookError('input-too-large', message, {
    todo: `Raise limits.${setting} in the project file if the file is meant; else check where it comes from.`,
  });
}
