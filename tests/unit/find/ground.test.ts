import { describe, expect, test } from 'vitest';
import { withGround } from '../../../src/find/ground.ts';
import type { Penetration } from '../../../src/model/penetration.ts';
import { Settings } from '../../../src/model/settings.ts';
import { makePenetration } from '../../makers/seal/make-penetration.ts';

/** A round 150 mm hole at z = 1000: its lowest point lies at 925. */
const hole = makePenetration();
const where = (ground: object, penetration: Penetration = hole) => {
  const findings = { penetrations: [penetration], ledger: { services: [], openings: [] } };
  return withGround(findings, Settings.parse({ ground })).penetrations[0]?.where;
};

describe('below ground and water', () => {
  test('by how much, from the lowest point of the hole', () => {
    expect(where({ levelMm: 2000, waterLevelMm: 1500 })).toMatchObject({
      belowGroundMm: 1075,
      belowWaterMm: 575,
    });
  });
  test('nothing is said above both, or without levels', () => {
    expect(where({ levelMm: 900, waterLevelMm: 925 })).toEqual(hole.where);
    expect(where({})).toEqual(hole.where);
  });
  test('the face that lies against the ground can’t be reached', () => {
    const outer = makePenetration({ where: { ...hole.where, outside: 'far' } });
    expect(where({ levelMm: 2000 }, outer)?.outOfReach?.side).toBe('far');
    expect(where({ waterLevelMm: 2000 }, outer)?.outOfReach).toBeUndefined();
    expect(where({ levelMm: 2000 })?.outOfReach).toBeUndefined();
  });
});
