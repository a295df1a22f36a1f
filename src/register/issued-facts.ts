import { compareText, sum } from '../basics/order.ts';
import { tenth } from '../basics/tenth.ts';
import { shapeText, sizeText } from '../geometry/shape.ts';
import type { Crossing, Penetration } from '../model/penetration.ts';
import type { IssuedFacts } from '../model/register.ts';
import type { Seal } from '../model/seal.ts';

/** What a penetration is in this issue, in the form the register keeps. Places in whole tenths of mm. */
export function issuedFacts(
  penetration: Penetration,
  seals: readonly Seal[],
  cableRefs: readonly string[],
): IssuedFacts {
  const [x, y, z] = penetration.frame.originMm;
  return {
    kind: penetration.kind,
    level: penetration.where.level,
    centreMm: [tenth(x), tenth(y), tenth(z)],
    thicknessMm: tenth(penetration.thicknessMm),
    shape: penetration.shape === null ? null : shapeText(penetration.shape),
    services: penetration.crossings.map(serviceText).sort(compareText),
    cables: [...cableRefs].sort(compareText),
    duties: [...new Set(seals.flatMap((seal) => seal.duties.map(dutyText)))].sort(compareText),
    design: seals.map(designText).sort(compareText),
    sealantMl: tenth(sum(seals.map((seal) => seal.sealant?.withAllowancesMl ?? 0))),
    fillers: countFillers(seals),
  };
}

function serviceText({ kind, section }: Crossing): string {
  if (section === null) return `${kind}, size unknown`;
  return section.type === 'circle'
    ? `${kind} ${sizeText(section.diameterMm)} dia`
    : `${kind} ${sizeText(section.widthMm)} × ${sizeText(section.heightMm)}`;
}

function dutyText({ kind, rating, headM }: Seal['duties'][number]): string {
  return [kind, rating, headM === null ? null : `${tenth(headM)} m`].filter(Boolean).join(' ');
}

function designText(seal: Seal): string {
  if (seal.state !== 'designed') return `${seal.path}: ${seal.state} (${seal.reason ?? ''})`;
  const fillers = Object.entries(countFillers([seal])).map(([name, count]) => `${count} × ${name}`);
  const layer = `${sizeText(seal.setBackMm)} mm × ${seal.faces}`;
  return [`${seal.path}: ${layer}`, ...fillers].join(', ');
}

function countFillers(seals: readonly Seal[]): Record<string, number> {
  const counts: [string, number][] = [];
  for (const { name, whole, split, sets } of seals.flatMap((seal) => seal.fillerQuantities)) {
    const entry = counts.find(([known]) => known === name);
    const count = (whole + split) * sets;
    if (entry === undefined) counts.push([name, count]);
    else entry[1] += count;
  }
  return Object.fromEntries(counts.sort(([a], [b]) => compareText(a, b)));
}
