import { spawnSync } from 'node:child_process';
import { mkdtempSync, readdirSync, readFileSync, rmSync } from 'node:fs';
import os from 'node:os';
import path from 'node:path';
import { expect, test } from 'vitest';
import { repoRoot } from '../set-up/outside.ts';

const SPEAKS =
  /from '(?:node:)?(?:https?|http2|net|tls|dgram|dns)(?:\/promises)?'|\bfetch\(|new WebSocket|XMLHttpRequest|EventSource|sendBeacon|from '(?:ioredis|bullmq)'/;

/** Who may speak: the page to its own server, the server to this machine, `many` to its Redis. */
const MAY_SPEAK = [/^src\/web\//, /^src\/batch\/redis-queue\.ts$/];

test('only the page and many hold code that speaks to a network', () => {
  const sources = readdirSync(path.join(repoRoot, 'src'), { recursive: true, encoding: 'utf8' })
    .filter((name) => name.endsWith('.ts'))
    .map((name) => `src/${name.split(path.sep).join('/')}`);
  expect(sources.length).toBeGreaterThan(400);
  const speaking = sources.filter((name) =>
    SPEAKS.test(readFileSync(path.join(repoRoot, name), 'utf8')),
  );
  expect(speaking.length).toBeGreaterThan(2);
  expect(speaking.filter((name) => !MAY_SPEAK.some((allowed) => allowed.test(name)))).toEqual([]);
});

/** Makes every way out of the process throw. */
const SILENCE = `
import net from 'node:net'; import dns from 'node:dns'; import dgram from 'node:dgram';
import { syncBuiltinESMExports } from 'node:module';
const refuse = () => { console.error('SPOKE TO THE NETWORK'); process.exit(99); };
net.Socket.prototype.connect = refuse; net.connect = refuse; net.createConnection = refuse;
dgram.createSocket = refuse; globalThis.fetch = refuse; dns.lookup = refuse; dns.resolve = refuse;
syncBuiltinESMExports();
`;

test('a run, a look and a size speak to nobody', () => {
  const out = mkdtempSync(path.join(os.tmpdir(), 'sealbook-silent-'));
  const sample = path.join(repoRoot, 'samples/valve-chamber');
  const main = path.join(repoRoot, 'dist/cli/main.js');
  const silence = `data:text/javascript,${encodeURIComponent(SILENCE)}`;
  const runs = [
    ['run', path.join(sample, 'annex-4x3.ifc'), '--out', out, '--effort', 'quick'],
    ['look', path.join(sample, 'annex-4x3.ifc')],
    ['size', '150', '--cables', '3x37,12'],
  ];
  for (const args of runs) {
    const done = spawnSync(process.execPath, ['--import', silence, main, ...args], {
      encoding: 'utf8',
    });
    expect([args[0], done.status, done.stderr]).toEqual([args[0], 0, '']);
  }
  // The silence itself works: what speaks is caught.
  const speaks = "import net from 'node:net'; net.connect(9, '127.0.0.1');";
  const caught = spawnSync(
    process.execPath,
    ['--import', silence, '--input-type=module', '-e', speaks],
    { encoding: 'utf8' },
  );
  expect(caught.status).toBe(99);
  rmSync(out, { recursive: true, force: true });
});
