import { execFileSync } from 'node:child_process';
import { mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import path from 'node:path';
import { expect, test } from 'vitest';
import { checkIds } from '../../src/read/ids/check-ids.ts';
import { MODEL_READY_IDS } from '../../src/read/ids/model-ready-ids.ts';
import { readIds } from '../../src/read/ids/read-ids.ts';
import { sharedPath, testWith } from '../set-up/outside.ts';

const bytes = new TextEncoder().encode(MODEL_READY_IDS);

// buildingSMART IDS 1.0, ids.xsd, with the catalog of stand-ins for the W3C schemas it imports.
testWith(
  ['shared', 'xmllint'],
  'our requirements are valid IDS 1.0 by the published schema',
  () => {
    const folder = mkdtempSync(path.join(tmpdir(), 'sealbook-ids-'));
    try {
      const file = path.join(folder, 'ready.ids');
      writeFileSync(file, bytes);
      const schemas = sharedPath('schemas', 'ids');
      execFileSync(
        'xmllint',
        ['--noout', '--nonet', '--schema', path.join(schemas, 'ids.xsd'), file],
        {
          env: { ...process.env, XML_CATALOG_FILES: path.join(schemas, 'offline', 'catalog.xml') },
          stdio: 'pipe',
        },
      );
    } finally {
      rmSync(folder, { recursive: true });
    }
  },
);

test('our requirements raise no query of their own', () => {
  expect(readIds({ key: 'ready', name: 'ready.ids', bytes }).queries).toEqual([]);
});

testWith(['shared'], 'our requirements tell a rated wall from an unrated one', () => {
  const { result: ids } = readIds({ key: 'ready', name: 'ready.ids', bytes });
  const report = checkIds(
    ids,
    readFileSync(sharedPath('samples', 'ifc', 'duplex-architecture.ifc')),
  );
  const walls = report.specifications.find(({ identifier }) => identifier === 'hosts-rated');
  // Counted in the file with grep: 57 IFCWALLSTANDARDCASE and IFCWALL records.
  expect(walls?.applicable).toBe(57);
  const placed = report.specifications.find(({ identifier }) => identifier === 'hosts-placed');
  expect(placed?.verdict).toBe('pass');
});
