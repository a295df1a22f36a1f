/** Deterministic numbers in 0–1 for tests: Park and Miller's minimal generator. */
export function seeded(seed: number): () => number {
  let state = (seed % 2147483646) + 1;
  return () => {
    state = (state * 48271) % 2147483647;
    return (state - 1) / 2147483646;
  };
}

const LETTERS = 'ABCDEFGHIJKLMNOPQRSTUVWXYZ0123456789-/ .';

export type Corruption = {
  readonly kind: string;
  readonly rows: readonly (readonly string[])[];
};

/** Spoils one cell or one row of a table, headings left alone; says how. */
export function corrupt(rows: readonly (readonly string[])[], random: () => number): Corruption {
  const pick = (count: number) => Math.min(count - 1, Math.floor(random() * count));
  const at = 1 + pick(rows.length - 1);
  const row = [...(rows[at] ?? [])];
  const column = pick(row.length);
  const cell = row[column] ?? '';
  const letter = LETTERS[pick(LETTERS.length)] ?? 'X';
  const place = pick(Math.max(1, cell.length));
  const withRow = (kind: string, changed: readonly string[]): Corruption => ({
    kind,
    rows: rows.map((old, n) => (n === at ? changed : old)),
  });
  const withCell = (kind: string, text: string) =>
    withRow(
      `${kind}, column ${column}: ${cell} → ${text}`,
      row.map((old, n) => (n === column ? text : old)),
    );
  switch (pick(13)) {
    case 0:
      return withCell('wrong letter', cell.slice(0, place) + letter + cell.slice(place + 1));
    case 1:
      return withCell('letter left out', cell.slice(0, place) + cell.slice(place + 1));
    case 2:
      return withCell('letter too many', cell.slice(0, place) + letter + cell.slice(place));
    case 3: {
      const swapped = cell
        .slice(place, place + 2)
        .split('')
        .reverse()
        .join('');
      return withCell('letters swapped', cell.slice(0, place) + swapped + cell.slice(place + 2));
    }
    case 4:
      return withCell(
        'leading zeros lost',
        cell.replace(/\b0+(?=\d)/g, '').replace(/-0+(?=\d)/g, '-'),
      );
    case 5:
      return withRow(`slipped right from ${column}`, [
        ...row.slice(0, column),
        '',
        ...row.slice(column, -1),
      ]);
    case 6:
      return withRow(`slipped left from ${column}`, [
        ...row.slice(0, column),
        ...row.slice(column + 1),
        '',
      ]);
    case 7:
      return withCell('emptied', '');
    case 8:
      return withCell('cut short', cell.slice(0, -1 - pick(2)));
    case 9: {
      const other = pick(row.length);
      const swapped = row.map((old, n) =>
        n === column ? (row[other] ?? '') : n === other ? cell : old,
      );
      return withRow(`cells ${column} and ${other} swapped`, swapped);
    }
    case 10: {
      const digits = [...cell.matchAll(/\d/g)].map(({ index }) => index);
      const lost = digits[pick(digits.length)] ?? cell.length;
      return withCell('digit left out', cell.slice(0, lost) + cell.slice(lost + 1));
    }
    case 11:
      return swapColumns(rows, column, pick(row.length));
    default:
      return withCell(
        'look-alike',
        cell.replace(/[01OI]/, (c) => ({ 0: 'O', 1: 'I', O: '0', I: '1' })[c] ?? c),
      );
  }
}

/** Two columns change places under headings that stay. */
function swapColumns(rows: readonly (readonly string[])[], a: number, b: number): Corruption {
  const swapped = rows.map((row, at) =>
    at === 0
      ? row
      : row.map((cell, n) => (n === a ? (row[b] ?? '') : n === b ? (row[a] ?? '') : cell)),
  );
  return { kind: `columns ${a} and ${b} swapped`, rows: swapped };
}
