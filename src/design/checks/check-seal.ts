import type { Check } from '../../model/seal.ts';
import { buildChecks } from './build.ts';
import type { CheckInput } from './check-parts.ts';
import { electricalChecks } from './electrical.ts';
import { evidenceChecks } from './evidence.ts';
import { fillChecks } from './fill.ts';
import { gasChecks } from './gas.ts';
import { spareChecks } from './spare.ts';
import { structureChecks } from './structure.ts';
import { waterChecks } from './water.ts';

/** All checks of one seal, subject by subject. */
export function checkSeal(input: CheckInput): Check[] {
  return [
    ...fillChecks(input),
    ...waterChecks(input),
    ...evidenceChecks(input),
    ...gasChecks(input),
    ...electricalChecks(input),
    ...buildChecks(input),
    ...spareChecks(input),
    ...structureChecks(input),
  ];
}
