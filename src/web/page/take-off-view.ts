import { h, table } from './dom.ts';
import { words } from './texts.ts';

/** Lists of the take-off as tables, their columns as the JSON result names them. */
export function takeOffView(takeOff: object): HTMLElement {
  const lists = Object.entries(takeOff).flatMap(([name, rows]: [string, unknown]) => {
    const lines = Array.isArray(rows) ? rows.filter(isRecord) : [];
    return lines.length === 0 ? [] : [listOf(name, lines)];
  });
  return h(
    'section',
    {},
    h('h2', {}, words().takeOff),
    ...(lists.length === 0 ? [h('p', {}, words().none)] : lists),
  );
}

function listOf(name: string, lines: readonly Record<string, unknown>[]): HTMLElement {
  const columns = [...new Set(lines.flatMap((line) => Object.keys(line)))];
  return h(
    'section',
    {},
    h('h3', {}, spoken(name)),
    table(
      columns.map(spoken),
      lines.map((line) => columns.map((column) => cellText(line[column]))),
    ),
  );
}

function isRecord(value: unknown): value is Record<string, unknown> {
  return typeof value === 'object' && value !== null;
}

/** `withAllowancesMl` as "with allowances, ml". */
function spoken(name: string): string {
  const words = name.replace(/([A-Z])/g, ' $1').toLowerCase();
  return words.replace(/ (mm2|mm|ml|m|h|eur)$/, ', $1');
}

function cellText(value: unknown): string {
  if (typeof value === 'number') return String(Number(value.toFixed(2)));
  if (Array.isArray(value)) return value.map(partText).join(', ');
  if (isRecord(value)) return partText(value);
  return value === null || value === undefined ? '' : String(value);
}

function partText(value: unknown): string {
  return isRecord(value) ? Object.values(value).map(String).join(' × ') : String(value);
}
