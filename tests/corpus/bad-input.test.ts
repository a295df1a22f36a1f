import { describe, expect, test } from 'vitest';
import { loadSamples, signed } from '../fuzz/make-case.ts';
import { toBytes, toText } from '../fuzz/mutate.ts';
import { changed } from './corpus-case.ts';
import { DXF_CASES } from './dxf-cases.ts';
import { IFC_EDITS, IFC_FILES, soundModel } from './ifc-cases.ts';
import { BCF_CASES, IDS_CASES, IDS_MODEL } from './issue-cases.ts';
import {
  bcfOutcome,
  dxfOutcome,
  idsOutcome,
  ifcOutcome,
  projectOutcome,
  rangeOutcome,
  registerOutcome,
  scheduleOutcome,
} from './outcomes.ts';
import { REGISTER_CASES } from './register-cases.ts';
import { bookWith, CSV_BYTES, CSV_CASES, XLSX_EDITS } from './schedule-cases.ts';
import { PROJECT_CASES, RANGE_CASES } from './settings-cases.ts';

const utf8 = (text: string) => new TextEncoder().encode(text);

interface Entry {
  readonly name: string;
  readonly run: () => Promise<string>;
  readonly outcome: string;
}

const model = soundModel();
const register = loadSamples('register').then(([sample]) =>
  toText(sample?.bytes ?? new Uint8Array()),
);

const CORPUS: Readonly<Record<string, readonly Entry[]>> = {
  IFC: [
    ...IFC_EDITS.map((edit) => ({
      name: edit[0],
      run: () => ifcOutcome(utf8(changed(model, edit))),
      outcome: edit[3],
    })),
    ...IFC_FILES.map(([name, text, outcome]) => ({
      name,
      run: () => ifcOutcome(utf8(text)),
      outcome,
    })),
  ],
  DXF: DXF_CASES.map(([name, text, outcome]) => ({
    name,
    run: () => dxfOutcome(utf8(text)),
    outcome,
  })),
  CSV: [
    ...CSV_CASES.map(([name, text, outcome]) => ({
      name,
      run: () => scheduleOutcome('s.csv', utf8(text)),
      outcome,
    })),
    ...CSV_BYTES.map(([name, bytes, outcome]) => ({
      name,
      run: () => scheduleOutcome('s.csv', bytes),
      outcome,
    })),
  ],
  XLSX: XLSX_EDITS.map((edit) => ({
    name: edit[0],
    run: () => scheduleOutcome('s.xlsx', bookWith(edit)),
    outcome: edit[4],
  })),
  project: PROJECT_CASES.map(([name, text, outcome]) => ({
    name,
    run: () => projectOutcome(utf8(text)),
    outcome,
  })),
  range: RANGE_CASES.map(([name, text, outcome]) => ({
    name,
    run: () => rangeOutcome(utf8(text)),
    outcome,
  })),
  BCF: BCF_CASES.map(([name, bytes, outcome]) => ({ name, run: () => bcfOutcome(bytes), outcome })),
  IDS: IDS_CASES.map(([name, text, outcome]) => ({
    name,
    run: () => idsOutcome(utf8(text), utf8(IDS_MODEL)),
    outcome,
  })),
  register: REGISTER_CASES.map(([name, from, to, end, outcome]) => ({
    name,
    run: async () => {
      const text = changed(await register, [name, from, to, outcome]);
      return registerOutcome(toBytes(end === 'as is' ? text : signed(text)));
    },
    outcome,
  })),
};

describe.each(Object.entries(CORPUS))('%s', (_, entries) => {
  test.each(entries.map((entry) => [entry.name, entry] as const))(
    '%s',
    async (_name, entry) => {
      expect(await entry.run()).toBe(entry.outcome);
    },
    30_000,
  );
});

test('the corpus holds at least 300 cases, each once', () => {
  const counts = Object.entries(CORPUS).map(([format, entries]) => [format, entries.length]);
  const names = Object.entries(CORPUS).flatMap(([format, entries]) =>
    entries.map(({ name }) => `${format}: ${name}`),
  );
  process.stdout.write(
    `Bad-input corpus: ${names.length} cases (${counts.map((each) => each.join(' ')).join(', ')})\n`,
  );
  expect(new Set(names).size).toBe(names.length);
  expect(names.length).toBeGreaterThanOrEqual(300);
});
