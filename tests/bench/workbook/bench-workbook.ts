import { writeWorkbook } from '../../../src/write/workbook/write-workbook.ts';
import { svgToPngInTurn } from '../../set-up/svg-to-png.ts';
import { makeLargeIssue } from './make-large-issue.ts';

export interface WorkbookTimes {
  readonly penetrations: number;
  readonly cables: number;
  readonly drawings: number;
  readonly seconds: number;
  /** Processor time: what the clock would say on an idle core. */
  readonly processorSeconds: number;
  readonly megabytes: number;
  /** Largest resident memory of the process so far. */
  readonly residentMb: number;
}

/** Time, size and memory of writing workbooks of growing size; the last is the one issue 10 names. */
export async function benchWorkbook(): Promise<WorkbookTimes[]> {
  const times: WorkbookTimes[] = [];
  for (const [penetrations, drawings] of [
    [1250, 50],
    [2500, 100],
    [5000, 200],
  ] as const) {
    const issue = makeLargeIssue(penetrations, drawings);
    const start = performance.now();
    const processor = process.cpuUsage();
    const bytes = await writeWorkbook(issue, { svgToPng: svgToPngInTurn });
    const used = process.cpuUsage(processor);
    times.push({
      penetrations,
      cables: issue.schedule.cables.length,
      drawings,
      seconds: (performance.now() - start) / 1000,
      processorSeconds: (used.user + used.system) / 1e6,
      megabytes: bytes.length / 1e6,
      residentMb: process.resourceUsage().maxRSS / 1024,
    });
  }
  return times;
}
