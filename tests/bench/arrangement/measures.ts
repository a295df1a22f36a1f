/** Processor time of this process, ms: less shaken by what else the machine does than the clock. */
export function busyMs(): number {
  return process.cpuUsage().user / 1000;
}

export function median(values: readonly number[]): number {
  return quantile(values, 0.5);
}

export function quantile(values: readonly number[], share: number): number {
  const sorted = [...values].sort((a, b) => a - b);
  return sorted[Math.min(sorted.length - 1, Math.floor(share * sorted.length))] ?? Number.NaN;
}

export interface BenchLine {
  readonly work: string;
  readonly must: string;
  readonly reached: string;
  readonly isMet: boolean;
}

export function lineText({ work, must, reached, isMet }: BenchLine): string {
  return `${isMet ? 'met    ' : 'not met'} | ${work} | must: ${must} | reached: ${reached}`;
}

export const percent = (ratio: number) => `${(100 * ratio).toFixed(1)} %`;
export const ms = (value: number) => `${value.toFixed(0)} ms`;
