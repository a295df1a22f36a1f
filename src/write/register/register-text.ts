import type { Register } from '../../model/register.ts';

/** Version of the file format; readers migrate older ones. */
const REGISTER_VERSION = 2;

/**
 * The register as text: a head line, one line a decision, one line a record by tag, an end line
 * that counts them all and carries the SHA-256 of all lines before it, so that a cut or damaged file is noticed.
 */
export async function registerText(
  register: Register,
  sha256: (bytes: Uint8Array) => string | Promise<string>,
): Promise<string> {
  const { records, decisions, ...head } = register;
  const lines = [
    JSON.stringify({ format: 'sealbook-register', version: REGISTER_VERSION, ...head }),
    ...decisions.map((decision) => JSON.stringify({ decision })),
    ...records.map((record) => JSON.stringify(record)),
  ];
  const body = `${lines.join('\n')}\n`;
  const end = { end: lines.length - 1, sha256: await sha256(new TextEncoder().encode(body)) };
  return `${body}${JSON.stringify(end)}\n`;
}
