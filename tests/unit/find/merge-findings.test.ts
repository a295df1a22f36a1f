import { describe, expect, test } from 'vitest';
import { makeQuery } from '../../../src/basics/query.ts';
import type { QueryCode } from '../../../src/basics/query-codes.ts';
import { mergeFindings } from '../../../src/find/merge-findings.ts';
import { queriesOfMerged } from '../../../src/find/merged-queries.ts';
import type { Findings, Penetration } from '../../../src/model/penetration.ts';
import { Settings } from '../../../src/model/settings.ts';
import { makeCrossing } from '../../makers/issue/make-penetration.ts';

const placed = Settings.parse({
  files: {
    plan: {
      path: 'p.dxf',
      kind: 'dxf',
      views: [{ view: 'plan', basePoint: [0, 0], atMm: [0, 0, 0] }],
    },
    loose: { path: 'l.dxf', kind: 'dxf' },
  },
});

const penetration = (
  fileKey: string,
  id: string,
  originMm: readonly [number, number, number],
  more: Partial<Penetration> = {},
): Penetration => ({
  id: `${fileKey}:w/${fileKey}:${id}`,
  kind: 'unopened',
  frame: { originMm, axis: [0, 1, 0], right: [1, 0, 0], up: [0, 0, 1] },
  hosts: [
    {
      id: `${fileKey}:w`,
      ref: { fileKey, id: 'w' },
      kind: 'wall',
      name: 'wall',
      thicknessMm: 200,
      material: null,
      fireRating: null,
      isExternal: null,
      isLoadBearing: null,
    },
  ],
  thicknessMm: 200,
  openings: [],
  crossings: [],
  shape: { type: 'circle', diameterMm: 150 },
  where: {
    level: null,
    levelElevationMm: 0,
    heightAboveLevelMm: null,
    grid: null,
    spaces: { near: null, far: null },
    outside: null,
  },
  references: [],
  evidence: [{ fact: 'seen', text: id, place: { fileKey } }],
  ...more,
});

const findings = (...penetrations: Penetration[]): Findings => ({
  penetrations,
  ledger: {
    services: penetrations.map(({ id }) => ({
      id: `service of ${id}`,
      ref: { fileKey: 'x', id },
      name: '',
      outcome: 'through' as const,
      reason: null,
      penetrationIds: [id],
    })),
    openings: [],
  },
});

const merge = (models: Penetration[], drawings: Penetration[]) =>
  mergeFindings(findings(...models), findings(...drawings), placed);
const plan = { drawnIn: 'plan' as const };
const named = (text: string) => ({
  references: [{ text, evidence: { fact: 'reference', text, place: { fileKey: 'x' } } }],
});

describe('a model and a plan in its frame', () => {
  test('the same hole once: the model stays, with the evidence of both', () => {
    const { result, queries } = merge(
      [penetration('arch', 'a', [1000, 100, 2400])],
      [penetration('plan', 'b', [1020, 100, 0], { ...plan, ...named('D-01') })],
    );
    expect(result.penetrations).toHaveLength(1);
    const [one] = result.penetrations;
    expect(one?.frame.originMm).toEqual([1000, 100, 2400]);
    expect(one?.evidence.map(({ text }) => text)).toEqual(['a', 'b']);
    expect(one?.references.map(({ text }) => text)).toEqual(['D-01']);
    expect(queries).toEqual([]);
  });

  test('the ledger of each side is kept and points to what stays', () => {
    const { ledger, penetrations } = merge(
      [penetration('arch', 'a', [1000, 100, 2400])],
      [
        penetration('plan', 'b', [1020, 100, 0], plan),
        penetration('plan', 'c', [5000, 100, 0], plan),
      ],
    ).result;
    expect(ledger.services).toHaveLength(3);
    const ids = new Set(penetrations.map(({ id }) => id));
    expect(ids.size).toBe(2);
    for (const entry of ledger.services) expect(ids.has(entry.penetrationIds[0] ?? '')).toBe(true);
  });

  test('another size is a question', () => {
    const { result, queries } = merge(
      [penetration('arch', 'a', [1000, 100, 2400])],
      [
        penetration('plan', 'b', [1000, 100, 0], {
          ...plan,
          shape: { type: 'circle', diameterMm: 200 },
        }),
      ],
    );
    expect(result.penetrations).toHaveLength(1);
    expect(queries.map(({ code }) => code)).toEqual(['size-conflict']);
  });

  test('an opening in the model and only its service in the plan do not conflict', () => {
    const duct = (diameterMm: number) => ({
      crossings: [makeCrossing('d', { section: { type: 'circle', diameterMm } })],
    });
    const conflicts = (drawnMm: number) =>
      merge(
        [
          penetration('arch', 'a', [1000, 100, 2400], {
            ...duct(110),
            shape: { type: 'circle', diameterMm: 400 },
          }),
        ],
        [penetration('plan', 'b', [1000, 100, 0], { ...plan, ...duct(drawnMm), shape: null })],
      ).queries.map(({ code }) => code);
    expect(conflicts(110)).toEqual([]);
    expect(conflicts(50)).toEqual(['size-conflict']);
  });

  test('what one view asks and the other shows is asked no more, the rest is asked of the whole hole', () => {
    const model = penetration('arch', 'a', [1000, 100, 2400]);
    const drawn = penetration('plan', 'b', [1000, 100, 0], { ...plan, shape: null });
    const merged = mergeFindings(findings(model), findings(drawn), placed);
    const ask = (code: QueryCode) =>
      makeQuery(code, { about: code, penetrationId: drawn.id, text: '', why: '', settles: '' });
    const left = queriesOfMerged(
      [ask('service-without-opening'), ask('host-thickness-unknown'), ask('service-near-edge')],
      merged,
    );
    expect(left.map(({ code, penetrationId }) => [code, penetrationId])).toEqual([
      ['service-near-edge', model.id],
    ]);
  });

  test('a reference in common is stronger than nearness', () => {
    const { result } = merge(
      [
        penetration('arch', 'a', [1000, 100, 2400]),
        penetration('arch', 'b', [1060, 100, 2400], named('D-02')),
      ],
      [penetration('plan', 'c', [1000, 100, 0], { ...plan, ...named('d 02') })],
    );
    const kept = result.penetrations.find(({ id }) => id.includes('arch:b'));
    expect(kept?.evidence.map(({ text }) => text)).toEqual(['b', 'c']);
  });

  test('two that lie as near are left apart with a question', () => {
    const { result, queries } = merge(
      [penetration('arch', 'a', [1000, 100, 500]), penetration('arch', 'b', [1000, 100, 2400])],
      [penetration('plan', 'c', [1000, 100, 0], plan)],
    );
    expect(result.penetrations).toHaveLength(3);
    expect(queries.map(({ code }) => code)).toEqual(['duplicate-element']);
  });

  test.each([
    ['another place', [1400, 100, 0], {}],
    [
      'another storey',
      [1000, 100, 9000],
      { where: { ...penetration('x', 'x', [0, 0, 0]).where, levelElevationMm: 9000 } },
    ],
    [
      'another way through',
      [1000, 100, 0],
      { frame: { originMm: [1000, 100, 0], axis: [1, 0, 0], right: [0, -1, 0], up: [0, 0, 1] } },
    ],
  ] as const)('%s is another hole', (_, at, more) => {
    const { result } = merge(
      [penetration('arch', 'a', [1000, 100, 2400])],
      [penetration('plan', 'b', at, { ...plan, ...more } as Partial<Penetration>)],
    );
    expect(result.penetrations).toHaveLength(2);
  });

  test('a drawing without a base point takes no part', () => {
    const { result } = merge(
      [penetration('arch', 'a', [1000, 100, 2400])],
      [penetration('loose', 'b', [1000, 100, 0], plan)],
    );
    expect(result.penetrations).toHaveLength(2);
  });
});
