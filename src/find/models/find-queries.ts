import { makeQuery, type Query } from '../../basics/query.ts';
import { shapeExtentMm, shapeText, sizeText } from '../../geometry/shape.ts';
import type { Section } from '../../model/building.ts';
import type { Crossing, Penetration } from '../../model/penetration.ts';
import type { Settings } from '../../model/settings.ts';
import { depthInShape } from './opening-body.ts';

/** An opening this far off what passes it, as a part of its size, is asked about. */
const OFF_CENTRE_RATIO = 0.25;

/** What a person should look at in one penetration. */
export function penetrationQueries(
  penetration: Penetration,
  levelsMm: readonly number[],
  settings: Settings,
): readonly Query[] {
  return [
    ...contentQueries(penetration),
    ...sizeQueries(penetration),
    ...fitQueries(penetration, settings.design.edgeMm),
    ...nearQueries(penetration, settings.design.separationMm),
    ...tradeQueries(penetration),
    ...storeyQueries(penetration, levelsMm),
  ];
}

function place(penetration: Penetration): string {
  const host = penetration.hosts[0];
  const name = host === undefined || host.name === '' ? 'the host' : host.name;
  const level = penetration.where.level;
  return `${name}${level === null ? '' : `, ${level}`}`;
}

function contentQueries(penetration: Penetration): readonly Query[] {
  const { id, kind, crossings } = penetration;
  const queries: Query[] = [];
  const about = { about: id, penetrationId: id, evidence: penetration.evidence };
  if (kind === 'unopened') {
    queries.push(
      makeQuery('service-without-opening', {
        ...about,
        text: `${serviceText(crossings)} passes ${place(penetration)} and no opening is modelled.`,
        why: 'The hole must be formed and its size agreed before it can be sealed.',
        settles: 'An opening in the model, or the size and place of the hole to be cored.',
        evidence: crossings.flatMap(({ evidence }) => evidence),
      }),
    );
  }
  if (crossings.length === 0) {
    queries.push(
      makeQuery('opening-without-service', {
        ...about,
        text: `An opening in ${place(penetration)} has no service passing it.`,
        why: 'It may be spare, to be closed, or its service may be missing from the models.',
        settles: 'Say what passes it, or that it is to be closed.',
      }),
    );
  }
  if (kind === 'provision') {
    queries.push(
      makeQuery('provision-not-cut', {
        ...about,
        text: `The void asked for in ${place(penetration)} is not cut in the host.`,
        why: 'The hole may not have been agreed with the structure.',
        settles: 'Agreement to the provision, or the opening itself.',
      }),
    );
  }
  return queries;
}

function sizeQueries(penetration: Penetration): readonly Query[] {
  return penetration.crossings.flatMap((crossing) => {
    const parts = {
      about: crossing.id,
      penetrationId: penetration.id,
      why: 'The seal is sized on what really passes.',
      evidence: crossing.evidence,
    };
    if (crossing.section === null) {
      return [
        makeQuery('size-unknown', {
          ...parts,
          text: `${nameOf(crossing)} through ${place(penetration)} has no size.`,
          settles: 'Its outside size.',
        }),
      ];
    }
    if (crossing.sizeBasis !== 'nominal') return [];
    return [
      makeQuery('size-nominal', {
        ...parts,
        text: `${nameOf(crossing)} through ${place(penetration)} is given by a nominal size only: ${sectionText(crossing.section)}.`,
        settles: 'The series it belongs to, or its outside diameter and bore.',
      }),
    ];
  });
}

function fitQueries(penetration: Penetration, edgeMm: number): readonly Query[] {
  const { shape } = penetration;
  if (shape === null) return [];
  const queries: Query[] = [];
  for (const crossing of penetration.crossings) {
    if (crossing.carriedBy !== null || crossing.section === null || crossing.offsetMm === null) {
      continue;
    }
    const parts = {
      about: crossing.id,
      penetrationId: penetration.id,
      why: 'What passes must clear the edge by room for the seal.',
      evidence: crossing.evidence,
    };
    const corners = sectionCorners(crossing.section, crossing.offsetMm);
    const sticksOut = corners.some(({ at, reach }) => depthInShape(shape, at) < reach - 0.5);
    if (!sticksOut) {
      const clear = Math.min(...corners.map(({ at, reach }) => depthInShape(shape, at) - reach));
      if (clear < edgeMm) {
        queries.push(
          makeQuery('service-near-edge', {
            ...parts,
            text: `${nameOf(crossing)} (${sectionText(crossing.section)}) is ${sizeText(Math.max(0, clear))} mm from the edge of the opening ${shapeText(shape)} in ${place(penetration)}, less than the ${sizeText(edgeMm)} mm asked for.`,
            settles: 'Where the opening and the service should be.',
          }),
        );
      }
      continue;
    }
    const centred = sectionCorners(crossing.section, [0, 0]);
    const isTooBig = centred.some(({ at, reach }) => depthInShape(shape, at) < reach - 0.5);
    queries.push(
      makeQuery(isTooBig ? 'opening-too-small' : 'opening-off-centre', {
        ...parts,
        text: isTooBig
          ? `${nameOf(crossing)} (${sectionText(crossing.section)}) does not fit the opening ${shapeText(shape)} in ${place(penetration)}.`
          : `${nameOf(crossing)} (${sectionText(crossing.section)}) lies ${sizeText(Math.hypot(...crossing.offsetMm))} mm off the middle of the opening ${shapeText(shape)} in ${place(penetration)} and cuts its edge.`,
        settles: isTooBig
          ? 'A larger opening or a smaller service.'
          : 'Where the opening and the service should be.',
      }),
    );
  }
  return queries.length > 0 ? queries : offCentreQueries(penetration);
}

/** One lone service far from the middle of its opening, though inside it. */
function offCentreQueries(penetration: Penetration): readonly Query[] {
  const { shape, crossings } = penetration;
  const bare = crossings.filter(({ carriedBy }) => carriedBy === null);
  const [only] = bare;
  if (shape === null || only === undefined || bare.length > 1 || only.offsetMm === null) return [];
  const { widthMm, heightMm } = shapeExtentMm(shape);
  const [x, y] = only.offsetMm;
  if (Math.abs(x) < widthMm * OFF_CENTRE_RATIO && Math.abs(y) < heightMm * OFF_CENTRE_RATIO)
    return [];
  return [
    makeQuery('opening-off-centre', {
      about: only.id,
      penetrationId: penetration.id,
      text: `${nameOf(only)} lies ${sizeText(Math.hypot(x, y))} mm off the middle of the opening ${shapeText(shape)} in ${place(penetration)}.`,
      why: 'The gap round it is uneven.',
      settles: 'Where the opening and the service should be.',
      evidence: only.evidence,
      severity: 'note',
    }),
  ];
}

function tradeQueries(penetration: Penetration): readonly Query[] {
  const kinds = new Set(penetration.crossings.map(({ kind }) => trade(kind)));
  if (kinds.size < 2) return [];
  return [
    makeQuery('opening-shared-by-trades', {
      about: penetration.id,
      penetrationId: penetration.id,
      text: `Services of several trades pass ${place(penetration)} together: ${[...kinds].sort().join(', ')}.`,
      why: 'Their seals and responsibilities may differ.',
      settles: 'Who seals the opening, and whether the trades may share it.',
      evidence: penetration.crossings.flatMap(({ evidence }) => evidence),
    }),
  ];
}

/** Services of one hole that leave less than the separation between them. */
function nearQueries(penetration: Penetration, separationMm: number): readonly Query[] {
  const bare = penetration.crossings.filter(
    ({ carriedBy, section, offsetMm }) =>
      carriedBy === null && section !== null && offsetMm !== null,
  );
  if (bare.length > MOST_COMPARED) return [];
  return bare.flatMap((one, n) =>
    bare.slice(n + 1).flatMap((other) => {
      const clear = clearBetweenMm(one, other);
      if (clear === null || clear >= separationMm) return [];
      return [
        makeQuery('services-too-near', {
          about: `${one.id}|${other.id}`,
          penetrationId: penetration.id,
          text: `${nameOf(one)} and ${nameOf(other)} in ${place(penetration)} are ${clear < 0 ? 'in each other’s place' : `${sizeText(clear)} mm apart`}, less than the ${sizeText(separationMm)} mm asked for.`,
          why: 'The seal must reach round each of them.',
          settles: 'Where they should pass.',
          evidence: [...one.evidence, ...other.evidence],
        }),
      ];
    }),
  );
}

/** Beyond this many services the arrangement says what is too near. */
const MOST_COMPARED = 60;

/** Clear distance between two outsides in the section; boxes for what is not round. */
function clearBetweenMm(a: Crossing, b: Crossing): number | null {
  if (a.section === null || b.section === null || a.offsetMm === null || b.offsetMm === null)
    return null;
  const dx = Math.abs(a.offsetMm[0] - b.offsetMm[0]);
  const dy = Math.abs(a.offsetMm[1] - b.offsetMm[1]);
  if (a.section.type === 'circle' && b.section.type === 'circle') {
    return Math.hypot(dx, dy) - (a.section.diameterMm + b.section.diameterMm) / 2;
  }
  const half = (section: Section): readonly [number, number] =>
    section.type === 'circle'
      ? [section.diameterMm / 2, section.diameterMm / 2]
      : [section.widthMm / 2, section.heightMm / 2];
  const [ax, ay] = half(a.section);
  const [bx, by] = half(b.section);
  const gapX = dx - ax - bx;
  const gapY = dy - ay - by;
  return gapX > 0 && gapY > 0 ? Math.hypot(gapX, gapY) : Math.max(gapX, gapY);
}

/** A level this much inside the opening's height counts as crossed by it, mm. */
const INSIDE_OPENING_MM = 50;

function storeyQueries(penetration: Penetration, levelsMm: readonly number[]): readonly Query[] {
  const { frame, shape, openings } = penetration;
  if (shape === null || openings.length === 0 || Math.abs(frame.axis[2]) > 0.7) return [];
  const half = shapeExtentMm(shape).heightMm / 2;
  const crossed = levelsMm.filter(
    (level) => Math.abs(level - frame.originMm[2]) < half - INSIDE_OPENING_MM,
  );
  if (crossed.length === 0) return [];
  return [
    makeQuery('opening-spans-storeys', {
      about: penetration.id,
      penetrationId: penetration.id,
      text: `The opening ${shapeText(shape)} in ${place(penetration)} goes past the level of a storey.`,
      why: 'It may be meant for two storeys, with a floor between.',
      settles: 'Whether it is one opening or two.',
      evidence: penetration.evidence,
    }),
  ];
}

function trade(kind: Crossing['kind']): string {
  return kind === 'duct' ? 'ducts' : kind === 'pipe' ? 'pipes' : 'electrical';
}

function sectionCorners(
  section: Section,
  [x, y]: readonly [number, number],
): readonly { readonly at: readonly [number, number]; readonly reach: number }[] {
  if (section.type === 'circle') return [{ at: [x, y], reach: section.diameterMm / 2 }];
  const [a, b] = [section.widthMm / 2, section.heightMm / 2];
  return [
    { at: [x - a, y - b], reach: 0 },
    { at: [x + a, y - b], reach: 0 },
    { at: [x + a, y + b], reach: 0 },
    { at: [x - a, y + b], reach: 0 },
  ];
}

function sectionText(section: Section): string {
  return section.type === 'circle'
    ? `${sizeText(section.diameterMm)} dia`
    : `${sizeText(section.widthMm)} × ${sizeText(section.heightMm)}`;
}

function nameOf(crossing: Crossing): string {
  const [reference] = crossing.references;
  return reference === undefined
    ? `A ${crossing.kind}`
    : `The ${crossing.kind} "${reference.text}"`;
}

function serviceText(crossings: readonly Crossing[]): string {
  const [first] = crossings;
  if (first === undefined) return 'A service';
  return crossings.length === 1
    ? nameOf(first)
    : `${nameOf(first)} with ${crossings.length - 1} more`;
}
