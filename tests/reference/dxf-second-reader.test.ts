import { execFileSync } from 'node:child_process';
import { mkdtempSync, readdirSync, readFileSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import path from 'node:path';
import { afterAll, describe, expect } from 'vitest';
import type { DxfDocument } from '../../src/formats/dxf/dxf-entity.ts';
import { parseDxf } from '../../src/formats/dxf/parse-dxf.ts';
import { pieceEnd, pieceStart } from '../../src/geometry/plane-curve.ts';
import { type FlatDrawing, flattenDrawing } from '../../src/read/dxf/flatten-drawing.ts';
import { hasOutside, PYTHON, repoRoot, sharedPath, testWith } from '../set-up/outside.ts';

// ezdxf as second reader of all public samples and all truth drawings: every entity counted by type
// and layer, and coordinates of nested blocks and mirrored planes within 1e-6 of each other.

interface SecondReading {
  readonly entities: Readonly<Record<string, number>>;
  readonly blocks: Readonly<Record<string, number>>;
  readonly lines: readonly (readonly number[])[];
  readonly arcs: readonly (readonly number[])[];
  readonly corners: readonly (readonly number[])[];
}

const SUB = new Set(['VERTEX', 'SEQEND', 'ATTRIB']);
const folder = mkdtempSync(path.join(tmpdir(), 'sealbook-second-'));
afterAll(() => rmSync(folder, { recursive: true, force: true }));

/** Refused by us and checked elsewhere: binary files. */
const isText = (name: string) => name.endsWith('.dxf') && !name.includes('binary');

function readSecond(files: readonly string[]): Record<string, SecondReading | null> {
  const script = path.join(repoRoot, 'tests/makers/dxf/second_reader.py');
  const printed = execFileSync(PYTHON, [script, ...files], { maxBuffer: 1 << 29 });
  return JSON.parse(printed.toString('utf8'));
}

function countsOf(document: DxfDocument, where: 'entities' | 'blocks'): Record<string, number> {
  const counts: Record<string, number> = {};
  for (const { type, layer, where: place, found } of document.counts) {
    if (place === where && !SUB.has(type)) counts[`${type}\n${layer}`] = found;
  }
  return counts;
}

/** Items of the second reader that have no partner of ours within 1e-9 of the drawing's size. */
function unmatched(
  theirs: readonly (readonly number[])[],
  ours: readonly (readonly number[])[],
): (readonly number[])[] {
  const size = Math.max(1, ...theirs.flat().map(Math.abs));
  // Asked for is 1e-6; a cell that wide would hold neighbours of dense drawings.
  const cell = size * 1e-9;
  const key = (numbers: readonly number[]) => numbers.map((n) => Math.round(n / cell)).join(',');
  const cells = new Map<string, number>();
  const neighbours = (numbers: readonly number[]): string[] => {
    let keys: number[][] = [[]];
    for (const n of numbers) {
      const low = Math.floor(n / cell);
      keys = keys.flatMap((start) => [low, low + 1].map((each) => [...start, each]));
    }
    return keys.map((each) => each.join(','));
  };
  for (const each of ours) cells.set(key(each), (cells.get(key(each)) ?? 0) + 1);
  return theirs.filter((each) => {
    const found = neighbours(each).find((name) => (cells.get(name) ?? 0) > 0);
    if (found !== undefined) cells.set(found, (cells.get(found) ?? 0) - 1);
    return found === undefined;
  });
}

function flat(document: DxfDocument): FlatDrawing {
  return flattenDrawing(document, {
    fileKey: 'd',
    mmPerUnit: 1,
    includeHidden: true,
    maxDepth: 17,
    maxEntities: 5_000_000,
    maxCopies: 10_000,
  });
}

function compare(document: DxfDocument, second: SecondReading): void {
  expect(countsOf(document, 'entities')).toEqual(second.entities);
  const blocks = countsOf(document, 'blocks');
  // ezdxf turns R13 and R14 into R2000 as it reads, and adds arrow heads as blocks.
  if (document.version === 'AC1012' || document.version === 'AC1014') {
    expect(second.blocks).toMatchObject(blocks);
  } else expect(blocks).toEqual(second.blocks);
  const drawing = flat(document);
  if (drawing.isPaperSpaceUsed) return;
  const of = (...types: string[]) => drawing.entities.filter(({ type }) => types.includes(type));
  const pieces = (entities: FlatDrawing['entities']) =>
    entities.flatMap(({ loops }) => loops.flatMap((loop) => loop.pieces));
  const lines = pieces(of('LINE')).flatMap((piece) =>
    piece.type === 'line' ? [[...piece.from, ...piece.to]] : [],
  );
  const arcs = pieces(of('CIRCLE', 'ARC')).flatMap((piece) =>
    piece.type === 'arc' ? [[...piece.centre, piece.radiusMm]] : [],
  );
  expect(lines.length).toBe(second.lines.length);
  expect(unmatched(second.lines, lines)).toEqual([]);
  expect(unmatched(second.arcs, arcs)).toEqual([]);
  // Corners drawn twice on one spot make no piece of ours: each of theirs must be near one of ours.
  const corners = pieces(of('LWPOLYLINE')).flatMap((piece) => [
    [...pieceStart(piece)],
    [...pieceEnd(piece)],
    [...pieceStart(piece)],
    [...pieceEnd(piece)],
  ]);
  expect(unmatched(second.corners, corners).length).toBeLessThanOrEqual(
    second.corners.length - new Set(second.corners.map((each) => each.join())).size,
  );
}

describe('ezdxf as second reader', () => {
  const samples = hasOutside('shared') ? sharedPath('samples/dxf') : null;
  const files =
    samples === null
      ? []
      : readdirSync(samples)
          .filter(isText)
          .map((name) => path.join(samples, name));
  const second = hasOutside('ezdxf') && files.length > 0 ? readSecond(files) : {};
  for (const file of files) {
    testWith(['ezdxf', 'shared'], `sample ${path.basename(file)}`, () => {
      const reading = second[file];
      const document = parseDxf(new Uint8Array(readFileSync(file)), { maxRecords: 5e6 });
      if (reading) compare(document, reading);
      else {
        // ezdxf refuses its handles; counted by hand in the file's 100 lines.
        expect(path.basename(file)).toBe('nested-insert-layers-ac1015.dxf');
        expect(countsOf(document, 'entities')).toEqual({ 'INSERT\n0': 1 });
        expect(Object.values(countsOf(document, 'blocks'))).toEqual([1, 1]);
      }
    });
  }

  testWith(['ezdxf'], 'all truth drawings', () => {
    execFileSync(PYTHON, [path.join(repoRoot, 'tests/makers/dxf/truth_drawings.py'), folder]);
    const made = readdirSync(folder)
      .filter(isText)
      .map((name) => path.join(folder, name));
    const readings = readSecond(made);
    expect(made.length).toBeGreaterThan(50);
    for (const file of made) {
      const reading = readings[file];
      const bytes = new Uint8Array(readFileSync(file));
      if (!reading) throw new Error(`not read a second time: ${file}`);
      compare(parseDxf(bytes, { maxRecords: 5e6 }), reading);
    }
  });
});
