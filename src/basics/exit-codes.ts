/** Codes of errors and the exit code of each. Codes never change meaning. */
export const EXIT_CODES = {
  usage: 2,
  'settings-invalid': 2,
  'input-missing': 3,
  'input-unreadable': 3,
  'input-too-large': 3,
  'output-unwritable': 3,
  internal: 4,
} as const satisfies Record<string, number>;

export type ErrorCode = keyof typeof EXIT_CODES;

/** Exit code of a run that finished with queries at or above the level of `--fail-on`. */
export const EXIT_QUERIES = 1;
