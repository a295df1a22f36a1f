import { readFileSync } from 'node:fs';
import library from 'dxf-parser';
import { findInDrawings } from '../../../src/find/drawings/find-in-drawings.ts';
import { Settings } from '../../../src/model/settings.ts';
import { readDxf } from '../../../src/read/dxf/read-dxf.ts';

// Run by benchDrawings in a process of its own; prints seconds and memory as JSON.
const [way, file] = process.argv.slice(2);
if (way === undefined || file === undefined) throw new Error('give WAY and FILE');
const before = process.resourceUsage().maxRSS;
// Time of the processor, not of the clock: other work on the machine must not change the ratio.
const start = process.cpuUsage();
let penetrations = 0;
if (way === 'dxf-parser alone') {
  const Parser = library as unknown as new () => { parseSync(text: string): unknown };
  new Parser().parseSync(readFileSync(file, 'utf8'));
} else {
  const settings = Settings.parse({});
  const bytes = new Uint8Array(readFileSync(file));
  const { result } = readDxf({ key: 'd', name: 'large.dxf', bytes }, {}, settings);
  if (way === 'read and find') {
    penetrations = findInDrawings([result.drawing], settings).result.penetrations.length;
  }
}
const used = process.cpuUsage(start);
const seconds = (used.user + used.system) / 1e6;
const peakMb = (process.resourceUsage().maxRSS - before) / 1024;
console.log(JSON.stringify({ seconds, peakMb, penetrations }));
