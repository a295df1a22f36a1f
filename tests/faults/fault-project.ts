import { spawn, spawnSync } from 'node:child_process';
import { mkdtempSync, readdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import os from 'node:os';
import path from 'node:path';
import { repoRoot } from '../set-up/outside.ts';

const MAIN = path.join(repoRoot, 'dist/cli/main.js');

/** All files that a run leaves, by name: its outputs and the register. */
export type Left = ReadonlyMap<string, string>;

const line = (layer: string, x1: number, y1: number, x2: number, y2: number) =>
  `0\nLINE\n8\n${layer}\n10\n${x1}\n20\n${y1}\n11\n${x2}\n21\n${y2}\n`;

/** A wall and three conduits, as small as a project can be: what is tried here is the writing. */
const DRAWING = [
  '0\nSECTION\n2\nHEADER\n9\n$ACADVER\n1\nAC1009\n0\nENDSEC\n0\nSECTION\n2\nENTITIES\n',
  line('A-WALL', 0, 0, 6000, 0),
  line('A-WALL', 0, 200, 6000, 200),
  ...[1000, 2500, 4000].map((x) => line('E-CONDUIT', x, -1500, x, 1700)),
  '0\nENDSEC\n0\nEOF\n',
].join('');

/** A small project in a folder of its own, in one of two states whose outputs differ. */
export class FaultProject {
  readonly folder = mkdtempSync(path.join(os.tmpdir(), 'sealbook-faults-'));
  readonly out = path.join(this.folder, 'out');

  constructor() {
    writeFileSync(path.join(this.folder, 'plan.dxf'), DRAWING);
    this.setState('one');
  }

  /** Another project name and sealant depth: what is written is other. */
  setState(state: 'one' | 'two'): void {
    const project = [
      `project: {name: state ${state}}`,
      'files:',
      '  plan: {path: plan.dxf, kind: dxf, units: mm}',
      'outputs: {workbook: false, bcf: false, tables: true}',
      `design: {effort: quick, setBackMm: ${state === 'one' ? 20 : 30}}`,
    ];
    writeFileSync(path.join(this.folder, 'project.yaml'), `${project.join('\n')}\n`);
  }

  args(): string[] {
    return [MAIN, 'run', this.folder];
  }

  /** Runs to the end. */
  run(nodeOptions: readonly string[] = []) {
    return spawnSync(process.execPath, [...nodeOptions, ...this.args()], { encoding: 'utf8' });
  }

  /** Begins a run. */
  start() {
    return spawn(process.execPath, this.args(), { stdio: 'ignore' });
  }

  left(): Left {
    const files = new Map<string, string>();
    for (const name of readdirSync(this.out)) {
      files.set(name, readFileSync(path.join(this.out, name), 'latin1'));
    }
    const register = path.join(this.folder, 'register.jsonl');
    files.set('register.jsonl', readFileSync(register, 'latin1'));
    return files;
  }

  remove(): void {
    rmSync(this.folder, { recursive: true, force: true });
  }
}

/** Files that are neither as before nor as after; parts that were being written beside them are none. */
export function torn(left: Left, before: Left, after: Left): string[] {
  return [...left].flatMap(([name, content]) =>
    /\.part$/.test(name) || content === before.get(name) || content === after.get(name)
      ? []
      : [name],
  );
}
