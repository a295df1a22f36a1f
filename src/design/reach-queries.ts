import { makeQuery, type Query } from '../basics/query.ts';
import type { Penetration } from '../model/penetration.ts';
import type { Seal } from '../model/seal.ts';

/** Seals that need both faces where one can't be got at: one question a penetration. */
export function reachQueries(
  penetrations: readonly Penetration[],
  seals: readonly Seal[],
): readonly Query[] {
  const needBoth = new Set(
    seals.flatMap(({ penetrationId, state, faces }) =>
      state === 'designed' && faces === 2 ? [penetrationId] : [],
    ),
  );
  return penetrations.flatMap(({ id, where: { outOfReach } }) =>
    outOfReach === undefined || !needBoth.has(id)
      ? []
      : [
          makeQuery('face-out-of-reach', {
            about: id,
            penetrationId: id,
            text: `The seal needs both faces; the ${outOfReach.side} one can't be reached: ${outOfReach.why}.`,
            why: 'A face that is buried can be sealed before it is filled in, or not at all.',
            settles: 'When the face is open, or a seal from one face whose evidence allows it.',
          }),
        ],
  );
}
