import type { Column } from './column-names.ts';

/** A column of a sheet that was understood. */
export interface FoundColumn {
  /** From 0. */
  readonly at: number;
  readonly column: Column;
  /** Heading as written, rows joined. */
  readonly heading: string;
  readonly unit: string | null;
  readonly how: 'name' | 'setting' | 'values';
  /** What its heading says, where it stands in for a reference that has no column of its own. */
  readonly insteadOf?: Column;
}

/** A heading that was not understood. */
export interface UnknownHeading {
  /** From 0. */
  readonly at: number;
  readonly heading: string;
}
