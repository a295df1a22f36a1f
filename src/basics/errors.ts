import type { ErrorCode } from './exit-codes.ts';

/** The place an error speaks of. */
export interface ErrorPlace {
  readonly file?: string;
  readonly line?: number;
  readonly id?: string;
}

export interface ErrorDetails {
  readonly where?: ErrorPlace;
  /** One sentence on what to do next. */
  readonly todo?: string;
  readonly cause?: unknown;
}

/** The one error class: this file or run cannot go on. Anything else thrown is a bug. */
export class SealbookError extends Error {
  readonly code: ErrorCode;
  readonly where: ErrorPlace;
  readonly todo: string | null;

  constructor(code: ErrorCode, message: string, details: ErrorDetails = {}) {
    super(message, details.cause === undefined ? undefined : { cause: details.cause });
    this.name = 'SealbookError';
    this.code = code;
    this.where = details.where ?? {};
    this.todo = details.todo ?? null;
  }
}

/** The same error with the file named, for a caller that knows the file while the thrower did not. */
export function withFile(error: SealbookError, file: string): SealbookError {
  return new SealbookError(error.code, error.message, {
    where: { file, ...error.where },
    cause: error,
    ...(error.todo === null ? {} : { todo: error.todo }),
  });
}
