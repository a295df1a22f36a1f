import type { Check } from '../../model/seal.ts';
import { hasSparePolicy } from '../spare-policy.ts';
import { assessed, type CheckInput, notAssessed } from './check-parts.ts';

/** Cables of the spare policy that can still come without moving others. None without a policy. */
export function spareChecks({ seal, subject, design }: CheckInput): Check[] {
  const { count, diameterMm } = design.spare;
  if (!hasSparePolicy(subject, design)) return [];
  const name = 'room for later cables';
  const source = 'spare policy of the project';
  const more = seal.spare?.policyMore ?? null;
  if (more === null) {
    return [notAssessed(name, 'spare', { unit: 'cables', missing: ['an arrangement'], source })];
  }
  return [
    assessed(name, 'spare', {
      value: more,
      unit: 'cables',
      limit: count,
      limitIs: 'least',
      note: `cables of ${diameterMm} mm that can be added without moving others`,
      source,
    }),
  ];
}
