import { groupBy } from '../../basics/order.ts';
import { type Shape, shapeExtentMm, shapeText } from '../../geometry/shape.ts';
import type { Issue } from '../../model/issue.ts';
import type { Penetration } from '../../model/penetration.ts';
import type { Seal } from '../../model/seal.ts';
import type { DxfTagEdit } from '../../model/tag-edit.ts';

/** Marked where no size is known, mm. */
const UNKNOWN_SIZE_MM = 100;

/**
 * What an issue has for the drawing of the given file key, in order of tag: all penetrations, since
 * a plan also shows places that were found in models. `tagDxf` leaves out what no view shows.
 */
export function dxfTagEdits(issue: Issue, fileKey: string): DxfTagEdit[] {
  const seals = groupBy(issue.seals, ({ penetrationId }) => penetrationId);
  const names = new Map(issue.schedule.cables.map(({ id, ref }) => [id, ref]));
  const cables = groupBy(issue.matches.matches, ({ penetrationId }) => penetrationId);
  const asked = issue.queries.filter(({ severity }) => severity !== 'note');
  const queries = groupBy(asked, ({ penetrationId }) => penetrationId ?? '');
  return issue.penetrations.flatMap((penetration) => {
    const tag = issue.tags.get(penetration.id);
    if (tag === undefined) return [];
    const own = seals.get(penetration.id) ?? [];
    const shape = penetration.shape ?? own.find(({ path }) => path === 'annulus')?.opening ?? null;
    const open = queries.get(penetration.id)?.length ?? 0;
    const passing = cables.get(penetration.id) ?? [];
    return {
      tag,
      atMm: penetration.frame.originMm,
      level: penetration.where.level,
      sizeMm: shape === null ? UNKNOWN_SIZE_MM : widestMm(shape),
      hasQuery: open > 0,
      isSeen: isSeenIn(penetration, fileKey),
      texts: [
        { name: 'REVISION', text: issue.settings.issue.revision },
        { name: 'OPENING', text: openingText(penetration, shape) },
        { name: 'SEAL', text: own.map(sealText).join('; ') },
        {
          name: 'CABLES',
          text: passing.map(({ cableId }) => names.get(cableId) ?? cableId).join(' '),
        },
        { name: 'QUERIES', text: String(open) },
      ],
    };
  });
}

/** Whether any part of it was read in that drawing. */
function isSeenIn(penetration: Penetration, fileKey: string): boolean {
  const refs = [
    ...penetration.openings.map(({ ref }) => ref),
    ...penetration.hosts.map(({ ref }) => ref),
    ...penetration.crossings.flatMap((crossing) => crossing.refs),
    ...penetration.evidence.map(({ place }) => place),
    ...penetration.crossings.flatMap(({ evidence }) => evidence.map(({ place }) => place)),
  ];
  return refs.some((ref) => ref.fileKey === fileKey);
}

function widestMm(shape: Shape): number {
  const { widthMm, heightMm } = shapeExtentMm(shape);
  return Math.max(widthMm, heightMm);
}

function openingText(penetration: Penetration, shape: Shape | null): string {
  if (shape === null) return 'size not known';
  return penetration.shape === null ? `needed: ${shapeText(shape)}` : shapeText(shape);
}

function sealText(seal: Seal): string {
  if (seal.state !== 'designed') return seal.reason ?? 'no seal designed';
  const faces = seal.faces === 1 ? 'one face' : `${seal.faces} faces`;
  return `${seal.sealant?.name ?? 'sealant'}, ${seal.setBackMm} mm, ${faces}`;
}
