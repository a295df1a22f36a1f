import { randomBytes, timingSafeEqual } from 'node:crypto';
import { createServer, type IncomingMessage, type ServerResponse } from 'node:http';
import { SealbookError } from '../../basics/errors.ts';
import { type ReviewFile, ReviewQuestion } from '../../model/review.ts';
import { type Review, reviewErrorText } from '../../pipeline/review/open-review.ts';
import type { PageFiles } from './page-files.ts';

export interface OpenPage {
  /** With the token behind `#`, which browsers do not send on. */
  readonly url: string;
  readonly close: () => Promise<void>;
}

const HOST = '127.0.0.1';
const LARGEST_QUESTION = 1024 * 1024;

/** Nothing from elsewhere, nothing inline; pictures and downloads are blobs that the page makes. */
const POLICY =
  "default-src 'none'; script-src 'self'; style-src 'self'; img-src 'self' blob:; connect-src 'self'; base-uri 'none'; form-action 'none'; frame-ancestors 'none'";

interface Served {
  readonly review: Review;
  readonly files: PageFiles;
  readonly token: string;
  /** Outputs as they were made when they were last asked for. */
  made: readonly ReviewFile[];
}

/**
 * Serves the review page on this machine alone. Only requests for this very address are answered, so
 * that no other site can reach it by a name of its own; all data need the token of this run. Throws
 * `usage` when the port can't be had.
 */
export async function startPage(review: Review, files: PageFiles, port = 0): Promise<OpenPage> {
  const served: Served = { review, files, token: randomBytes(24).toString('base64url'), made: [] };
  const server = createServer((request, response) => {
    reply(request, response, served, address()).catch((error: unknown) => {
      if (response.headersSent) response.end();
      else send(response, error instanceof SealbookError ? 422 : 500, TEXT, reviewErrorText(error));
    });
  });
  const address = () => {
    const at = server.address();
    return typeof at === 'object' && at !== null ? `${HOST}:${at.port}` : HOST;
  };
  await new Promise<void>((resolve, reject) => {
    server.once('error', (cause) => {
      const text = `The page can't be opened on port ${port}: ${cause.message}.`;
      reject(
        new SealbookError('usage', text, {
          todo: 'Give another --port, or none for a free one.',
          cause,
        }),
      );
    });
    server.listen(port, HOST, resolve);
  });
  return {
    url: `http://${address()}/#${served.token}`,
    close: () =>
      new Promise((resolve) => {
        server.close(() => resolve());
        server.closeAllConnections();
      }),
  };
}

const TEXT = 'text/plain; charset=utf-8';
const JSON_TYPE = 'application/json; charset=utf-8';

async function reply(
  request: IncomingMessage,
  response: ServerResponse,
  served: Served,
  address: string,
): Promise<void> {
  const { host, origin } = request.headers;
  if (host !== address || (origin !== undefined && origin !== `http://${address}`)) {
    send(response, 403, TEXT, 'Only this machine and this page are answered.');
    return;
  }
  const url = new URL(request.url ?? '/', `http://${address}`);
  const isData = url.pathname.startsWith('/api/');
  if (isData && !isToken(request.headers['x-sealbook-token'], served.token)) {
    send(response, 401, TEXT, 'The token of this page is missing or wrong.');
  } else if (url.pathname === '/api/ask' && request.method === 'POST') {
    await replyQuestion(request, response, served);
  } else if (url.pathname === '/api/file' && request.method === 'GET') {
    const name = url.searchParams.get('name');
    const file = served.made.find((each) => each.name === name);
    if (file === undefined) send(response, 404, TEXT, 'There is no such file.');
    else send(response, 200, 'application/octet-stream', file.bytes);
  } else if (!isData && request.method === 'GET') {
    const file = served.files.get(url.pathname.slice(1));
    if (file === undefined) send(response, 404, TEXT, 'There is no such page.');
    else send(response, 200, file.type, file.bytes);
  } else send(response, 404, TEXT, 'There is no such question.');
}

function isToken(given: string | string[] | undefined, token: string): boolean {
  const [a, b] = [Buffer.from(typeof given === 'string' ? given : ''), Buffer.from(token)];
  return a.length === b.length && timingSafeEqual(a, b);
}

async function replyQuestion(request: IncomingMessage, response: ServerResponse, served: Served) {
  const question = readQuestion(await bodyOf(request));
  if (question === null) {
    send(response, 400, TEXT, 'This question is not understood.');
  } else if (question.ask === 'files') {
    served.made = await served.review.answer(question);
    const listed = served.made.map(({ name, bytes }) => ({ name, sizeBytes: bytes.length }));
    send(response, 200, JSON_TYPE, JSON.stringify(listed));
  } else {
    const answer = await served.review.answer(question);
    send(response, 200, JSON_TYPE, JSON.stringify(answer));
  }
}

function readQuestion(body: string | null): ReviewQuestion | null {
  if (body === null) return null;
  try {
    return ReviewQuestion.safeParse(JSON.parse(body)).data ?? null;
  } catch (error) {
    if (error instanceof SyntaxError) return null;
    throw error;
  }
}

/** Null for one that is too long. */
async function bodyOf(request: IncomingMessage): Promise<string | null> {
  const parts: Uint8Array[] = [];
  let size = 0;
  for await (const part of request as AsyncIterable<Uint8Array>) {
    size += part.length;
    // Read on to its end, since a sender who is cut off never sees the answer.
    if (size <= LARGEST_QUESTION) parts.push(part);
  }
  if (size > LARGEST_QUESTION) return null;
  return Buffer.concat(parts).toString('utf8');
}

function send(
  response: ServerResponse,
  status: number,
  type: string,
  body: string | Uint8Array,
): void {
  response.writeHead(status, {
    'content-type': type,
    'content-security-policy': POLICY,
    'cache-control': 'no-store',
    'referrer-policy': 'no-referrer',
    'x-content-type-options': 'nosniff',
    'cross-origin-resource-policy': 'same-origin',
  });
  response.end(body);
}
