import path from 'node:path';
import { Resvg } from '@resvg/resvg-js';
import { expect, test } from 'vitest';
import { fitList, fitText, lineCount, textWidth, wrapText } from '../../../src/draw/text-width.ts';
import { repoRoot } from '../../set-up/outside.ts';

const FONTS = path.join(repoRoot, 'node_modules/dejavu-fonts-ttf/ttf');

/** Width of the ink as the renderer sets it. */
function drawnWidth(text: string, weight: string): number {
  const svg = `<svg xmlns="http://www.w3.org/2000/svg" width="2000" height="100"><text x="10" y="50" font-size="20" font-family="DejaVu Sans" font-weight="${weight}">${text}</text></svg>`;
  const box = new Resvg(svg, {
    font: {
      loadSystemFonts: false,
      fontFiles: ['DejaVuSans.ttf', 'DejaVuSans-Bold.ttf'].map((file) => path.join(FONTS, file)),
    },
  }).getBBox();
  return box?.width ?? 0;
}

test.each(['L01-0001', 'water thrust on bond', 'MMMMMM', 'illicit 1,234.5'])(
  'the width of %j is what the renderer draws',
  (text) => {
    // The ink ends a little before the advance: half a letter's side bearings.
    expect(textWidth(text, 20) - drawnWidth(text, 'normal')).toBeGreaterThanOrEqual(0);
    expect(textWidth(text, 20) - drawnWidth(text, 'normal')).toBeLessThan(5);
    expect(Math.abs(textWidth(text, 20, true) - drawnWidth(text, 'bold'))).toBeLessThan(9);
  },
);

test('a text that fits stays whole, another ends in an ellipsis within the width', () => {
  expect(fitText('short', 2, 50)).toBe('short');
  const cut = fitText('a reference that is much too long for its place', 2, 20);
  expect(cut.endsWith('…')).toBe(true);
  expect(textWidth(cut, 2)).toBeLessThanOrEqual(20);
  expect(fitText('anything', 2, 0)).toBe('');
});

test('words wrap, and the last line allowed says that there is more', () => {
  const lines = wrapText('one two three four five six seven eight nine ten', 2, 16, 3);
  expect(lines).toHaveLength(3);
  for (const line of lines) expect(textWidth(line, 2)).toBeLessThanOrEqual(16);
  expect(lines.at(-1)?.endsWith('…')).toBe(true);
});

test('a list shows whole items and counts the rest', () => {
  const tags = ['L01-0001', 'L01-0002', 'L01-0003', 'L01-0004'];
  expect(fitList(tags, 2, 200)).toBe(tags.join(', '));
  expect(fitList(tags, 2, 40)).toBe('L01-0001, L01-0002 and 2 more');
});

test('lines are counted by words, line feeds and long words', () => {
  expect(lineCount('one', 2, 50)).toBe(1);
  expect(lineCount('one\ntwo', 2, 50)).toBe(2);
  expect(lineCount('x'.repeat(100), 2, textWidth('x'.repeat(10), 2) + 0.01)).toBe(10);
  expect(lineCount('aaaa bbbb cccc', 2, textWidth('aaaa bbbb', 2) + 0.01)).toBe(2);
});
