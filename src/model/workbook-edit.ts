import type { SiteField } from './as-built.ts';
import type { Decision } from './decision.ts';

/** A cell that a person filled in, changed or emptied since the workbook was issued. */
export interface WorkbookEdit {
  readonly decision: Decision;
  /** What the cell held when it was issued; empty for nothing. */
  readonly was: string;
  /** The workbook it stands in: its name and issue. */
  readonly book: string;
}

/** A cell of the site record that a person filled in, changed or emptied. */
export interface SiteEdit {
  readonly tag: string;
  /** See `sealKeyOf`. */
  readonly seal: string;
  readonly field: SiteField;
  readonly value: string;
  readonly was: string;
  readonly revision: string;
  readonly from: string;
  readonly book: string;
}

/** All that people did in a workbook. */
export interface WorkbookEdits {
  readonly edits: readonly WorkbookEdit[];
  readonly site: readonly SiteEdit[];
  /** Revision the workbook was issued with; null where it does not say. */
  readonly revision: string | null;
}
