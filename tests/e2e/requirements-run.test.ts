import { readFileSync } from 'node:fs';
import path from 'node:path';
import { expect, test } from 'vitest';
import { loadProject } from '../../src/cli/load-project.ts';
import { nodePlatform } from '../../src/cli/node-platform.ts';
import { openRange } from '../../src/pipeline/open-project.ts';
import { runProject } from '../../src/pipeline/run-project.ts';
import { repoRoot } from '../set-up/outside.ts';

/** Every wall bears a fire rating; IDS 1.0, written by hand. */
const IDS = `<?xml version="1.0" encoding="UTF-8"?>
<ids xmlns="http://standards.buildingsmart.org/IDS" xmlns:xs="http://www.w3.org/2001/XMLSchema">
  <info><title>Ratings</title></info>
  <specifications>
    <specification name="Walls are rated" ifcVersion="IFC4 IFC2X3 IFC4X3_ADD2">
      <applicability minOccurs="0" maxOccurs="unbounded">
        <entity><name><simpleValue>IFCWALL</simpleValue></name></entity>
      </applicability>
      <requirements>
        <property dataType="IFCLABEL" cardinality="required">
          <propertySet><simpleValue>Pset_WallCommon</simpleValue></propertySet>
          <baseName><simpleValue>FireRating</simpleValue></baseName>
        </property>
      </requirements>
    </specification>
  </specifications>
</ids>`;

test('a run checks its models against the IDS files of the project and our own', async () => {
  const project = await loadProject(
    [path.join(repoRoot, 'samples/valve-chamber/project.yaml')],
    null,
    false,
  );
  const models = project.files.filter(({ key }) => project.settings.files[key]?.kind === 'ifc');
  const outputs = { ...project.settings.outputs, taggedModels: false, bcf: false, tables: true };
  const { issue, result, files } = await runProject(
    {
      settings: {
        ...project.settings,
        outputs,
        requirements: { own: true },
        files: { ...project.settings.files, ratings: { path: 'ratings.ids', kind: 'ids' } },
      },
      assumptions: [],
      range: openRange(project.rangeFile).range,
      files: [
        ...project.files,
        { key: 'ratings', name: 'ratings.ids', bytes: new TextEncoder().encode(IDS) },
      ],
    },
    nodePlatform(null),
  );
  expect(result.requirements).toHaveLength(2 * models.length);
  for (const { key, name } of models) {
    const report = result.requirements?.find(
      (each) => each.model === name && each.requirements === 'ratings.ids',
    );
    // A second way: IFCWALL records in its text; IDS names classes exactly.
    const file = project.settings.files[key]?.path ?? '';
    const text = readFileSync(path.join(repoRoot, 'samples/valve-chamber', file), 'utf8');
    const walls = [...text.matchAll(/=\s*IFCWALL\(/g)].length;
    const own = issue.requirements?.find(
      ({ modelKey, requirements }) => modelKey === key && requirements === 'ratings.ids',
    );
    expect(own?.report.specifications[0]?.applicable).toBe(walls);
    const isMet = report?.verdict === 'pass';
    const query = result.queries.find(
      ({ id }) => id === `requirement-not-met:${key}/ratings.ids/Walls are rated`,
    );
    expect(query === undefined).toBe(isMet);
  }
  expect(result.inputs.some(({ kind }) => kind === 'requirements')).toBe(true);
  const csv = files.find(({ name }) => name === 'requirements.csv');
  expect(new TextDecoder().decode(csv?.bytes)).toContain('Walls are rated');
}, 120_000);
