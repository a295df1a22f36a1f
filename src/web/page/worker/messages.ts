import type { ProgressEvent } from '../../../basics/progress.ts';
import type { ReviewQuestion } from '../../../model/review.ts';
import type { DroppedFile } from '../../../pipeline/review/open-pile.ts';

/** From the page to its worker. Each has a number under which it is answered. */
export type ToWorker =
  | { readonly kind: 'open'; readonly id: number; readonly files: readonly DroppedFile[] }
  | { readonly kind: 'ask'; readonly id: number; readonly question: ReviewQuestion }
  /** The picture that was asked for. */
  | { readonly kind: 'drawn'; readonly id: number; readonly picture: ImageBitmap };

/** From the worker to the page. */
export type FromWorker =
  | { readonly kind: 'answer'; readonly id: number; readonly value: unknown }
  | { readonly kind: 'fault'; readonly id: number; readonly text: string }
  | { readonly kind: 'progress'; readonly progress: ProgressEvent }
  /** The register after a change, so that decisions outlive the tab's worker. */
  | { readonly kind: 'register'; readonly bytes: Uint8Array }
  /** Asks for a picture: browsers draw SVG outside workers only. */
  | {
      readonly kind: 'draw';
      readonly id: number;
      readonly svg: string;
      readonly widthPx: number;
    };
