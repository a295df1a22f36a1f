import { existsSync, readdirSync, readFileSync } from 'node:fs';
import path from 'node:path';
import { expect } from 'vitest';
import { checkIds } from '../../src/read/ids/check-ids.ts';
import { readIds } from '../../src/read/ids/read-ids.ts';
import { sharedPath, testWith } from '../set-up/outside.ts';

// buildingSMART IDS 1.0, Documentation/testcases at 7171c00: the file name's prefix is the verdict.
testWith(['shared'], 'every published IDS case gives the published verdict', () => {
  const root = sharedPath('schemas', 'ids', 'cases');
  const counts = { pass: 0, fail: 0, invalid: 0 };
  const wrong: string[] = [];
  for (const [facet, name] of publishedCases(root)) {
    const idsPath = path.join(root, facet, `${name}.ids`);
    const ifcPath = path.join(root, facet, `${name}.ifc`);
    expect(existsSync(ifcPath), ifcPath).toBe(true);
    const { result: ids } = readIds({ key: 'ids', name, bytes: readFileSync(idsPath) });
    const { verdict } = checkIds(ids, readFileSync(ifcPath));
    const expected = name.slice(0, name.indexOf('-'));
    if (verdict === expected) counts[verdict] += 1;
    else wrong.push(`${facet}/${name}: ${verdict}`);
  }
  const total = counts.pass + counts.fail + counts.invalid;
  process.stdout.write(
    `IDS cases with the published verdict: ${total} of ${total + wrong.length} ` +
      `(${counts.pass} pass, ${counts.fail} fail, ${counts.invalid} invalid)\n`,
  );
  expect(wrong).toEqual([]);
  expect(total).toBeGreaterThanOrEqual(210);
});

function publishedCases(root: string): [string, string][] {
  return readdirSync(root, { withFileTypes: true })
    .filter((entry) => entry.isDirectory())
    .flatMap(({ name: facet }) =>
      readdirSync(path.join(root, facet))
        .filter((file) => file.endsWith('.ids'))
        .map((file): [string, string] => [facet, file.slice(0, -'.ids'.length)]),
    );
}
