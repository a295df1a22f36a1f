import { expect, test } from 'vitest';
import { Settings } from '../../../../src/model/settings.ts';
import { dxfTagEdits } from '../../../../src/write/dxf-tags/dxf-tag-edits.ts';
import { fileFrame } from '../../../../src/write/ifc-tags/file-frame.ts';
import { ifcTagEdits } from '../../../../src/write/ifc-tags/ifc-tag-edits.ts';
import { makeIssue } from '../../../makers/issue/make-issue.ts';

const issue = makeIssue();

test('each penetration with a part in the model has one edit, in order of tag', () => {
  const edits = ifcTagEdits(issue, 'arch');
  expect(edits.map(({ tag }) => tag)).toEqual([...issue.tags.values()].slice(0, edits.length));
  expect(edits.length).toBeGreaterThan(2);
  for (const edit of edits) {
    const penetration = issue.penetrations.find(({ id }) => issue.tags.get(id) === edit.tag);
    expect(edit.openingIds).toEqual(
      penetration?.openings.filter(({ ref }) => ref.fileKey === 'arch').map(({ ref }) => ref.id),
    );
    expect(edit.fields.find(({ name }) => name === 'Tag')?.value).toEqual({
      kind: 'identifier',
      text: edit.tag,
    });
    // Names in the manner of the standard, none of its own prefixes.
    for (const { name } of edit.fields) expect(name).toMatch(/^[A-Z][A-Za-z]+$/);
  }
});

test('a file of services gets services only, a drawing and an unknown file nothing', () => {
  const edits = ifcTagEdits(issue, 'services');
  expect(edits.every(({ openingIds, hostIds }) => openingIds.length + hostIds.length === 0)).toBe(
    true,
  );
  expect(edits.some(({ serviceIds }) => serviceIds.length > 0)).toBe(true);
  expect(ifcTagEdits(issue, 'plan')).toEqual([]);
  expect(ifcTagEdits(issue, 'nowhere')).toEqual([]);
});

test('results are worded within the evidence', () => {
  const words = JSON.stringify([
    ifcTagEdits(issue, 'arch'),
    dxfTagEdits(issue, 'arch'),
  ]).toLowerCase();
  expect(words).not.toMatch(/compli|\bsafe\b/);
  expect(words).toContain('not a certificate');
});

test('open queries of a penetration count, notes do not', () => {
  const byTag = new Map(ifcTagEdits(issue, 'arch').map((edit) => [edit.tag, edit]));
  const asked = issue.queries.filter(({ severity }) => severity !== 'note');
  for (const [id, tag] of issue.tags) {
    const edit = byTag.get(tag);
    if (edit === undefined) continue;
    expect(edit.fields.find(({ name }) => name === 'OpenQueries')?.value).toEqual({
      kind: 'count',
      value: asked.filter(({ penetrationId }) => penetrationId === id).length,
    });
  }
});

test('the frame of a model follows from the project file', () => {
  const settings = Settings.parse({
    files: {
      plan: { path: 'p.dxf', kind: 'dxf' },
      arch: { path: 'a.ifc', kind: 'ifc' },
      mep: { path: 'm.ifc', kind: 'ifc', moveMm: [1, 2, 3], turnDeg: 90 },
    },
  });
  expect(fileFrame(settings, 'arch')).toEqual({ originMm: [0, 0, 0], turnRad: 0, isLead: true });
  expect(fileFrame(settings, 'mep')).toEqual({
    originMm: [1, 2, 3],
    turnRad: Math.PI / 2,
    isLead: false,
  });
  expect(fileFrame(settings, 'plan')).toBeNull();
});
