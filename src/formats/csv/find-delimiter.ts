const DELIMITERS = [',', ';', '\t', '|'] as const;
const LINES_LOOKED_AT = 60;

/**
 * The delimiter of a file: the one a first line `sep=…` names, else the one that cuts most lines
 * into the same number of cells, more cells being better. Delimiters inside quotes don't count.
 */
export function findDelimiter(text: string): string {
  const named = /^\s*sep=(.)\r?\n/i.exec(text.slice(0, 20));
  if (named?.[1] !== undefined) return named[1];
  const lines = firstLines(text, LINES_LOOKED_AT);
  let best = ',';
  let bestScore = 0;
  for (const delimiter of DELIMITERS) {
    const score = agreement(lines.map((line) => countOutsideQuotes(line, delimiter)));
    if (score > bestScore) {
      best = delimiter;
      bestScore = score;
    }
  }
  return best;
}

/** How many lines share the commonest count, times that count (damped: ten columns beat two). */
function agreement(counts: readonly number[]): number {
  const byCount = new Map<number, number>();
  for (const count of counts) {
    if (count > 0) byCount.set(count, (byCount.get(count) ?? 0) + 1);
  }
  let best = 0;
  for (const [count, lines] of byCount) best = Math.max(best, lines * Math.sqrt(count));
  return best;
}

function countOutsideQuotes(line: string, delimiter: string): number {
  let count = 0;
  let isQuoted = false;
  for (const character of line) {
    if (character === '"') isQuoted = !isQuoted;
    else if (character === delimiter && !isQuoted) count++;
  }
  return count;
}

function firstLines(text: string, most: number): string[] {
  const lines: string[] = [];
  let start = 0;
  while (lines.length < most && start < text.length) {
    const end = text.indexOf('\n', start);
    const line = end < 0 ? text.slice(start) : text.slice(start, end);
    if (line.trim() !== '') lines.push(line.slice(0, 20_000));
    if (end < 0) break;
    start = end + 1;
  }
  return lines;
}
