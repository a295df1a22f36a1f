import fc from 'fast-check';
import { expect, test } from 'vitest';
import { layCallouts } from '../../../src/draw/callouts.ts';
import { textWidth } from '../../../src/draw/text-width.ts';

const PLACES = {
  leftX: 20,
  rightX: 100,
  topY: 15,
  sides: [10, 90],
  tops: [20, 100],
} as const;

interface Label {
  readonly x: number;
  readonly y: number;
  readonly anchor: string;
  readonly content: string;
}

function labelsOf(svg: string): Label[] {
  return [...svg.matchAll(/<text x="([-\d.]+)" y="([-\d.]+)"([^>]*)>([^<]*)</g)].map(
    ([, x, y, rest = '', content = '']) => ({
      x: Number(x),
      y: Number(y),
      anchor: /text-anchor="(\w+)"/.exec(rest)?.[1] ?? 'start',
      content,
    }),
  );
}

test('a note stands on the side it is nearest to', () => {
  const { labels } = layCallouts(
    [
      { at: [25, 60], label: 'L' },
      { at: [95, 60], label: 'R' },
      { at: [60, 18], label: 'T' },
    ],
    PLACES,
  );
  const side = new Map(labelsOf(labels).map(({ content, anchor }) => [content, anchor]));
  expect([side.get('L'), side.get('R'), side.get('T')]).toEqual(['end', 'start', 'middle']);
});

test('notes about one place stand apart, in order, and none is lost', () => {
  const point = fc.tuple(
    fc.double({ min: 21, max: 99, noNaN: true }),
    fc.double({ min: 16, max: 85, noNaN: true }),
  );
  fc.assert(
    fc.property(fc.array(point, { minLength: 1, maxLength: 16 }), (points) => {
      const notes = points.map((at, index) => ({ at, label: `n${index}` }));
      const laid = labelsOf(layCallouts(notes, PLACES).labels);
      expect(laid).toHaveLength(notes.length);
      for (const anchor of ['end', 'start']) {
        const heights = laid.filter((label) => label.anchor === anchor).map(({ y }) => y);
        for (const [index, y] of heights.entries()) {
          if (index > 0) expect(y - (heights[index - 1] ?? 0)).toBeGreaterThan(3.2);
          expect(y).toBeLessThanOrEqual(91);
        }
      }
      const tops = laid.filter(({ anchor }) => anchor === 'middle');
      for (const [index, label] of tops.entries()) {
        const previous = tops[index - 1];
        if (previous === undefined) continue;
        const room = (textWidth(previous.content, 2.3) + textWidth(label.content, 2.3)) / 2;
        expect(label.x - previous.x).toBeGreaterThan(room);
      }
    }),
    { numRuns: 100 },
  );
});

test('a measured gap is drawn as a bar between its ends', () => {
  const { labels } = layCallouts(
    [
      {
        at: [50, 50],
        label: '10.0 apart',
        measured: [
          [45, 50],
          [55, 50],
        ],
      },
    ],
    PLACES,
  );
  expect(labels).toContain('<line x1="45" y1="50" x2="55" y2="50"');
});
