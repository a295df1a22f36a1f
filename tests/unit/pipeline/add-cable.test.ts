import { describe, expect, test } from 'vitest';
import { sizeOne } from '../../../src/design/size-one.ts';
import type { Register } from '../../../src/model/register.ts';
import { Settings } from '../../../src/model/settings.ts';
import { askForCable, recordCable } from '../../../src/pipeline/add-cable.ts';
import { makeRange } from '../../makers/seal/make-range.ts';

const range = makeRange([310]);
const { design } = Settings.parse({});
const plain = sizeOne({
  opening: { type: 'circle', diameterMm: 150 },
  bodies: [{ ref: 'C1', outline: { type: 'circle', diameterMm: 37 } }],
  range,
  design,
});
const seal = { ...plain, id: 'p/annulus', penetrationId: 'p' };

/** A register with one seal and what the site recorded of it. */
function register(fields: object | null): Register {
  const record = {
    tag: 'T-1',
    state: 'live',
    id: 'p',
    issued: { revision: 'A', facts: { thicknessMm: 300 } },
    seals: [seal],
    asBuilt: fields === null ? {} : { annulus: { fields, revision: 'A', from: 'test' } },
    history: [],
  };
  return { revision: 'A', basis: { range, design }, records: [record] } as unknown as Register;
}

const built = {
  sealed: 'yes',
  asDrawn: 'Yes',
  depthNearMm: '25,0',
  openingMm: '151',
  inspected: 'passed',
};
const request = { tag: 'T-1', ref: 'NEW', diameterMm: 12 };
const ask = (fields: object | null) => askForCable(register(fields), request).ways[0]?.answer;

describe('the site record', () => {
  test('complete: nothing is unverified, the measured depth counts', () => {
    const answer = ask(built);
    expect(answer?.way).toBe('spare tube');
    expect(answer?.unverified).toEqual([]);
    // π/4 · (17² − 12²) · 25 mm
    expect(answer?.refill?.netMl).toBeCloseTo(2.84707, 4);
  });
  test('nobody recorded anything: the answer says what it leans on', () => {
    expect(ask(null)?.unverified).toHaveLength(4);
  });
  test.each([
    ['cables not as drawn', { asDrawn: 'no' }],
    ['tubes not set', { asDrawn: '', cablesApart: 'yes', fillersNear: 'no' }],
    ['not sealed yet', { sealed: 'no' }],
    ['another opening', { openingMm: '140' }],
    ['an open defect', { inspected: 'to be put right', defects: 'void at the top' }],
  ])('%s: refused', (_what, fields) => {
    expect(ask({ ...built, ...fields })?.way).toBe('refused');
  });
  test('a mended defect is none', () => {
    expect(ask({ ...built, defects: 'void at the top' })?.way).toBe('spare tube');
  });
});

describe('recording', () => {
  test('keeps the seal with the cable in it and says in its history how and on what trust', () => {
    const before = register(null);
    const after = recordCable(before, request, askForCable(before, request));
    const [record] = after.records;
    expect(record?.seals[0]?.bodies.map(({ ref }) => ref)).toEqual(['C1', 'NEW']);
    expect(record?.history[0]?.text).toMatch(/cable NEW, 12 mm.*tube 25.*unverified/);
    // Asked again, the tube that was taken is spare no more.
    const again = askForCable(after, { ...request, ref: 'NEXT' }).ways[0]?.answer;
    expect(again?.spareBefore?.emptyTubes).toBe((seal.spare?.emptyTubes ?? 0) - 1);
  });
  test('what is refused is not recorded', () => {
    const before = register({ ...built, sealed: 'no' });
    expect(() => recordCable(before, request, askForCable(before, request))).toThrow(
      'nothing was recorded',
    );
  });
});
