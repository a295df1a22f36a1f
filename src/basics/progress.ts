/** How far a long piece of work has come; `total` 0 where it is not known. */
export interface ProgressEvent {
  readonly step: string;
  readonly done: number;
  readonly total: number;
}

/** Told of progress; may throw to stop the work (the caller's own error comes through). */
export type OnProgress = (event: ProgressEvent) => void;
