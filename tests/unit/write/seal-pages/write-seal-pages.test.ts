import { SaxesParser } from 'saxes';
import { describe, expect, test } from 'vitest';
import { takeOff } from '../../../../src/design/take-off.ts';
import type { Issue } from '../../../../src/model/issue.ts';
import type { Seal } from '../../../../src/model/seal.ts';
import { writeSealPages } from '../../../../src/write/seal-pages/write-seal-pages.ts';
import { HOSTILE, makeIssue } from '../../../makers/issue/make-issue.ts';

const NOTHING = { sealants: [], fillers: [], consumables: [] };

function pagesOf(issue: Issue) {
  return writeSealPages(issue, (seal) => takeOff([seal], [], issue.range, issue.settings));
}

function textOf(issue: Issue): string {
  return pagesOf(issue)
    .filter(({ name }) => name.startsWith('seal-pages'))
    .map(({ text }) => text)
    .join('');
}

/** The page of one seal alone. */
function pageOf(change: (seal: Seal) => Seal, of = 'pen-1/annulus'): string {
  const issue = makeIssue();
  const seals = issue.seals.filter(({ id }) => id === of).map(change);
  return textOf({ ...issue, seals, queries: [] });
}

describe('files', () => {
  test('one a level and one of labels, with a page for each seal that is not left out', () => {
    const issue = makeIssue();
    const files = pagesOf(issue);
    expect(files.map(({ name }) => name)).toEqual([
      'seal-pages-Level-01.html',
      'seal-pages-Pit.html',
      'seal-labels.html',
    ]);
    const articles = files.map(({ text }) => text.split('<article>').length - 1);
    const shown = issue.seals.filter(({ state }) => state !== 'none').length;
    expect((articles[0] ?? 0) + (articles[1] ?? 0)).toBe(shown + 2);
  });

  test('the same issue gives the same text', () => {
    expect(pagesOf(makeIssue())).toEqual(pagesOf(makeIssue()));
  });

  test('an issue without seals has none', () => {
    expect(writeSealPages(makeIssue({ seals: [] }), () => NOTHING)).toEqual([]);
  });

  test('names of levels that differ in signs or case alone stay apart, and are no paths', () => {
    const issue = makeIssue();
    const levels = ['../L 1', '.. l-1', 'L/1'];
    const penetrations = issue.penetrations.map((each, at) => ({
      ...each,
      where: { ...each.where, level: levels[at % 3] ?? null },
    }));
    const names = pagesOf({ ...issue, penetrations }).map(({ name }) => name);
    expect(new Set(names.map((name) => name.toLowerCase())).size).toBe(names.length);
    for (const name of names) expect(name).toMatch(/^seal-[\p{L}\p{N}-]+\.html$/u);
  });
});

describe('what a page says', () => {
  test('the sealant of three cables of 37 mm in 150, rounded up', () => {
    // 14,445.83 mm² × 20 mm = 288.92 ml, worked by hand.
    const page = pageOf((seal) => ({
      ...seal,
      sealant: {
        name: 'Sealant',
        perFaceMl: 288.92,
        faces: 1,
        netMl: 288.92,
        withAllowancesMl: 333.7,
        containers: [{ sizeMl: 310, count: 2 }],
      },
    }));
    expect(page).toContain('289 ml a face');
    expect(page).toContain('289 ml net, 334 ml with allowances');
    expect(page).toContain('2 × 310 ml');
  });

  test('where each body lies, to a tenth of a millimetre', () => {
    const page = pageOf((seal) => seal);
    expect(page).toContain('<td>P-101</td>');
    expect(page).toContain('<td>0.0</td><td>34.0</td>');
    expect(page).toContain('<td>-29.4</td><td>-17.0</td>');
  });

  test('how far along its wall it lies, where the ends are known', () => {
    const issue = makeIssue();
    const toEdgeMm = { left: 2349.6, right: null, below: 900, above: 1500 };
    const within = (kind: 'wall' | 'slab') =>
      textOf({
        ...issue,
        penetrations: issue.penetrations.map((each) => ({
          ...each,
          hosts: each.hosts.map((host) => ({ ...host, kind, toEdgeMm })),
        })),
      });
    expect(within('wall')).toContain('2350 mm from the left end, seen from the near side');
    expect(within('slab')).not.toContain('from the left end');
  });

  test('checks that are not met stand on the front, and who decides', () => {
    const page = pageOf((seal) => seal);
    expect(page).toContain('Not met within the evidence supplied: water thrust on bond.');
    expect(page).toContain('Ask the engineer before this is built.');
    expect(page).toContain('Design aid, not a certificate.');
    expect(page).not.toMatch(/\b(compliant|safe)\b/i);
  });

  test('a seal that is not designed bears no steps and nothing to take along', () => {
    const page = pageOf((seal) => seal, 'pen-4/annulus');
    expect(page).toContain('Do not build from this page');
    expect(page).toContain('The opening has to be formed first');
    expect(page).not.toContain('In this order');
    expect(page).not.toContain('To take along');
  });

  test('a seal on hold is not to be built, and has no label', () => {
    const issue = makeIssue();
    const tag = issue.tags.get('pen-1') ?? '';
    const hold = { about: 'penetration', subject: tag, field: 'status', tag: null } as const;
    const decisions = [{ ...hold, value: 'hold', against: null, revision: 'B', from: 'a test' }];
    const seals = issue.seals.filter(({ penetrationId }) => penetrationId === 'pen-1');
    const files = pagesOf({ ...issue, seals, decisions });
    expect(files.map(({ name }) => name)).toEqual(['seal-pages-Level-01.html']);
    expect(files[0]?.text).toContain('Do not build from this page');
  });

  test('what is not cut yet is cut first, with whose consent', () => {
    const page = pageOf((seal) => seal, 'pen-3/annulus');
    expect(page).toContain('structural engineer’s consent');
    expect(page.indexOf('<b>Cut</b>')).toBeLessThan(page.indexOf('<b>Clean</b>'));
    expect(pageOf((seal) => seal)).not.toContain('<b>Cut</b>');
  });

  test('cables of later stages are told apart from those laid now', () => {
    const page = pageOf((seal) => {
      const stage = { ...seal, fillRatio: 0, freeAreaMm2: 0, sealant: null as never };
      const refs = ['P-101', 'P-102'];
      return {
        ...seal,
        stages: [
          { ...stage, name: 'now', refs, comes: refs },
          { ...stage, name: 'stage 2', refs: [...refs, 'P-103'], comes: ['P-103'] },
        ],
      };
    });
    expect(page).toContain('All 2 that pass');
    expect(page).toContain('1 more to come (stage 2)');
    expect(page.match(/<td>stage 2<\/td>/g)).toHaveLength(1);
  });
});

describe('hostile texts', () => {
  test('stay text: the body is well-formed and holds only our own elements', () => {
    const issue = makeIssue();
    const penetrations = issue.penetrations.map((each) => ({
      ...each,
      where: { ...each.where, grid: HOSTILE.join(' '), level: HOSTILE[4] ?? null },
      hosts: each.hosts.map((host) => ({ ...host, name: HOSTILE.join('|') })),
    }));
    for (const { text } of pagesOf({ ...issue, penetrations })) {
      const names = elementsOf(text);
      expect(names.has('script')).toBe(false);
      expect([...names].filter((name) => !OUR_ELEMENTS.has(name))).toEqual([]);
      expect(text).not.toMatch(/https?:\/\/(?!www\.w3\.org\/2000\/svg"|example\.invalid)/);
    }
  });
});

const OUR_ELEMENTS = new Set(
  'body article table thead tbody tfoot tr th td header footer section div p h1 h2 h3 b span dl dt dd ol li svg g path rect circle line text tspan title defs pattern polyline polygon ellipse clipPath use image'.split(
    ' ',
  ),
);

/** Elements of the body; throws where it is not well-formed. */
function elementsOf(html: string): Set<string> {
  const names = new Set<string>();
  const parser = new SaxesParser();
  parser.on('opentag', ({ name, attributes }) => {
    names.add(name);
    for (const key of Object.keys(attributes)) expect(key).not.toMatch(/^on/i);
  });
  parser.on('error', (error) => {
    throw error;
  });
  parser.write(html.slice(html.indexOf('<body>'), html.indexOf('</html>'))).close();
  return names;
}
