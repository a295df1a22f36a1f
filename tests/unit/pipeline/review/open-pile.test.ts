import { expect, test } from 'vitest';
import { openPile } from '../../../../src/pipeline/review/open-pile.ts';
import { droppedSample } from '../../../e2e/page/open-sample.ts';

const text = (name: string, content: string) => ({
  name,
  bytes: new TextEncoder().encode(content),
});

test('a project file rules the pile, whatever the order, and a range is known by its sealants', () => {
  const files = droppedSample();
  for (const dropped of [files, [...files].reverse()]) {
    const pile = openPile(dropped);
    expect(pile.settings.project.name).toContain('Reedholm');
    expect(pile.files.map(({ key }) => key).sort()).toEqual([
      'arch',
      'cables',
      'pit',
      'plan',
      'serv',
    ]);
    expect(pile.missing).toEqual([]);
    expect(pile.range.sealants[0]?.name).toBe('Sealant S');
  }
});

test('what the project names and nobody dropped is missing, not forgotten', () => {
  const pile = openPile(droppedSample().filter(({ name }) => name !== 'plan.dxf'));
  expect(pile.missing?.map(({ key, error }) => [key, error.code])).toEqual([
    ['plan', 'input-missing'],
  ]);
});

test('without a project the kinds are guessed, and the sample range is said to stand in', () => {
  const pile = openPile([text('plan.dxf', ''), text('cables.csv', '')]);
  expect(Object.values(pile.settings.files).map(({ kind }) => kind)).toEqual(['dxf', 'schedule']);
  expect(
    pile.assumptions.some(({ path, source }) => path === 'range' && /SAMPLE/.test(source)),
  ).toBe(true);
});

test('paths of a project file are used by their last part, and nothing else is read', () => {
  const project = text('project.yaml', 'files:\n  a: {path: ../../etc/plan.dxf, kind: dxf}\n');
  const pile = openPile([project, text('plan.dxf', 'x'), text('register.jsonl', '{}')]);
  expect(pile.files.map(({ name }) => name)).toEqual(['plan.dxf']);
  expect(pile.register?.name).toBe('register.jsonl');
});
