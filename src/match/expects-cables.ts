import type { Crossing } from '../model/penetration.ts';

/** A cable, or a body that is there to hold cables. A duct that moves air has no cable bore. */
export function expectsCables({ kind, boreMm }: Crossing): boolean {
  if (kind === 'duct') return boreMm !== null;
  return kind === 'cable' || kind === 'conduit' || kind === 'carrier';
}
