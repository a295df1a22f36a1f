import type { ReviewAnswers, ReviewQuestion } from '../../model/review.ts';

/** A file that can be taken away. */
export interface Download {
  readonly name: string;
  readonly sizeBytes: number;
  readonly load: () => Promise<Blob>;
}

export type Question = Exclude<ReviewQuestion, { ask: 'files' }>;

/** What works the project out: the program on this machine, or a worker of this tab. */
export interface Backend {
  readonly ask: <Q extends Question>(question: Q) => Promise<ReviewAnswers[Q['ask']]>;
  readonly files: () => Promise<readonly Download[]>;
}

/** The program behind the page has ended, or the worker has. */
export class Lost extends Error {}

/** The program on this machine. Data come with the token that stands behind # in the address. */
export function serverBackend(token: string): Backend {
  const headers = { 'x-sealbook-token': token };
  const call = async (address: string, init: RequestInit = {}): Promise<Response> => {
    const response = await fetch(address, { ...init, headers }).catch((cause: unknown) => {
      throw new Lost('', { cause });
    });
    if (!response.ok) throw new Error(await response.text());
    return response;
  };
  const post = async (question: ReviewQuestion): Promise<unknown> => {
    const response = await call('api/ask', { method: 'POST', body: JSON.stringify(question) });
    return response.json();
  };
  return {
    ask: async (question) => (await post(question)) as ReviewAnswers[(typeof question)['ask']],
    files: async () => {
      const listed = (await post({ ask: 'files' })) as { name: string; sizeBytes: number }[];
      return listed.map(({ name, sizeBytes }) => ({
        name,
        sizeBytes,
        load: async () => (await call(`api/file?name=${encodeURIComponent(name)}`)).blob(),
      }));
    },
  };
}
