import { z } from 'zod';
import { SealbookError } from '../../basics/errors.ts';
import type { InputFile } from '../../model/input.ts';
import { Register, RegisterRecord } from '../../model/register.ts';

const Head = Register.omit({ records: true }).extend({
  format: z.literal('sealbook-register'),
  version: z.literal(1),
});
const End = z.strictObject({ end: z.number().int().nonnegative(), sha256: z.string() });

/**
 * Reads a register and checks that it is whole: head, records, and an end line whose count and
 * SHA-256 agree with what stands before it. Throws `input-unreadable` naming the line and the way
 * back: a damaged register is never used, since tags given out twice can't be told apart later.
 */
export async function readRegister(
  file: InputFile,
  sha256: (bytes: Uint8Array) => string | Promise<string>,
): Promise<Register> {
  const text = new TextDecoder().decode(file.bytes);
  const lines = text.split('\n');
  if (lines.pop() !== '') throw damaged(file, lines.length + 1, 'the last line is cut short');
  const endLine = lines.length;
  const end = End.safeParse(parse(file, lines.pop(), endLine));
  if (!end.success) throw damaged(file, endLine, 'the end line is missing');
  const head = Head.safeParse(parse(file, lines[0], 1));
  if (!head.success) {
    throw damaged(file, 1, 'the first line is not the head of a register this version can read');
  }
  const body = new TextEncoder().encode(`${lines.join('\n')}\n`);
  if (end.data.end !== lines.length - 1 || end.data.sha256 !== (await sha256(body))) {
    throw damaged(file, endLine, 'lines were changed, lost or added since it was written');
  }
  const records = lines.slice(1).map((line, index) => {
    const record = RegisterRecord.safeParse(parse(file, line, index + 2));
    if (record.success) return record.data;
    throw damaged(file, index + 2, 'this is not a record');
  });
  const { revision, basis, numbers } = head.data;
  return { revision, basis, numbers, records };
}

function parse(file: InputFile, line: string | undefined, number: number): unknown {
  try {
    return JSON.parse(line ?? '');
  } catch (cause) {
    throw damaged(file, number, 'this is not JSON', cause);
  }
}

function damaged(file: InputFile, line: number, what: string, cause?: unknown): SealbookError {
  return new SealbookError(
    'input-unreadable',
    `The register is damaged at line ${line}: ${what}.`,
    {
      where: { file: file.name, line },
      todo: `Put back the copy that the last good run kept (${file.name}.before) or one from your backup or version control.`,
      cause,
    },
  );
}
