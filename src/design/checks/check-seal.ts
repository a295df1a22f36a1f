import type { Check } from '../../model/seal.ts';
import { buildChecks } from './build.ts';
import type { CheckInput } from './check-parts.ts';
import { evidenceChecks } from './evidence.ts';
import { fillChecks } from './fill.ts';
import { waterChecks } from './water.ts';

/** All checks of one seal, subject by subject. */
export function checkSeal(input: CheckInput): Check[] {
  return [
    ...fillChecks(input),
    ...waterChecks(input),
    ...evidenceChecks(input),
    ...buildChecks(input),
  ];
}
