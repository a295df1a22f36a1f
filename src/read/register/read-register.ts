import { z } from 'zod';
import { SealbookError } from '../../basics/errors.ts';
import { Decision } from '../../model/decision.ts';
import type { InputFile } from '../../model/input.ts';
import { Register, RegisterRecord } from '../../model/register.ts';
import { headFromVersion1, linesFromVersion1 } from './migrate-register.ts';

/** What every version has; the rest is checked once it is in today's form. */
const AnyHead = z.looseObject({
  format: z.literal('sealbook-register'),
  version: z.union([z.literal(1), z.literal(2)]),
});
const Format = { format: z.literal('sealbook-register'), version: z.literal(2) };
const Head = Register.omit({ records: true, decisions: true }).extend(Format);
const DecisionLine = z.strictObject({ decision: Decision });
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
  const endLine = Math.max(1, lines.length);
  const end = End.safeParse(parse(file, lines.pop(), endLine));
  if (!end.success) throw damaged(file, endLine, 'the end line is missing');
  const anyHead = AnyHead.safeParse(parse(file, lines[0], 1));
  const isOld = anyHead.success && anyHead.data.version === 1;
  const head = Head.safeParse(isOld ? headFromVersion1(anyHead.data) : anyHead.data);
  if (!head.success) {
    throw damaged(file, 1, 'the first line is not the head of a register this version can read');
  }
  const body = new TextEncoder().encode(`${lines.join('\n')}\n`);
  if (end.data.end !== lines.length - 1 || end.data.sha256 !== (await sha256(body))) {
    throw damaged(file, endLine, 'lines were changed, lost or added since it was written');
  }
  const { revision, basis, numbers, taken } = head.data;
  return { revision, basis, numbers, taken, ...readLines(file, lines, isOld) };
}

/** The lines after the head: decisions and records. */
function readLines(file: InputFile, lines: readonly string[], isOld: boolean) {
  const decisions: Decision[] = [];
  const records: RegisterRecord[] = [];
  lines.slice(1).forEach((line, index) => {
    const parsed = parse(file, line, index + 2);
    for (const part of isOld ? linesFromVersion1(parsed) : [parsed]) {
      const decision = DecisionLine.safeParse(part);
      const record = RegisterRecord.safeParse(part);
      if (decision.success) decisions.push(decision.data.decision);
      else if (record.success) records.push(record.data);
      else throw damaged(file, index + 2, 'this is neither a record nor a decision');
    }
  });
  return { decisions, records };
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
