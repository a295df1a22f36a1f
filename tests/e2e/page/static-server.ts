import { readFile } from 'node:fs/promises';
import { createServer } from 'node:http';
import path from 'node:path';
import { repoRoot } from '../../set-up/outside.ts';

const TYPES: Readonly<Record<string, string>> = {
  ...{ '.html': 'text/html', '.js': 'text/javascript', '.css': 'text/css' },
  ...{ '.wasm': 'application/wasm', '.svg': 'image/svg+xml', '.json': 'application/json' },
};

/** The built page under a sub-path, as any web host would serve it. */
export async function serveStatic(): Promise<{ url: string; close: () => void }> {
  const folder = path.join(repoRoot, 'dist/page');
  const server = createServer((request, response) => {
    const asked = (request.url ?? '').replace(/^\/some\/where\//, '') || 'index.html';
    readFile(path.join(folder, path.normalize(`/${asked}`))).then(
      (bytes) => {
        const type = TYPES[path.extname(asked)] ?? 'application/octet-stream';
        response.writeHead(200, { 'content-type': type });
        response.end(bytes);
      },
      () => {
        response.writeHead(404);
        response.end();
      },
    );
  });
  await new Promise<void>((resolve) => server.listen(0, '127.0.0.1', resolve));
  const address = server.address();
  const port = typeof address === 'object' && address !== null ? address.port : 0;
  return { url: `http://127.0.0.1:${port}/some/where/`, close: () => server.close() };
}
