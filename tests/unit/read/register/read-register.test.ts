import { createHash } from 'node:crypto';
import fc from 'fast-check';
import { expect, test } from 'vitest';
import type { Decision } from '../../../../src/model/decision.ts';
import type { Register } from '../../../../src/model/register.ts';
import { readRegister } from '../../../../src/read/register/read-register.ts';
import { issuedFacts } from '../../../../src/register/issued-facts.ts';
import { tagPenetrations, updateRegister } from '../../../../src/register/update-register.ts';
import { registerText } from '../../../../src/write/register/register-text.ts';
import { madeBasis, madePenetration } from '../../../makers/register/made-penetration.ts';

const sha256 = (bytes: Uint8Array) => createHash('sha256').update(bytes).digest('hex');

function made(): Register {
  const penetrations = [
    madePenetration(),
    madePenetration({ opening: 'arch:O2', level: 'Ünter =1+1\n"' }),
  ];
  const tagging = tagPenetrations(penetrations, null, '{level}-{number}');
  const facts = new Map(penetrations.map((each) => [each.id, issuedFacts(each, [], ['C-1'])]));
  const filesRead = new Set(['arch']);
  const decision: Decision = {
    about: 'query',
    subject: 'units-missing:arch',
    field: 'answer',
    tag: null,
    value: 'millimetres =1+1\n"',
    against: null,
    revision: 'A',
    from: 'review page',
  };
  const rest = {
    before: null,
    decisions: [decision],
    taken: ['ab12'],
    revision: 'A',
    filesRead,
    seals: new Map(),
    basis: madeBasis(),
  };
  return updateRegister({ tagging, penetrations, facts, ...rest }).register;
}

const read = (text: string) =>
  readRegister(
    { key: 'register', name: 'register.jsonl', bytes: new TextEncoder().encode(text) },
    sha256,
  );

test('what is written is read back, a line a record', async () => {
  const register = made();
  const text = await registerText(register, sha256);
  expect(text.split('\n')).toHaveLength(register.records.length + register.decisions.length + 3);
  expect(await read(text)).toEqual(register);
});

/** As version 1 wrote it: decisions inside the records, by column of the workbook. */
async function version1Text(register: Register): Promise<string> {
  const { records, decisions: _, taken: __, ...head } = register;
  const column = { value: 'hold', against: null, revision: 'A' };
  const lines = [
    { format: 'sealbook-register', version: 1, ...head },
    ...records.map((record) => ({ ...record, decisions: [{ field: 'Decision', ...column }] })),
  ].map((line) => JSON.stringify(line));
  const body = `${lines.join('\n')}\n`;
  const end = { end: records.length, sha256: sha256(new TextEncoder().encode(body)) };
  return `${body}${JSON.stringify(end)}\n`;
}

test('a register of version 1 is read, its decisions with it', async () => {
  const register = made();
  const again = await read(await version1Text(register));
  expect(again.records).toEqual(register.records);
  expect(again.decisions).toEqual(
    register.records.map(({ tag }) => ({
      about: 'penetration',
      subject: tag,
      field: 'review',
      tag: null,
      value: 'hold',
      against: null,
      revision: 'A',
      from: 'an older register',
    })),
  );
  // Written again it is of today's version.
  expect(await read(await registerText(again, sha256))).toEqual(again);
});

test('any one damaged character is noticed and refused with the way back', async () => {
  const text = await registerText(made(), sha256);
  await fc.assert(
    fc.asyncProperty(fc.integer({ min: 0, max: text.length - 1 }), async (place) => {
      const other = text[place] === '7' ? '8' : '7';
      const damaged = text.slice(0, place) + other + text.slice(place + 1);
      await expect(read(damaged)).rejects.toMatchObject({
        code: 'input-unreadable',
        todo: expect.stringContaining('register.jsonl.before'),
      });
    }),
    { numRuns: 300 },
  );
});

test('a register cut anywhere is noticed', async () => {
  const text = await registerText(made(), sha256);
  for (let length = 0; length < text.length; length += 1) {
    await expect(read(text.slice(0, length))).rejects.toMatchObject({ code: 'input-unreadable' });
  }
});
