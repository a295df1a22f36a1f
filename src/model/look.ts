/** What `look` says of one file: facts, tables, and what to put in the project file. */
export interface LookReport {
  readonly file: string;
  readonly kind: 'ifc' | 'dxf' | 'schedule' | 'unknown';
  readonly schema: string;
  readonly facts: readonly { readonly name: string; readonly value: string }[];
  readonly tables: readonly LookTable[];
  /** Sentences on what to put in the project file, and what was not understood. */
  readonly advice: readonly string[];
}

export interface LookTable {
  readonly title: string;
  readonly columns: readonly string[];
  readonly rows: readonly (readonly (string | number)[])[];
}
