import type { DroppedFile } from '../../pipeline/review/open-pile.ts';
import { type Backend, Lost } from './backend.ts';
import { button, fill, h, part } from './dom.ts';
import { keepRegister, keptRegister } from './kept-register.ts';
import { openInTab } from './tab-backend.ts';
import { words } from './texts.ts';

/** The first sight of the static page: files are dropped or chosen and worked on in this tab. */
export function startView(onOpen: (backend: Backend) => void): void {
  const text = words();
  fill(part('caution'), text.caution);
  if (!window.isSecureContext) {
    fill(part('detail'), h('div', { class: 'drop' }, h('p', {}, text.insecure)));
    return;
  }
  const picker = h('input', { id: 'files', type: 'file', multiple: true, hidden: true });
  const area = h(
    'div',
    { class: 'drop' },
    h('h2', {}, text.dropHere),
    h('p', {}, text.dropNote),
    picker,
    button('choose-files', text.chooseFiles, () => picker.click()),
    button('sample-files', text.sampleFiles, () => {
      sampleFiles().then((files) => work(files, onOpen), failed);
    }),
  );
  picker.addEventListener('change', () => {
    readAll([...(picker.files ?? [])]).then((files) => work(files, onOpen), failed);
  });
  dropping(area, (files) => {
    readAll(files).then((read) => work(read, onOpen), failed);
  });
  fill(part('detail'), area);
}

function dropping(area: HTMLElement, onFiles: (files: readonly File[]) => void): void {
  document.body.addEventListener('dragover', (event) => {
    event.preventDefault();
    area.classList.add('over');
  });
  document.body.addEventListener('dragleave', () => area.classList.remove('over'));
  document.body.addEventListener('drop', (event) => {
    event.preventDefault();
    area.classList.remove('over');
    const files = [...(event.dataTransfer?.files ?? [])];
    if (area.isConnected && files.length > 0) onFiles(files);
  });
}

async function readAll(files: readonly File[]): Promise<DroppedFile[]> {
  return Promise.all(
    files.map(async (file) => ({
      name: file.name,
      bytes: new Uint8Array(await file.arrayBuffer()),
    })),
  );
}

/** The sample project that lies beside the page. */
async function sampleFiles(): Promise<DroppedFile[]> {
  const names = (await (await fetch('./sample/files.json')).json()) as string[];
  return Promise.all(
    names.map(async (name) => ({
      name,
      bytes: new Uint8Array(await (await fetch(`./sample/${name}`)).arrayBuffer()),
    })),
  );
}

function work(dropped: readonly DroppedFile[], onOpen: (backend: Backend) => void): void {
  const text = words();
  const progress = h('p', { role: 'status' }, text.working);
  const stop = button('stop', text.stop, () => {});
  fill(part('detail'), h('div', { class: 'drop' }, progress, stop));
  fill(part('note'));
  const before = keptRegister(dropped);
  const files = before === null ? dropped : [...dropped, before];
  let isStopped = false;
  openInTab(
    files,
    {
      onProgress: ({ step, done, total }) => {
        const place = progress.isConnected ? progress : part('note');
        fill(place, total > 0 ? `${step}: ${done} / ${total}` : step);
      },
      onRegister: (bytes) => keepRegister(dropped, bytes),
    },
    (started) => {
      stop.addEventListener('click', () => {
        isStopped = true;
        started.stop();
      });
    },
  ).then(onOpen, (error: unknown) => {
    startView(onOpen);
    failed(isStopped ? new Error(text.stopped) : error);
  });
}

function failed(error: unknown): void {
  const text = words();
  const reason = error instanceof Error ? error.message : String(error);
  fill(part('note'), error instanceof Lost ? text.lostWorker : reason);
}
