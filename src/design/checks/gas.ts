import type { Check } from '../../model/seal.ts';
import { type CheckInput, notAssessed } from './check-parts.ts';

/**
 * A boundary of hazardous areas asks for a seal, and for more than evidence of the seal alone.
 * @source IEC 60079-14, openings between areas adequately sealed, ducts sealed against the passage
 * of gas (from memory, no clause: editions differ).
 */
export function gasChecks({ seal }: CheckInput): Check[] {
  const boundary = seal.duties.find(({ kind }) => kind === 'hazardous area');
  if (boundary === undefined) return [];
  return [
    notAssessed('boundary of a hazardous area', 'gas', {
      missing: ['zone on each side', 'pressure difference', 'gas evidence for the seal'],
      note: `${boundary.reason}; a seal limits the passage of gas at atmospheric pressure, it is not gas-tight without further measures; a fire or water record is no evidence of it`,
      source: 'IEC 60079-14, from memory',
    }),
  ];
}
