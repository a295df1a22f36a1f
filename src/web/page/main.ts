import { type Backend, Lost, serverBackend } from './backend.ts';
import { fill, part } from './dom.ts';
import { ReviewPage } from './review-page.ts';
import { startView } from './start-view.ts';
import { words } from './texts.ts';

/** The token stands behind # where the program on this machine serves the page; else files are dropped. */
const token = location.hash.slice(1);

function open(backend: Backend, lost: () => string): Promise<void> {
  return new ReviewPage(backend, lost).begin();
}

function fail(error: unknown): void {
  fill(
    part('note'),
    error instanceof Lost
      ? words().lostServer
      : error instanceof Error
        ? error.message
        : String(error),
  );
}

if (token === '') startView((backend) => open(backend, () => words().lostWorker).catch(fail));
else open(serverBackend(token), () => words().lostServer).catch(fail);
