import type { Backend, Download } from './backend.ts';
import { button, fill, h } from './dom.ts';
import { words } from './texts.ts';

/** All outputs with the decisions taken so far, to be taken away. */
export function filesView(
  backend: Backend,
  working: (isWorking: boolean) => void,
  failed: (error: unknown) => void,
): HTMLElement {
  const text = words();
  const list = h('ul', { class: 'files' });
  return h(
    'section',
    {},
    h('h2', {}, text.files),
    h('p', {}, text.filesNote),
    button('make-files', text.makeFiles, () => {
      working(true);
      backend
        .files()
        .then((files) => {
          working(false);
          fill(list, ...files.map((file, at) => fileLine(file, at, failed)));
        })
        .catch(failed);
    }),
    list,
  );
}

function fileLine(file: Download, at: number, failed: (error: unknown) => void): HTMLElement {
  const { name, sizeBytes } = file;
  return h(
    'li',
    {},
    button(`file-${at}`, `${words().download} ${name}`, () => {
      file.load().then((blob) => handOver(blob, name), failed);
    }),
    ` ${Math.max(1, Math.round(sizeBytes / 1024))} KB`,
  );
}

/** A while in which any browser has begun to write the file. */
const KEEP_ADDRESS_MS = 60_000;

function handOver(blob: Blob, name: string): void {
  const address = URL.createObjectURL(blob);
  h('a', { href: address, download: name }).click();
  setTimeout(() => URL.revokeObjectURL(address), KEEP_ADDRESS_MS);
}
