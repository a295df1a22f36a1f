import wasmAddress from 'web-ifc/web-ifc.wasm?url';
import type { Platform } from '../../../pipeline/platform.ts';
import { openPile } from '../../../pipeline/review/open-pile.ts';
import { openReview, type Review, reviewErrorText } from '../../../pipeline/review/open-review.ts';
import type { FromWorker, ToWorker } from './messages.ts';

// The whole job inside the tab: the same core as everywhere, with what a browser gives it.

const tab = globalThis as unknown as DedicatedWorkerGlobalScope;
let review: Review | null = null;

function tell(message: FromWorker): void {
  tab.postMessage(message);
}

/** Pictures that the page was asked for, by number. */
const drawn = new Map<number, (picture: ImageBitmap) => void>();
let pictures = 0;

const platform: Platform = {
  sha256: async (bytes) => {
    const digest = await crypto.subtle.digest('SHA-256', bytes as Uint8Array<ArrayBuffer>);
    return [...new Uint8Array(digest)].map((byte) => byte.toString(16).padStart(2, '0')).join('');
  },
  svgToPng: async (svg, widthPx) => {
    const picture = await new Promise<ImageBitmap>((resolve) => {
      pictures += 1;
      drawn.set(pictures, resolve);
      tell({ kind: 'draw', id: pictures, svg, widthPx });
    });
    return pngOf(picture);
  },
  onProgress: (progress) => tell({ kind: 'progress', progress }),
  wasm: () => new URL(wasmAddress, tab.location.href).href,
};

tab.addEventListener('message', ({ data }: MessageEvent<ToWorker>) => {
  if (data.kind === 'drawn') {
    drawn.get(data.id)?.(data.picture);
    drawn.delete(data.id);
    return;
  }
  answer(data).then(
    (value) => tell({ kind: 'answer', id: data.id, value }),
    (error: unknown) => tell({ kind: 'fault', id: data.id, text: reviewErrorText(error) }),
  );
});

/** Written here and not in the page, where a browser would wait for an idle moment with each. */
async function pngOf(picture: ImageBitmap): Promise<Uint8Array> {
  const canvas = new OffscreenCanvas(picture.width, picture.height);
  canvas.getContext('2d')?.drawImage(picture, 0, 0);
  picture.close();
  const blob = await canvas.convertToBlob({ type: 'image/png' });
  return new Uint8Array(await blob.arrayBuffer());
}

async function answer(message: Exclude<ToWorker, { kind: 'drawn' }>): Promise<unknown> {
  if (message.kind === 'open') {
    review = await openReview(openPile(message.files), platform, async (bytes) => {
      tell({ kind: 'register', bytes });
    });
    return null;
  }
  if (review === null) throw new TypeError('Nothing is open.');
  return review.answer(message.question);
}
