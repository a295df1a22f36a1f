import { sineCosine } from '../../geometry/packing/exact-trigonometry.ts';
import { type Shape, shapeExtentMm } from '../../geometry/shape.ts';
import type { ArrangementProblem, PreferenceWeights } from '../../model/arrangement.ts';
import type { BuiltBody, PlacedPiece } from './as-built.ts';
import type { Filled } from './filled-solver.ts';

/**
 * What an installer would choose among layouts that are otherwise equal. Own choice of weights, all
 * settings: cover first, then heavy cables low, then a layout that looks the same in a mirror, then
 * fewer tube sizes.
 */
const PREFERENCES: PreferenceWeights = {
  cover: 100,
  heavyLow: 1,
  symmetry: 0.5,
  fewSizes: 0.2,
  nozzleRoom: 0.2,
};

/** A nozzle with its bead passes between bodies this far apart. Common practice, no source. */
const NOZZLE_MM = 12;

/** Turns of a round opening that are looked at. */
const TURNS = 24;

/** The layout that is liked best: equal cables changed for the heavier lower, then turned or mirrored. */
export function preferred(problem: ArrangementProblem, options: readonly Filled[]): Filled {
  const weights = { ...PREFERENCES, ...problem.preferences };
  let best: Filled | null = null;
  let most = Number.NEGATIVE_INFINITY;
  for (const option of options) {
    // Neither changes when a layout is turned or mirrored.
    const cover = coverTerm(problem, option, weights) + weights.nozzleRoom * roomTerm(option);
    for (const image of imagesOf(problem, option)) {
      const settled = heavyOnesLow(image);
      const liked =
        cover -
        weights.heavyLow * heightTerm(problem.opening, settled) -
        weights.symmetry * mirrorTerm(problem.opening, settled);
      // A difference in the last digits is no preference: the first image stands.
      if (liked <= most + 1e-9) continue;
      most = liked;
      best = settled;
    }
  }
  return best ?? options[0] ?? { placed: [], tubes: [] };
}

/** Covered share, and the number of tube sizes. */
function coverTerm(
  { opening, fillers }: ArrangementProblem,
  { tubes }: Filled,
  weights: PreferenceWeights,
): number {
  const { width, height } = boxOf(opening);
  const area = tubes.reduce((total, { filler }) => total + filler.outsideMm * filler.outsideMm, 0);
  const sizes = fillers.filter(({ name }) =>
    tubes.some(({ filler }) => filler.name === name),
  ).length;
  return (weights.cover * area) / (width * height) - weights.fewSizes * sizes;
}

/** Mean room from each body to its nearest neighbour, as a share of a nozzle's: 0–1. */
function roomTerm({ placed }: Filled): number {
  if (placed.length < 2) return 1;
  const members = placed.flatMap(({ body, x, y, angleRad }, piece) => {
    const [sine, cosine] = sineCosine(angleRad);
    return body.members.map(({ dx, dy, ownRadiusMm, halfX, halfY }) => ({
      piece,
      x: x + dx * cosine - dy * sine,
      y: y + dx * sine + dy * cosine,
      reach: Math.max(ownRadiusMm, halfX, halfY),
    }));
  });
  let total = 0;
  for (const a of members) {
    let nearest = NOZZLE_MM;
    for (const b of members) {
      if (a.piece === b.piece) continue;
      const dx = a.x - b.x;
      const dy = a.y - b.y;
      nearest = Math.min(nearest, Math.sqrt(dx * dx + dy * dy) - a.reach - b.reach);
    }
    total += Math.max(0, nearest) / NOZZLE_MM;
  }
  return total / members.length;
}

/** Height of the centre of mass, as a share of the opening's height; area stands in for mass. */
function heightTerm(opening: Shape, { placed }: Filled): number {
  let moment = 0;
  let total = 0;
  for (const piece of placed) {
    const mass = massOf(piece.body);
    moment += mass * piece.y;
    total += mass;
  }
  return total > 0 ? moment / total / boxOf(opening).height : 0;
}

/** Mean distance of each body from the mirror image of one like it, as a share of the width. */
function mirrorTerm(opening: Shape, { placed }: Filled): number {
  let total = 0;
  let counted = 0;
  for (const a of placed) {
    let nearest = Number.POSITIVE_INFINITY;
    for (const b of placed) {
      if (!areAlike(a.body, b.body)) continue;
      const dx = a.x + b.x;
      const dy = a.y - b.y;
      nearest = Math.min(nearest, dx * dx + dy * dy);
    }
    // A bundle or a body that stands fast has none like it.
    if (nearest === Number.POSITIVE_INFINITY) continue;
    total += Math.sqrt(nearest);
    counted++;
  }
  return counted === 0 ? 0 : total / counted / boxOf(opening).width;
}

/** The layout itself, and turned and mirrored as far as opening and bodies allow. */
function imagesOf({ opening, bodies }: ArrangementProblem, filled: Filled): Filled[] {
  if (opening.type === 'polygon' || bodies.some(({ fixedAt }) => fixedAt !== undefined)) {
    return [filled];
  }
  const isTurnable = bodies.every(
    ({ outline }) => outline.type === 'circle' || outline.turns === 'free',
  );
  const turns =
    opening.type === 'circle' && isTurnable
      ? Array.from({ length: TURNS }, (_, k) => (2 * Math.PI * k) / TURNS)
      : [0, Math.PI];
  const mirrored = [filled, mirror(filled)];
  return turns.flatMap((angle) => mirrored.map((one) => (angle === 0 ? one : turn(one, angle))));
}

function turn({ placed, tubes }: Filled, angleRad: number): Filled {
  const [sine, cosine] = sineCosine(angleRad);
  const move = (x: number, y: number) => [x * cosine - y * sine, x * sine + y * cosine] as const;
  return {
    placed: placed.map((piece) => {
      const [x, y] = move(piece.x, piece.y);
      // Half a turn leaves a rectangle as it was.
      const isHalf = angleRad === Math.PI && piece.body.members.length === 1;
      return { ...piece, x, y, angleRad: piece.angleRad + (isHalf ? 0 : angleRad) };
    }),
    tubes: tubes.map((tube) => ({ ...tube, at: move(tube.at[0], tube.at[1]) })),
  };
}

/** Left to right; bundles of three or a row of unlike cables are no mirror image of themselves. */
function mirror({ placed, tubes }: Filled): Filled {
  if (placed.some(({ body }) => body.members.length > 1)) return { placed, tubes };
  return {
    placed: placed.map((piece) => ({ ...piece, x: -piece.x, angleRad: -piece.angleRad })),
    tubes: tubes.map((tube) => ({ ...tube, at: [-tube.at[0], tube.at[1]] as const })),
  };
}

/** Bodies that can stand in each other's place do so, the heaviest lowest. */
function heavyOnesLow(filled: Filled): Filled {
  const placed = [...filled.placed];
  for (let i = 0; i < placed.length; i++) {
    for (let j = 0; j < placed.length; j++) {
      const a = placed[i] as PlacedPiece;
      const b = placed[j] as PlacedPiece;
      const isMoved = massOf(a.body) > massOf(b.body) && a.y > b.y && areAlike(a.body, b.body);
      if (!isMoved) continue;
      placed[i] = { ...b, body: a.body };
      placed[j] = { ...a, body: b.body };
    }
  }
  return { placed, tubes: filled.tubes };
}

function areAlike(a: BuiltBody, b: BuiltBody): boolean {
  const [p, ...moreA] = a.members;
  const [q, ...moreB] = b.members;
  if (p === undefined || q === undefined || moreA.length > 0 || moreB.length > 0) return false;
  return (
    p.ownRadiusMm === q.ownRadiusMm &&
    p.builtRadiusMm === q.builtRadiusMm &&
    p.halfX === q.halfX &&
    p.halfY === q.halfY &&
    p.body.separationClass === q.body.separationClass &&
    p.body.fixedAt === undefined &&
    q.body.fixedAt === undefined &&
    a.isCord === b.isCord
  );
}

function massOf({ members }: BuiltBody): number {
  let mass = 0;
  for (const { body } of members) {
    const { outline, massKgPerM } = body;
    if (massKgPerM !== undefined) mass += massKgPerM;
    else if (outline.type === 'rectangle')
      mass += outline.widthMm * outline.heightMm * MASS_PER_MM2;
    else mass += outline.diameterMm * outline.diameterMm * 0.785 * MASS_PER_MM2;
  }
  return mass;
}

/** About that of a power cable, kg/m for a square millimetre of its section; only to compare. */
const MASS_PER_MM2 = 0.0025;

function boxOf(shape: Shape): { readonly width: number; readonly height: number } {
  const { widthMm, heightMm } = shapeExtentMm(shape);
  return { width: widthMm, height: heightMm };
}
