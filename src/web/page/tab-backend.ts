import type { ProgressEvent } from '../../basics/progress.ts';
import type { ReviewAnswers, ReviewQuestion } from '../../model/review.ts';
import type { DroppedFile } from '../../pipeline/review/open-pile.ts';
import { type Backend, Lost } from './backend.ts';
import { drawSvg } from './draw-svg.ts';
import type { FromWorker, ToWorker } from './worker/messages.ts';

export interface TabBackend extends Backend {
  /** Ends the worker, whatever it is doing. */
  readonly stop: () => void;
}

export interface TabEvents {
  readonly onProgress: (progress: ProgressEvent) => void;
  readonly onRegister: (bytes: Uint8Array) => void;
}

interface Waiting {
  readonly resolve: (value: unknown) => void;
  readonly reject: (error: Error) => void;
}

/** Works the files out in a worker of this tab. Rejects with the reason where they can't be opened. */
export async function openInTab(
  files: readonly DroppedFile[],
  events: TabEvents,
  onStarted: (backend: TabBackend) => void,
): Promise<TabBackend> {
  const worker = new Worker(new URL('./worker/main.ts', import.meta.url), { type: 'module' });
  const waiting = new Map<number, Waiting>();
  let count = 0;
  let isLost = false;
  const send = (message: ToWorker, given: Transferable[] = []) =>
    worker.postMessage(message, given);
  const lose = () => {
    isLost = true;
    worker.terminate();
    for (const { reject } of waiting.values()) reject(new Lost());
    waiting.clear();
  };
  worker.addEventListener('error', lose);
  worker.addEventListener('messageerror', lose);
  worker.addEventListener('message', ({ data }: MessageEvent<FromWorker>) => {
    if (data.kind === 'progress') events.onProgress(data.progress);
    else if (data.kind === 'register') events.onRegister(data.bytes);
    else if (data.kind === 'draw') {
      const { id } = data;
      drawSvg(data.svg, data.widthPx).then(
        (picture) => send({ kind: 'drawn', id, picture }, [picture]),
        lose,
      );
    } else {
      const asked = waiting.get(data.id);
      waiting.delete(data.id);
      if (data.kind === 'answer') asked?.resolve(data.value);
      else asked?.reject(new Error(data.text));
    }
  });
  const call = (message: (id: number) => ToWorker): Promise<unknown> =>
    new Promise((resolve, reject) => {
      if (isLost) {
        reject(new Lost());
        return;
      }
      count += 1;
      waiting.set(count, { resolve, reject });
      send(message(count));
    });
  const ask = (question: ReviewQuestion) => call((id) => ({ kind: 'ask', id, question }));
  const backend: TabBackend = {
    stop: lose,
    ask: async (question) => (await ask(question)) as ReviewAnswers[(typeof question)['ask']],
    files: async () => {
      const made = (await ask({ ask: 'files' })) as ReviewAnswers['files'];
      return made.map(({ name, bytes }) => ({
        name,
        sizeBytes: bytes.length,
        load: async () => new Blob([bytes as Uint8Array<ArrayBuffer>]),
      }));
    },
  };
  onStarted(backend);
  await call((id) => ({ kind: 'open', id, files }));
  return backend;
}
