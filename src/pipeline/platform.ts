import type { OnProgress } from '../basics/progress.ts';

/** What differs between the command line, a browser tab and a batch worker, passed in. */
export interface Platform {
  /** SHA-256 as lower-case hex. */
  readonly sha256: (bytes: Uint8Array) => string | Promise<string>;
  /** Picture of an SVG, PNG bytes. */
  readonly svgToPng: (svg: string, widthPx: number) => Promise<Uint8Array>;
  readonly onProgress?: OnProgress;
  /** Where web-ifc's wasm file lies; Node finds it by itself. */
  readonly wasm?: (file: string) => string;
  /** Milliseconds from any start, for limits on time; without it there are none. */
  readonly nowMs?: () => number;
  /**
   * Told when reading of a file begins and how long it may take; what it returns is called at the end.
   * For libraries that are given a file whole and can't be asked whether they will ever end.
   */
  readonly watchReading?: (name: string, seconds: number) => () => void;
}
