import type { Decision } from '../../../src/model/decision.ts';

/** A decision on a penetration, given on the page in revision A. */
export function decided(
  subject: string,
  field: string,
  value: string,
  rest: Partial<Decision> = {},
): Decision {
  return {
    about: 'penetration',
    subject,
    field,
    tag: null,
    value,
    against: null,
    revision: 'A',
    from: 'review page',
    ...rest,
  };
}
