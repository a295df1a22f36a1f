import { type Box, boxToBox } from '../../geometry/packing/box-distance.ts';
import { sineCosine } from '../../geometry/packing/exact-trigonometry.ts';
import type { Impossibility } from '../../geometry/packing/impossibility.ts';
import type { Region } from '../../geometry/packing/region.ts';
import type { ArrangementProblem } from '../../model/arrangement.ts';
import { type BuiltBody, type Member, memberPlaces } from './as-built.ts';
import { askedPair, askedWall, type Part } from './pack-needs.ts';

/** Distances short by less than this are rounding of whoever wrote the places down, mm. */
const ROUNDING_MM = 1e-6;

interface Standing {
  readonly part: Part;
  readonly member: Member;
  readonly box: Box;
}

/** A proof that bodies which may not be moved stand too close to each other or to the wall. */
export function fixedFault(
  problem: ArrangementProblem,
  bodies: readonly BuiltBody[],
  region: Region,
): Impossibility | null {
  const standing = bodies.flatMap(standingParts);
  for (const [k, a] of standing.entries()) {
    const clear = region.clearance(a.box.x, a.box.y) - Math.min(a.member.halfX, a.member.halfY);
    const need = askedWall(problem, a.part);
    if (clear < need - ROUNDING_MM) return fault(a, 'the wall', clear, need);
    for (const b of standing.slice(k + 1)) {
      const apart = boxToBox(a.box, b.box);
      const least = askedPair(problem, a.part, b.part);
      if (apart < least - ROUNDING_MM) return fault(a, b.member.body.ref, apart, least);
    }
  }
  return null;
}

function standingParts(body: BuiltBody): Standing[] {
  const fixedAt = body.members[0]?.body.fixedAt;
  if (fixedAt === undefined) return [];
  const { xMm, yMm, angleRad = 0 } = fixedAt;
  const [sine, cosine] = sineCosine(angleRad);
  return memberPlaces({ body, x: xMm, y: yMm, angleRad }).map(({ member, x, y }) => ({
    part: { body, member },
    member,
    box: { x, y, cosine, sine, halfX: member.halfX, halfY: member.halfY },
  }));
}

function fault({ box }: Standing, other: string, distance: number, need: number): Impossibility {
  const what = other === 'the wall' ? other : 'another that stands fast';
  return {
    name: 'bodies that stand fast',
    text: `the body that stands at ${box.x.toFixed(1)}, ${box.y.toFixed(1)} mm is ${distance.toFixed(3)} mm from ${what}, measured from centres or sides; it must be ${need.toFixed(3)} mm.`,
  };
}
