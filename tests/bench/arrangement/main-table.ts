import { benchCover } from './cover.ts';
import { benchFeasibility, benchShapes, checked } from './feasibility.ts';
import { type BenchLine, lineText } from './measures.ts';
import { benchMix } from './mix.ts';
import { benchSmallestCircles } from './smallest-circles.ts';

export interface MainTableOptions {
  /** Seeds of each packing row. */
  readonly seeds: number;
  /** Openings of each feasibility row. */
  readonly openings: number;
  /** Openings of the mix. */
  readonly mix: number;
}

/** The table of issue 8, a line for each row, with what must be and what was reached. */
export function mainTable(
  options: MainTableOptions = { seeds: 20, openings: 200, mix: 1000 },
  print: (line: string) => void = console.log,
): BenchLine[] {
  const lines: BenchLine[] = [];
  const add = (more: readonly BenchLine[]) => {
    for (const line of more) print(lineText(line));
    lines.push(...more);
  };
  add(benchSmallestCircles(options.seeds));
  add(benchFeasibility(options.openings));
  add(benchShapes(options.openings));
  add(benchCover());
  add(benchMix(options.mix));
  const { arrangements, distances, faults } = checked;
  print(`checker: ${arrangements} arrangements, ${distances} distances, ${faults} faults`);
  return lines;
}
