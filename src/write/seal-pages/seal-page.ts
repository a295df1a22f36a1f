import { drawSection } from '../../draw/draw-section.ts';
import { sizeText as mm, shapeText } from '../../geometry/shape.ts';
import type { Check } from '../../model/seal.ts';
import {
  alongWallText,
  CAUTION_SHORT,
  CAUTIONS,
  depthText,
  dutyText,
  kindText,
  outOfReachText,
  sideText,
} from '../shared/phrases.ts';
import { type Html, tag, textTable, words } from './html.ts';
import type { KeyPlan } from './key-plan.ts';
import type { PageFacts, Passing } from './page-facts.ts';
import { isToBuild, stepsOf } from './steps.ts';
import { tagCode } from './tag-code.ts';

const CODE_MM = 21;

/**
 * The pages of one seal, front and back where its lists are short: what and where, cross-section,
 * positions, what to take along, steps, checks, cautions and boxes to sign. Its heading comes again
 * on each sheet of paper.
 */
export function sealPage(facts: PageFacts, plan: KeyPlan): Html {
  return tag(
    'article',
    {},
    tag(
      'table',
      { class: 'sheet', role: 'presentation' },
      tag('thead', {}, tag('tr', {}, tag('td', {}, heading(facts)))),
      tag('tfoot', {}, tag('tr', {}, tag('td', {}, foot(facts)))),
      tag('tbody', {}, tag('tr', {}, tag('td', {}, ...body(facts, plan)))),
    ),
  );
}

function heading({ tag: name, path, area, drawing, status, issue }: PageFacts): Html {
  const { project, issue: head } = issue.settings;
  const line = [
    project.number,
    project.name,
    `revision ${head.revision}`,
    head.date,
    status === 'hold' ? 'on hold' : `for ${status}`,
  ];
  return tag(
    'header',
    {},
    tag(
      'div',
      {},
      tag('h2', {}, words(name)),
      tag('p', { class: 'path' }, words([path, area, drawing].filter(isSaid).join(' · '))),
      tag('p', {}, words(line.filter(isSaid).join(' · '))),
    ),
    tagCode(name, CODE_MM),
  );
}

function foot({ issue }: PageFacts): Html {
  const sample = issue.range.sample ? ' Made with a sample range: not for use.' : '';
  return tag('p', { class: 'foot' }, words(`${CAUTION_SHORT}${sample}`));
}

function body(facts: PageFacts, plan: KeyPlan): Html[] {
  const { seal, tag: name, penetration } = facts;
  const drawing = drawSection(seal, {
    tag: name,
    tags: [name],
    ...(penetration === null ? {} : { penetration }),
    ...(facts.drawing === null ? {} : { number: facts.drawing }),
  });
  return [
    ...notToBuild(facts),
    ...notMet(facts),
    whereabouts(facts, plan),
    tag('div', { class: 'section' }, drawing),
    positions(facts),
    ...(isToBuild(facts) ? [takeAlong(facts), steps(facts)] : []),
    checks(seal.checks),
    ...records(facts),
    cautions(),
  ];
}

/** What stands over a page that nobody may work from. */
function notToBuild(facts: PageFacts): Html[] {
  if (isToBuild(facts)) return [];
  const why =
    facts.seal.state === 'designed'
      ? `On hold${facts.remarks === null ? '' : `: ${facts.remarks}`}.`
      : `Not designed: ${facts.seal.reason ?? 'see the questions below'}.`;
  return [
    tag(
      'section',
      { class: 'stop' },
      tag('h3', {}, words('Do not build from this page')),
      tag('p', {}, words(why)),
      ...facts.queries.map((query) =>
        tag('p', {}, words(`${query.text} ${query.settles}`.slice(0, 600))),
      ),
    ),
  ];
}

/** Checks that are not met stand on the front, since someone has to decide before it is built. */
function notMet({ seal }: PageFacts): Html[] {
  const names = seal.checks.filter(({ verdict }) => verdict === 'not met').map(({ name }) => name);
  if (names.length === 0) return [];
  return [
    tag(
      'section',
      { class: 'ask' },
      tag('b', {}, words(`Not met within the evidence supplied: ${names.join('; ')}. `)),
      words('Ask the engineer before this is built.'),
    ),
  ];
}

function whereabouts({ penetration, seal, remarks }: PageFacts, plan: KeyPlan): Html {
  if (penetration === null) return '';
  const { where, hosts } = penetration;
  const rows: (readonly [string, string | null])[] = [
    ['Level', where.level],
    [
      'Height of centre',
      where.heightAboveLevelMm === null
        ? null
        : `${mm(where.heightAboveLevelMm)} mm above the level`,
    ],
    ['Grid', where.grid],
    ['Along the wall', alongWallText(penetration)],
    ['Near side', sideText(where, 'near')],
    ['Far side', sideText(where, 'far')],
    ['Outside is', where.outside === null ? null : `the ${where.outside} side`],
    ['Depth', depthText(where)],
    ['Out of reach', outOfReachText(where)],
    ['Through', hosts.map(hostText).join('; ')],
    ['Provided', kindText(penetration)],
    [
      'Closed here',
      seal.opening === null
        ? 'size not known'
        : `${shapeText(seal.opening)} mm, ${seal.openingBasis}`,
    ],
    ['Asked of it', seal.duties.map(dutyText).join('; ') || 'nothing'],
    ['Remarks', remarks],
  ];
  return tag(
    'section',
    { class: 'where' },
    tag(
      'dl',
      {},
      ...rows
        .filter(([, value]) => isSaid(value))
        .map(
          ([term, value]) => `${tag('dt', {}, words(term))}${tag('dd', {}, words(value ?? ''))}`,
        ),
    ),
    plan.of(penetration) ?? '',
  );
}

function hostText(host: {
  readonly kind: string;
  readonly name: string;
  readonly thicknessMm: number;
  readonly material: string | null;
  readonly fireRating: string | null;
}): string {
  return [
    `${host.kind} ${host.name}`.trim(),
    `${mm(host.thicknessMm)} mm`,
    host.material,
    host.fireRating === null ? null : `rated ${host.fireRating}`,
  ]
    .filter(isSaid)
    .join(', ');
}

function positions({ passing }: PageFacts): Html {
  if (passing.length === 0) return '';
  return tag(
    'section',
    {},
    tag('h3', {}, words('What passes, and where it lies')),
    tag(
      'p',
      { class: 'note' },
      words('From the centre of the opening, seen from the near side: x to the right, y up; mm.'),
    ),
    textTable(
      ['What', 'Type', 'Size', 'x', 'y', 'Tube', 'Comes'],
      passing.map(positionRow),
      'list',
    ),
  );
}

function positionRow({ body, cable, comesAt }: Passing): string[] {
  const { outline } = body;
  return [
    body.ref,
    cable?.type ?? cable?.construction ?? '',
    outline.type === 'circle'
      ? `${mm(outline.diameterMm)} dia`
      : `${mm(outline.widthMm)} × ${mm(outline.heightMm)}`,
    body.xMm.toFixed(1),
    body.yMm.toFixed(1),
    body.tube?.name ?? 'bare',
    comesAt ?? (cable?.status === 'existing' ? 'is there' : 'now'),
  ];
}

function takeAlong({ seal: { fillerQuantities, sealant }, takes }: PageFacts): Html {
  const rows: string[][] = [
    ...fillerQuantities.map((one) => [
      `tube ${one.name}`,
      `${one.sets * (one.whole + one.split)}`,
      `${mm(one.lengthMm)} mm long; ${one.whole} whole, ${one.split} split${one.sets > 1 ? `; ${one.sets} sets` : ''}`,
    ]),
    ...(sealant === null
      ? []
      : [
          [
            sealant.name,
            sealant.containers.map(({ count, sizeMl }) => `${count} × ${mm(sizeMl)} ml`).join(', '),
            `${Math.ceil(sealant.netMl)} ml net, ${Math.ceil(sealant.withAllowancesMl)} ml with allowances`,
          ],
        ]),
  ];
  const also = [
    ...takes.consumables.map(({ name, quantity, unit }) => `${name} ${mm(quantity)} ${unit}`),
    ...(takes.tools ?? []).map(({ name, quantity }) => `${name} ${mm(quantity)}`),
  ].join('; ');
  return tag(
    'section',
    {},
    tag('h3', {}, words('To take along, for this seal alone')),
    textTable(['What', 'How many', ''], rows, 'list'),
    ...(also === ''
      ? []
      : [tag('p', { class: 'also' }, words(`Also, by the norms of the range: ${also}.`))]),
  );
}

function steps(facts: PageFacts): Html {
  return tag(
    'section',
    {},
    tag('h3', {}, words('In this order')),
    tag(
      'ol',
      {},
      ...stepsOf(facts).map(({ title, text }) =>
        tag('li', {}, tag('span', { class: 'box' }), tag('b', {}, words(title)), words(` ${text}`)),
      ),
    ),
  );
}

/** Those that are not met first, since they are what someone has to decide about. */
function checks(all: readonly Check[]): Html {
  if (all.length === 0) return '';
  const order = ['not met', 'not assessed', 'met'] as const;
  const sorted = order.flatMap((verdict) => all.filter((check) => check.verdict === verdict));
  return tag(
    'section',
    {},
    tag('h3', {}, words('Checks of the design, within the evidence supplied')),
    textTable(
      ['Check', 'Verdict', 'Value', 'Limit', 'Missing'],
      sorted.map((check) => [
        check.name,
        check.verdict,
        figure(check.value, check.unit),
        figure(check.limit, check.unit),
        check.missing.join('; '),
      ]),
      'list checks',
    ),
  );
}

function figure(value: number | null, unit: string): string {
  return value === null ? '' : `${Number(value.toPrecision(4))} ${unit}`.trim();
}

function records({ seal }: PageFacts): Html[] {
  const faces = seal.faces > 1 ? ['near face', 'far face'] : ['face'];
  const boxes = [
    'Opening as measured, mm',
    ...faces.map((face) => `Depth of sealant, ${face}, mm`),
    'Batch',
    'Expiry',
    'Photographs, no.',
    'As drawn: yes / no',
    'Defects',
  ];
  return [
    tag(
      'section',
      { class: 'record' },
      tag('h3', {}, words('Record')),
      tag('div', { class: 'boxes' }, ...boxes.map(box)),
      tag(
        'div',
        { class: 'boxes signed' },
        ...['Installed by, date', 'Inspected by, date', 'Passed / to be put right'].map(box),
      ),
    ),
  ];
}

function box(label: string): Html {
  return tag('div', {}, tag('span', {}, words(label)));
}

function cautions(): Html {
  return tag(
    'section',
    { class: 'cautions' },
    tag('h3', {}, words('Cautions')),
    ...CAUTIONS.slice(1).map(([subject, text]) =>
      tag('p', {}, tag('b', {}, words(`${subject}. `)), words(text)),
    ),
  );
}

function isSaid(value: string | null | undefined): value is string {
  return value !== null && value !== undefined && value !== '';
}
