import { execFileSync } from 'node:child_process';
import { mkdtempSync, readFileSync, rmSync } from 'node:fs';
import os from 'node:os';
import path from 'node:path';
import { afterAll, describe, expect } from 'vitest';
import { shapeAreaMm2 } from '../../src/geometry/shape.ts';
import { outlineFromDrawing } from '../../src/read/dxf/outline-from-drawing.ts';
import { hasOutside, PYTHON, testWith } from '../set-up/outside.ts';

// Outlines written by ezdxf, an independent library; areas by hand from their dimensions.
const SCRIPT = `
import sys, ezdxf
def new(name, units=4):
    doc = ezdxf.new('R2010'); doc.header['$INSUNITS'] = units
    return doc, doc.modelspace(), sys.argv[1] + '/' + name + '.dxf'
doc, m, to = new('ell')
m.add_lwpolyline([(1000, 1000), (1400, 1000), (1400, 1150), (1200, 1150), (1200, 1300), (1000, 1300)], close=True)
m.add_line((0, 0), (5000, 0))
doc.saveas(to)
doc, m, to = new('island')
m.add_lwpolyline([(0, 0), (600, 0), (600, 400), (0, 400)], close=True)
m.add_circle((200, 200), 50)
m.add_text('not an outline')
doc.saveas(to)
doc, m, to = new('circle'); m.add_circle((77, 33), 75); doc.saveas(to)
doc, m, to = new('stadium')
m.add_lwpolyline([(0, 0, 0), (200, 0, 1), (200, 100, 0), (0, 100, 1)], format='xyb', close=True)
doc.saveas(to)
doc, m, to = new('two')
for x in (0, 1000):
    m.add_lwpolyline([(x, 0), (x + 300, 0), (x + 300, 200), (x, 200)], close=True, dxfattribs={'layer': 'HOLES'})
doc.saveas(to)
doc, m, to = new('open'); m.add_lwpolyline([(0, 0), (300, 0), (300, 200)]); doc.saveas(to)
`;

const folder = mkdtempSync(path.join(os.tmpdir(), 'sealbook-outlines-'));
afterAll(() => rmSync(folder, { recursive: true, force: true }));
if (hasOutside('ezdxf')) execFileSync(PYTHON, ['-c', SCRIPT, folder]);

function outline(name: string, handle: string | null = null) {
  const bytes = new Uint8Array(readFileSync(path.join(folder, `${name}.dxf`)));
  return outlineFromDrawing({ key: 'outline', name: `${name}.dxf`, bytes }, handle);
}

describe('an opening from a closed outline of a drawing', () => {
  testWith(['ezdxf'], 'an L, about the middle of its box', () => {
    const shape = outline('ell');
    expect(shapeAreaMm2(shape)).toBeCloseTo(400 * 150 + 200 * 150, 6);
    expect(shape.type === 'polygon' && shape.pointsMm[0]).toEqual([-200, -150]);
  });

  testWith(['ezdxf'], 'a circle is a circle', () => {
    expect(outline('circle')).toEqual({ type: 'circle', diameterMm: 150 });
  });

  testWith(['ezdxf'], 'what is drawn within is an island', () => {
    const shape = outline('island');
    expect(shape.type === 'polygon' && shape.islandsMm).toHaveLength(1);
    expect(shapeAreaMm2(shape) / (600 * 400 - Math.PI * 50 ** 2)).toBeCloseTo(1, 3);
  });

  testWith(['ezdxf'], 'round ends follow their bulges', () => {
    expect(shapeAreaMm2(outline('stadium')) / (200 * 100 + Math.PI * 50 ** 2)).toBeCloseTo(1, 3);
  });

  testWith(['ezdxf'], 'of several one is named, of none is said what to draw', () => {
    const said = (run: () => unknown) => {
      try {
        run();
        return null;
      } catch (error) {
        return error as { code: string; todo: string };
      }
    };
    const several = said(() => outline('two'));
    expect(several?.code).toBe('usage');
    const handle = /two\.dxf:([0-9A-F]+)/.exec(several?.todo ?? '')?.[1] ?? '';
    expect(outline('two', handle)).toMatchObject({ type: 'polygon' });
    expect(said(() => outline('two', 'FFFF'))?.code).toBe('usage');
    expect(said(() => outline('open'))?.todo).toContain('closed polyline');
  });
});
