import qrcode from 'qrcode-generator';
import { el, PAPER, type Svg } from '../../draw/svg.ts';

/** Quiet zone round the code, in modules. @source ISO/IEC 18004: four. */
const QUIET = 4;

/**
 * The text as a matrix code that cameras read, as SVG of the given size. Version as small as the
 * text allows; a quarter of it may be lost (level Q). @source ISO/IEC 18004.
 */
export function tagCode(content: string, sizeMm: number): Svg {
  const code = qrcode(0, 'Q');
  code.addData(utf8(content), 'Byte');
  code.make();
  const count = code.getModuleCount();
  const whole = count + 2 * QUIET;
  const rows = Array.from({ length: count }, (_, row) =>
    darkRuns(count, (column) => code.isDark(row, column))
      .map(([from, length]) => `M${from + QUIET} ${row + QUIET}h${length}v1h-${length}z`)
      .join(''),
  );
  return el(
    'svg',
    {
      xmlns: 'http://www.w3.org/2000/svg',
      class: 'code',
      width: `${sizeMm}mm`,
      height: `${sizeMm}mm`,
      viewBox: `0 0 ${whole} ${whole}`,
      'shape-rendering': 'crispEdges',
      role: 'img',
      'aria-label': `code of ${content}`,
    },
    el('rect', { width: whole, height: whole, fill: PAPER }),
    el('path', { d: rows.join(''), fill: '#000000' }),
  );
}

/** Runs of dark modules in a row: where each begins, and its length. */
function darkRuns(count: number, isDark: (column: number) => boolean): [number, number][] {
  const runs: [number, number][] = [];
  let length = 0;
  for (let column = 0; column <= count; column += 1) {
    if (column < count && isDark(column)) length += 1;
    else if (length > 0) {
      runs.push([column - length, length]);
      length = 0;
    }
  }
  return runs;
}

/** The library takes one character a byte. */
function utf8(content: string): string {
  return String.fromCharCode(...new TextEncoder().encode(content));
}
