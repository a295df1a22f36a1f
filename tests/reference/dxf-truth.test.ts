import { execFileSync } from 'node:child_process';
import { mkdtempSync, readFileSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import path from 'node:path';
import { afterAll, describe, expect } from 'vitest';
import { findInDrawings } from '../../src/find/drawings/find-in-drawings.ts';
import type { Findings } from '../../src/model/penetration.ts';
import { Settings } from '../../src/model/settings.ts';
import { readDxf } from '../../src/read/dxf/read-dxf.ts';
import { differences, type ExpectedPenetration } from '../makers/dxf/compare-truth.ts';
import { hasOutside, PYTHON, repoRoot, testWith } from '../set-up/outside.ts';

// Truth drawings: written by ezdxf, an independent library, from dimensions in the script; what a
// person reading them would list stands beside each.

interface TruthCase {
  readonly version: string;
  readonly settings: {
    readonly file?: object;
    readonly hosts?: object;
    readonly services?: object;
    readonly find?: object;
  };
  readonly expected: readonly ExpectedPenetration[];
  /** Not found rightly yet. */
  readonly isGap: boolean;
}

const folder = mkdtempSync(path.join(tmpdir(), 'sealbook-truth-'));
afterAll(() => rmSync(folder, { recursive: true, force: true }));

function makeTruth(): Record<string, TruthCase> {
  if (!hasOutside('ezdxf')) return {};
  execFileSync(PYTHON, [path.join(repoRoot, 'tests/makers/dxf/truth_drawings.py'), folder]);
  return JSON.parse(readFileSync(path.join(folder, 'truth.json'), 'utf8'));
}

function find(name: string, { settings }: TruthCase): Findings {
  const parsed = Settings.parse({
    ...(settings.hosts ? { hosts: settings.hosts } : {}),
    ...(settings.services ? { services: settings.services } : {}),
    ...(settings.find ? { find: settings.find } : {}),
  });
  const bytes = new Uint8Array(readFileSync(path.join(folder, `${name}.dxf`)));
  const { result } = readDxf({ key: 'plan', name, bytes }, settings.file ?? {}, parsed);
  return findInDrawings([result.drawing], parsed).result;
}

describe('truth drawings: every penetration, nothing else', () => {
  const truth = makeTruth();
  for (const [name, each] of Object.entries(truth)) {
    if (each.isGap) {
      // Once it is found rightly this fails, and the case joins the others.
      testWith(['ezdxf'], `KNOWN GAP, still wrong: ${name} (${each.version})`, () => {
        expect(differences(each.expected, find(name, each))).not.toEqual([]);
      });
      continue;
    }
    testWith(['ezdxf'], `${name} (${each.version})`, () => {
      expect(differences(each.expected, find(name, each))).toEqual([]);
    });
  }
  testWith(['ezdxf'], 'the script makes them', () => {
    expect(Object.keys(truth).length).toBeGreaterThan(50);
  });
});
