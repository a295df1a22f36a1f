import type { SizeBasis } from '../model/building.ts';
import { CONDUIT_SIZES } from './tables/conduit-sizes.ts';

/** How far a written size may lie from a table's; own choice, half the step of the closest sizes. */
const SIZE_TOLERANCE_MM = 0.6;

/**
 * Bores that a size may stand for, smallest first, one a bore; empty when no table has it.
 * An outside is looked up among outsides; a nominal size also names its bore or its number.
 */
export function boreCandidates(
  diameterMm: number,
  basis: SizeBasis,
): readonly { readonly family: string; readonly boreMm: number }[] {
  const isClose = (valueMm: number) => Math.abs(valueMm - diameterMm) <= SIZE_TOLERANCE_MM;
  const found = CONDUIT_SIZES.filter(
    (size) =>
      isClose(size.outsideMm) || (basis !== 'outside' && Number(size.nominal) === diameterMm),
  ).map(({ family, boreMm }) => ({ family, boreMm }));
  // A nominal size is as often the clear bore itself.
  if (basis !== 'outside') {
    found.push({ family: 'if it names the bore', boreMm: diameterMm });
  }
  found.sort((a, b) => a.boreMm - b.boreMm);
  return found.filter(({ boreMm }, at) => found[at - 1]?.boreMm !== boreMm);
}
