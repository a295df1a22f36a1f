import { execFileSync } from 'node:child_process';
import { mkdtempSync, readdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import path from 'node:path';
import { afterAll, describe, expect, test } from 'vitest';
import type { Drawing } from '../../src/model/drawing.ts';
import { Settings } from '../../src/model/settings.ts';
import { readDxf } from '../../src/read/dxf/read-dxf.ts';
import { tagDxf, untagDxf } from '../../src/write/dxf-tags/tag-dxf.ts';
import { sampleDxfEdits } from '../makers/tags/sample-dxf-edits.ts';
import { hasOutside, PYTHON, sharedPath, testWith } from '../set-up/outside.ts';

const folder = sharedPath('samples', 'dxf');
const samples = hasOutside('shared')
  ? readdirSync(folder).filter((name) => name.endsWith('.dxf'))
  : [];
// SAMPLES.tsv: two are binary on purpose, two are fragments without tables.
const BINARY = samples.filter((name) => name.includes('binary'));
const FRAGMENTS = ['no-header-lines-text.dxf', 'schematic-wires-r12.dxf'];
// ezdxf 0.18 itself can't load these two, tagged or not: a fragment, and handles that are no numbers.
const NOT_FOR_EZDXF = ['no-header-lines-text.dxf', 'nested-insert-layers-ac1015.dxf'];
const read = (name: string) => new Uint8Array(readFileSync(path.join(folder, name)));
const settings = Settings.parse({});
const work = mkdtempSync(path.join(tmpdir(), 'sealbook-dxf-'));
afterAll(() => rmSync(work, { recursive: true }));

function drawingOf(name: string): Drawing {
  const file = { key: 'plan', name, bytes: read(name) };
  return readDxf(file, { path: name, kind: 'dxf' }, settings).result.drawing;
}

testWith(['shared'], 'there are samples to tag', () => {
  expect(samples.length).toBeGreaterThanOrEqual(20);
  expect(BINARY.length).toBe(2);
});

describe.each(samples.filter((name) => !BINARY.includes(name)))('%s', (name) => {
  const source = read(name);
  const drawing = drawingOf(name);
  const edits = sampleDxfEdits(drawing);
  const tagged = tagDxf(source, edits, { drawing });
  const isFragment = FRAGMENTS.includes(name);

  test('it is tagged whole, or refused with the reason and left alone', () => {
    if (isFragment) {
      expect(tagged.refused[0]).toMatchObject({ tag: null, id: null });
      expect(tagged.refused[0]?.reason).toMatch(/fragment/);
      expect(Buffer.compare(tagged.result, source)).toBe(0);
    } else {
      expect(tagged.written).toEqual(edits.map(({ tag }) => tag));
      expect(tagged.refused).toEqual([]);
    }
  });

  test('tagging again changes nothing, untagging gives the former bytes', () => {
    expect(Buffer.compare(tagDxf(tagged.result, edits, { drawing }).result, tagged.result)).toBe(0);
    expect(Buffer.compare(untagDxf(tagged.result), source)).toBe(0);
    expect(Buffer.compare(untagDxf(source), source)).toBe(0);
    const fewer = edits.slice(1);
    expect(
      Buffer.compare(
        tagDxf(tagged.result, fewer, { drawing }).result,
        tagDxf(source, fewer, { drawing }).result,
      ),
    ).toBe(0);
  });

  test('our own reader finds the tags, and the former content unchanged', () => {
    if (isFragment) return;
    const file = { key: 'plan', name, bytes: tagged.result };
    const again = readDxf(file, { path: name, kind: 'dxf' }, settings).result.drawing;
    const symbols = again.symbols.filter(({ blockName }) => blockName === 'SEALBOOK_TAG');
    expect(
      symbols.map(({ attributes }) => attributes.find((each) => each.tag === 'TAG')?.text),
    ).toEqual(edits.map(({ tag }) => tag));
    const former = again.entities.filter(({ layer }) => layer !== 'SEALBOOK-TAGS');
    expect(former.length).toBe(drawing.entities.length);
  });

  if (!NOT_FOR_EZDXF.includes(name)) {
    testWith(['ezdxf'], 'ezdxf reads the tags, and its audit finds nothing new', () => {
      const before = path.join(work, `before-${name}`);
      const after = path.join(work, `after-${name}`);
      writeFileSync(before, source);
      writeFileSync(after, tagged.result);
      const [was, is] = [audit(before), audit(after)];
      expect(is.errors).toEqual(was.errors);
      expect(is.fixes).toEqual(was.fixes);
      expect(is.others).toBe(was.others);
      expect(is.tags).toEqual(isFragment ? [] : edits.map(({ tag }) => tag));
      if (is.tags.length > 0) {
        expect(is.visible).toEqual(['TAG']);
        expect(is.layer).toBe(true);
      }
    });
  }
});

describe.each(BINARY)('%s', (name) => {
  test('a binary drawing is refused and left alone', () => {
    const source = read(name);
    const drawing = drawingOf(samples.find((each) => each.includes('pavilion')) ?? '');
    const { result, refused } = tagDxf(source, sampleDxfEdits(drawing), { drawing });
    expect(Buffer.compare(result, source)).toBe(0);
    expect(refused[0]?.reason).toMatch(/binary/);
    expect(() => untagDxf(source)).toThrow(/binary/);
  });
});

// Handles that ezdxf itself gives out shift with ours: they are left out of the messages.
const AUDIT = `
import ezdxf, json, re, sys
def layer(e):
  # Entities that ezdxf only stores have no attributes.
  return e.dxf.get('layer', '0') if e.dxf.is_supported('layer') else '0'
doc = ezdxf.readfile(sys.argv[1])
auditor = doc.audit()
space = doc.modelspace()
ours = [e for e in space.query('INSERT') if e.dxf.name == 'SEALBOOK_TAG']
values = [[a.dxf.tag, a.dxf.text, a.is_invisible] for a in (ours[0].attribs if ours else [])]
print(json.dumps({
  'errors': [re.sub('#[0-9A-F]+', '#', e.message) for e in auditor.errors],
  'fixes': [re.sub('#[0-9A-F]+', '#', e.message) for e in auditor.fixes],
  'others': len([e for e in space if layer(e) != 'SEALBOOK-TAGS']),
  'tags': [a.dxf.text for e in ours for a in e.attribs if a.dxf.tag == 'TAG'],
  'visible': [v[0] for v in values if not v[2]],
  'layer': 'SEALBOOK-TAGS' in doc.layers,
}))
`;

interface Audit {
  readonly errors: readonly string[];
  readonly fixes: readonly string[];
  readonly others: number;
  readonly tags: readonly string[];
  readonly visible: readonly string[];
  readonly layer: boolean;
}

function audit(file: string): Audit {
  const printed = execFileSync(PYTHON, ['-c', AUDIT, file], {
    stdio: ['ignore', 'pipe', 'ignore'],
  });
  return JSON.parse(printed.toString()) as Audit;
}
