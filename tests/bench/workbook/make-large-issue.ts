import type { Cable, CableMatch } from '../../../src/model/cable.ts';
import type { Issue } from '../../../src/model/issue.ts';
import type { Penetration } from '../../../src/model/penetration.ts';
import type { Seal } from '../../../src/model/seal.ts';
import { makeCable, makeCheck, makeIssue, threeCableSeal } from '../../makers/issue/make-issue.ts';
import { makeCrossing, makePenetration } from '../../makers/issue/make-penetration.ts';

const CHECKS = [
  'fill',
  'jam ratio',
  'water thrust on bond',
  'fire evidence',
  'gas boundary',
  'ferrous loop',
  'power and data apart',
  'room for a nozzle',
  'depth for fillers',
];

/** An issue of so many penetrations, three cable rows to each, with so many different drawings. */
export function makeLargeIssue(penetrationCount: number, drawingCount: number): Issue {
  const penetrations: Penetration[] = [];
  const seals: Seal[] = [];
  const cables: Cable[] = [];
  const matches: CableMatch[] = [];
  const tags = new Map<string, string>();
  const checks = CHECKS.map((name) => makeCheck(name, { missing: ['a record'] }));
  const seal = threeCableSeal('', { checks });
  for (let at = 0; at < penetrationCount; at += 1) {
    const id = `arch:host-${at % 400}/arch:opening-${at}`;
    penetrations.push(makePenetration(id, { crossings: [makeCrossing(`run-${at}`)] }));
    tags.set(id, `L01-${String(at + 1).padStart(5, '0')}`);
    seals.push({
      ...seal,
      id: `${id}/annulus`,
      penetrationId: id,
      typeKey: `type-${at % drawingCount}`,
    });
    for (let no = 0; no < 3; no += 1) {
      const cable = makeCable(`P-${at}-${no}`, at * 3 + no + 2);
      cables.push(cable);
      matches.push({
        cableId: cable.id,
        penetrationId: id,
        crossingId: null,
        confidence: 0.95,
        reasons: ['reference on the opening', 'the route names it'],
      });
    }
  }
  const outcomes = cables.map(({ id }) => ({
    cableId: id,
    outcome: 'matched' as const,
    reason: null,
    candidates: [],
  }));
  return makeIssue({
    penetrations,
    seals,
    tags,
    schedule: { cables, rows: [] },
    matches: { matches, outcomes },
  });
}
