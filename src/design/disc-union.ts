/** A disc in the plane, mm. */
export interface Disc {
  readonly xMm: number;
  readonly yMm: number;
  readonly radiusMm: number;
}

/**
 * Area covered by discs that may overlap, mm².
 * @source Green's theorem along the arcs that no other disc covers: ½ ∮ (x dy − y dx).
 */
export function discUnionAreaMm2(discs: readonly Disc[]): number {
  const kept = withoutSwallowed(discs);
  return kept.reduce(
    (mm2, disc) =>
      mm2 + freeArcs(disc, kept).reduce((sum, [from, to]) => sum + arcIntegral(disc, from, to), 0),
    0,
  );
}

/** Discs that lie in no other; of discs that lie in each other (equal ones) the first. */
function withoutSwallowed(discs: readonly Disc[]): Disc[] {
  return discs.filter(
    (disc, at) =>
      disc.radiusMm > 0 &&
      !discs.some(
        (other, otherAt) =>
          otherAt !== at && liesIn(disc, other) && (otherAt < at || !liesIn(other, disc)),
      ),
  );
}

function liesIn(inner: Disc, outer: Disc): boolean {
  const apartMm = Math.hypot(outer.xMm - inner.xMm, outer.yMm - inner.yMm);
  return apartMm + inner.radiusMm <= outer.radiusMm;
}

/** Angles of the rim that no other disc covers, each from < to. */
function freeArcs(disc: Disc, discs: readonly Disc[]): [number, number][] {
  const covered: [number, number][] = [];
  for (const other of discs) {
    const dx = other.xMm - disc.xMm;
    const dy = other.yMm - disc.yMm;
    const apart = Math.hypot(dx, dy);
    if (other === disc || apart >= disc.radiusMm + other.radiusMm || apart === 0) continue;
    if (apart <= Math.abs(disc.radiusMm - other.radiusMm)) continue;
    const cosine =
      (apart ** 2 + disc.radiusMm ** 2 - other.radiusMm ** 2) / (2 * apart * disc.radiusMm);
    const half = Math.acos(Math.min(1, Math.max(-1, cosine)));
    const middle = Math.atan2(dy, dx);
    covered.push(...withinTurn(middle - half, middle + half));
  }
  covered.sort((a, b) => a[0] - b[0]);
  const free: [number, number][] = [];
  let at = 0;
  for (const [from, to] of covered) {
    if (from > at) free.push([at, from]);
    at = Math.max(at, to);
  }
  if (at < 2 * Math.PI) free.push([at, 2 * Math.PI]);
  return free;
}

/** An arc as parts of one turn from 0 to 2π. */
function withinTurn(from: number, to: number): [number, number][] {
  const turn = 2 * Math.PI;
  const start = ((from % turn) + turn) % turn;
  const end = start + (to - from);
  return end <= turn
    ? [[start, end]]
    : [
        [start, turn],
        [0, end - turn],
      ];
}

function arcIntegral({ xMm, yMm, radiusMm }: Disc, from: number, to: number): number {
  return (
    (radiusMm / 2) *
    (radiusMm * (to - from) +
      xMm * (Math.sin(to) - Math.sin(from)) -
      yMm * (Math.cos(to) - Math.cos(from)))
  );
}
