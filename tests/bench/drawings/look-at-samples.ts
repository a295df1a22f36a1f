import { mkdirSync, readdirSync, readFileSync, writeFileSync } from 'node:fs';
import path from 'node:path';
import { Resvg } from '@resvg/resvg-js';
import { doorSwings } from '../../../src/find/drawings/door-swings.ts';
import { findInDrawings } from '../../../src/find/drawings/find-in-drawings.ts';
import { hostBands } from '../../../src/find/drawings/host-bands.ts';
import { makeSheet } from '../../../src/find/drawings/sheet.ts';
import { pieceLengthMm, pieceMiddle } from '../../../src/geometry/plane-curve.ts';
import { Settings } from '../../../src/model/settings.ts';
import { readDxf } from '../../../src/read/dxf/read-dxf.ts';
import { overlaySvg } from './overlay-drawing.ts';

/*
 * One command for the table and the pictures of drawings:
 *   npx tsx tests/bench/drawings/look-at-samples.ts IN_DIR OUT_DIR
 * For each drawing: walls found, share of the length on wall layers that bands explain, services,
 * crossings, what was left over; and a picture of bands and crossings over the drawing.
 */
const [inDir, outDir] = process.argv.slice(2);
if (inDir === undefined || outDir === undefined) throw new Error('give IN_DIR and OUT_DIR');
mkdirSync(outDir, { recursive: true });
const settings = Settings.parse({});
const head =
  'drawing | unit | view | bands | wall length explained | services | penetrations | openings | unread | said';
console.log(head);
for (const name of readdirSync(inDir)
  .filter((each) => each.endsWith('.dxf'))
  .sort()) {
  const bytes = new Uint8Array(readFileSync(path.join(inDir, name)));
  try {
    const { result, queries } = readDxf({ key: 'd', name, bytes }, {}, settings);
    const { drawing, unread } = result;
    const found = findInDrawings([drawing], settings);
    const [view] = drawing.views;
    if (view === undefined) continue;
    const sheet = makeSheet(drawing, view, settings);
    const hosts = hostBands(sheet.walls, sheet.slabs, settings, {
      masks: drawing.masks,
      swings: doorSwings(drawing.entities),
    });
    let total = 0;
    let explained = 0;
    for (const piece of sheet.walls.flatMap(({ loops }) => loops.flatMap((loop) => loop.pieces))) {
      const length = pieceLengthMm(piece);
      total += length;
      if (hosts.index.holds(pieceMiddle(piece))) explained += length;
    }
    const codes = [...new Set([...queries, ...found.queries].map(({ code }) => code))];
    console.log(
      [
        name,
        drawing.units.unit,
        view.view,
        hosts.bands.length,
        total > 0 ? `${Math.round((100 * explained) / total)} %` : '–',
        found.result.ledger.services.length,
        found.result.penetrations.length,
        found.result.ledger.openings.length,
        unread.reduce((sum, { count }) => sum + count, 0),
        codes.join(' '),
      ].join(' | '),
    );
    const svg = overlaySvg(drawing, found.result.penetrations, settings);
    if (drawing.entities.length > 0) {
      writeFileSync(
        path.join(outDir, name.replace('.dxf', '.png')),
        new Resvg(svg).render().asPng(),
      );
    }
  } catch (error) {
    console.log(`${name} | refused: ${error instanceof Error ? error.message : String(error)}`);
  }
}
