import { Resvg } from '@resvg/resvg-js';
import fc from 'fast-check';
import { expect, test } from 'vitest';
import { drawDepth } from '../../../src/draw/draw-depth.ts';
import {
  drawSection,
  SECTION_HEIGHT_MM,
  SECTION_WIDTH_MM,
} from '../../../src/draw/draw-section.ts';
import { textWidth } from '../../../src/draw/text-width.ts';
import { HOSTILE, threeCableSeal } from '../../makers/issue/make-issue.ts';
import { makePenetration } from '../../makers/issue/make-penetration.ts';
import { makeSeal, placed } from '../../makers/issue/make-seal.ts';
import { type SectionCase, sectionCases } from '../../makers/issue/section-cases.ts';

const draw = ({ seal, ...options }: SectionCase) => drawSection(seal, options);

interface DrawnText {
  readonly x: number;
  readonly y: number;
  readonly size: number;
  readonly content: string;
  readonly anchor: string;
  readonly bold: boolean;
  readonly turned: boolean;
}

function textsOf(svg: string): DrawnText[] {
  return [...svg.matchAll(/<text ([^>]*)>([^<]*)<\/text>/g)].map(
    ([, attributes = '', raw = '']) => {
      const value = (name: string) => new RegExp(`(?:^| )${name}="([^"]*)"`).exec(attributes)?.[1];
      const content = raw
        .replaceAll('&lt;', '<')
        .replaceAll('&gt;', '>')
        .replaceAll('&quot;', '"')
        .replaceAll('&apos;', "'")
        .replaceAll('&amp;', '&');
      return {
        x: Number(value('x')),
        y: Number(value('y')),
        size: Number(value('font-size')),
        content,
        anchor: value('text-anchor') ?? 'start',
        bold: value('font-weight') === 'bold',
        turned: value('transform') !== undefined,
      };
    },
  );
}

/** The box of a line of text on paper: left, top, right, bottom. */
function boxOf(text: DrawnText): readonly [number, number, number, number] {
  const width = textWidth(text.content, text.size, text.bold);
  const left =
    text.anchor === 'middle' ? text.x - width / 2 : text.anchor === 'end' ? text.x - width : text.x;
  return [left, text.y - text.size * 0.73, left + width, text.y + text.size * 0.1];
}

test.each(sectionCases())('$name: markup that a renderer takes', (each) => {
  const svg = draw(each);
  const picture = new Resvg(svg, { font: { loadSystemFonts: false } });
  expect(picture.width / picture.height).toBeCloseTo(SECTION_WIDTH_MM / SECTION_HEIGHT_MM, 2);
  expect(svg).not.toMatch(/NaN|undefined|Infinity/);
});

test.each(sectionCases())('$name: no text leaves the paper', (each) => {
  for (const text of textsOf(draw(each)).filter(({ turned }) => !turned)) {
    const [left, top, right, bottom] = boxOf(text);
    expect(left, text.content).toBeGreaterThanOrEqual(0.5);
    expect(right, text.content).toBeLessThanOrEqual(SECTION_WIDTH_MM - 0.5);
    expect(top, text.content).toBeGreaterThanOrEqual(0.5);
    expect(bottom, text.content).toBeLessThanOrEqual(SECTION_HEIGHT_MM - 0.5);
  }
});

test.each(sectionCases())('$name: no text lies over another', (each) => {
  const boxes = textsOf(draw(each))
    .filter(({ turned }) => !turned)
    .map((text) => ({ content: text.content, box: boxOf(text) }));
  for (const [at, one] of boxes.entries()) {
    for (const other of boxes.slice(at + 1)) {
      const apart =
        one.box[2] <= other.box[0] ||
        other.box[2] <= one.box[0] ||
        one.box[3] <= other.box[1] ||
        other.box[3] <= one.box[1];
      expect(apart, `"${one.content}" and "${other.content}"`).toBe(true);
    }
  }
});

test('the same seal gives the same drawing', () => {
  for (const each of sectionCases()) expect(draw(each)).toBe(draw(each));
});

test('circles are drawn to the scale that is written', () => {
  const svg = drawSection(threeCableSeal('p'), { tag: 'T', tags: ['T'] });
  const denominator = Number(/scale 1:([\d.]+) at full size/.exec(svg)?.[1]);
  const openings = [...svg.matchAll(/<circle [^>]* r="([\d.]+)" fill="none"/g)];
  expect(Number(openings[0]?.[1])).toBeCloseTo(150 / 2 / denominator, 2);
  const radii = [...svg.matchAll(/<circle [^>]* r="([\d.]+)" fill="#8E989E"/g)].map(([, r]) =>
    Number(r),
  );
  // Three cables of 37 mm, and the one of the legend.
  expect(radii.filter((r) => Math.abs(r - 37 / 2 / denominator) < 0.006)).toHaveLength(3);
});

test('the closest distances are measured and written', () => {
  const seal = makeSeal({ type: 'rectangle', widthMm: 200, heightMm: 100 }, [
    placed({ ref: 'A', xMm: -50, yMm: 0, diameterMm: 40 }),
    placed({ ref: 'B', xMm: 20, yMm: 0, diameterMm: 40 }),
  ]);
  const contents = textsOf(drawSection(seal, { tag: 'T', tags: ['T'] })).map(
    (each) => each.content,
  );
  // Centres 70 apart less two radii of 20; centres 50 from the long sides, and from the left one.
  expect(contents).toContain('30.0 apart');
  expect(contents).toContain('30.0 to wall');
  expect(contents).toContain('200');
  expect(contents).toContain('100');
});

test('references, numbers, tags and the caution are there', () => {
  const svg = drawSection(threeCableSeal('p'), {
    tag: 'L01-0001',
    tags: ['L01-0001', 'L01-0002'],
    penetration: makePenetration('p'),
    number: 'D-001',
  });
  for (const part of [
    'P-101',
    'P-103',
    'L01-0001',
    'also L01-0002',
    'D-001',
    'not a certificate',
  ]) {
    expect(svg).toContain(part);
  }
});

test('a floor is marked north, a wall up', () => {
  const [wall] = sectionCases();
  const slab = sectionCases().find(({ name }) => name.includes('slab'));
  expect(wall && draw(wall)).toContain('>up<');
  expect(slab && draw(slab)).toContain('>north<');
});

test('hostile texts stay texts', () => {
  for (const text of HOSTILE) {
    const svg = drawSection(threeCableSeal('p'), { tag: text, tags: [text], number: text });
    expect(svg).not.toContain('<script');
    expect(() => new Resvg(svg, { font: { loadSystemFonts: false } })).not.toThrow();
  }
});

test('any text as reference gives markup that a renderer takes', () => {
  fc.assert(
    fc.property(fc.string({ unit: 'binary', maxLength: 40 }), (ref) => {
      const seal = makeSeal({ type: 'circle', diameterMm: 100 }, [
        placed({ ref, xMm: 0, yMm: 0, diameterMm: 60 }),
      ]);
      const svg = drawSection(seal, { tag: ref, tags: [ref] });
      return new Resvg(svg, { font: { loadSystemFonts: false } }).width > 0;
    }),
    { numRuns: 50 },
  );
});

test('a seal without an opening says so', () => {
  const seal = { ...threeCableSeal('p'), opening: null, arrangement: null };
  expect(drawSection(seal, { tag: 'T', tags: ['T'] })).toContain('No opening is known');
});

test('the long section shows a layer for each sealed face', () => {
  const layers = (faces: number) =>
    drawDepth({ ...threeCableSeal('p'), faces }, { tag: 'T', penetration: makePenetration('p') })
      .split('<rect')
      .filter((part) => part.includes('url(#sealant)')).length;
  expect([layers(1), layers(2)]).toEqual([1, 2]);
});

test('the long section says when the thickness is not known', () => {
  expect(drawDepth(threeCableSeal('p'), { tag: 'T' })).toContain('thickness not known');
});

test('what is not arranged is shown where it was found, by a broken line', () => {
  const found = sectionCases().find(({ name }) => name.includes('where the model has them'));
  const svg = found === undefined ? '' : draw(found);
  // Two in the section, one in the legend.
  expect(svg.split('stroke-dasharray').length - 1).toBe(3);
  expect(svg).toContain('What passes (2), not arranged');
});
