import path from 'node:path';
import { expect, test } from 'vitest';
import { loadProject } from '../../src/cli/load-project.ts';
import { nodePlatform } from '../../src/cli/node-platform.ts';
import type { Decision } from '../../src/model/decision.ts';
import { openRange } from '../../src/pipeline/open-project.ts';
import { type RunOutput, runProject } from '../../src/pipeline/run-project.ts';
import { repoRoot } from '../set-up/outside.ts';

/** Runs the pumping station on the register of the run before, with answers; no pictures are made. */
async function run(before: RunOutput | null, decisions: readonly Decision[]): Promise<RunOutput> {
  const folder = path.join(repoRoot, 'samples/pumping-station/project.yaml');
  const project = await loadProject([folder], null, false);
  const off = { workbook: false, sealPages: false, taggedModels: false, taggedDrawings: false };
  return runProject(
    {
      settings: {
        ...project.settings,
        outputs: { ...project.settings.outputs, ...off, bcf: false },
      },
      assumptions: project.assumptions,
      range: openRange(project.rangeFile).range,
      files: project.files,
      register: before && { key: 'register', name: 'register.jsonl', bytes: before.register },
      decisions,
    },
    nodePlatform(null),
  );
}

function answer(subject: string, value: string): Decision {
  return {
    ...{ about: 'query', subject, field: 'answer', tag: null, value, against: null },
    ...{ revision: 'A', from: 'workbook, Queries' },
  };
}

test('answers to queries about cables place them, and hold in the run after', async () => {
  const first = await run(null, []);
  const outcomeOf = ({ issue }: RunOutput, ref: string) =>
    issue.matches.outcomes.find(({ cableId }) => cableId === `cables:Power:${ref}`)?.outcome;
  expect(outcomeOf(first, 'SP-08')).toBe('queried');
  expect(outcomeOf(first, 'SP-07')).toBe('queried');
  const lookAlike = first.result.queries.find(({ id }) => id.endsWith(':cables:Power:SP-08'));
  const tag = lookAlike?.candidates?.[0]?.tag ?? '';
  expect(tag).not.toBe('');
  const diameter = 'cable-diameter-unknown:cables:Control and data:LIT-2';

  const second = await run(first, [
    answer(lookAlike?.id ?? '', `passes ${tag}`),
    answer('cable-no-penetration:cables:Power:SP-07', 'nothing'),
    answer(diameter, '9,5 mm'),
  ]);
  const third = await run(second, []);
  for (const output of [second, third]) {
    const { result } = output;
    expect(outcomeOf(output, 'SP-08')).toBe('matched');
    const holding = result.penetrations.filter(({ cables }) =>
      cables.some(({ ref }) => ref === 'SP-08'),
    );
    expect(holding.map((each) => each.tag)).toEqual([tag]);
    expect(outcomeOf(output, 'SP-07')).toBe('noPenetration');
    expect(result.queries.map(({ id }) => id)).not.toContain(diameter);
    expect(result.queries.filter(({ code }) => code === 'decision-unusable')).toEqual([]);
  }
  // The seals that waited for that diameter are designed now.
  const waiting = (output: RunOutput) =>
    output.issue.seals.filter(({ reason }) => reason?.includes('LIT-2')).length;
  expect([waiting(first), waiting(third)]).toEqual([2, 0]);
}, 300_000);
