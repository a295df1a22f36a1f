import { describe, expect, test } from 'vitest';
import { brief, findIn, outcomeOf } from '../../../makers/ifc/find-in.ts';
import { IfcMaker, MAKER_SCHEMAS } from '../../../makers/ifc/ifc-maker.ts';

describe.each(MAKER_SCHEMAS)('a wall with services, %s', (schema) => {
  test('a pipe in a round opening is one penetration with its true sizes', async () => {
    const m = new IfcMaker({ schema });
    const ground = m.storey('Ground', 0);
    const wall = m.wall({
      at: [0, 0, 0],
      length: 4000,
      thickness: 200,
      height: 3000,
      name: 'W1',
      storey: ground,
    });
    const opening = m.opening(wall, {
      at: [2000, 0, 1500],
      axis: [0, 1, 0],
      outline: { circle: 150 },
      depth: 300,
    });
    const pipe = m.segment('pipe', {
      from: [2000, -1000, 1500],
      to: [2000, 1000, 1500],
      outline: { circle: 110 },
      storey: ground,
    });
    const found = await findIn(m);
    expect(found.findings.penetrations.map(brief)).toEqual([
      { kind: 'opening', hosts: [wall.guid], openings: [opening.guid], services: [[pipe.guid]] },
    ]);
    const [penetration] = found.findings.penetrations;
    expect(penetration?.shape).toEqual({ type: 'circle', diameterMm: 150 });
    expect(penetration?.thicknessMm).toBeCloseTo(200, 3);
    expect(penetration?.frame.originMm.map((v) => Math.round(v * 1000) / 1000)).toEqual([
      2000, 0, 1500,
    ]);
    expect(penetration?.frame.axis.map((v) => Math.round(v * 1e6) / 1e6 + 0)).toEqual([0, 1, 0]);
    expect(penetration?.crossings[0]?.section).toEqual({ type: 'circle', diameterMm: 110 });
    expect(penetration?.crossings[0]?.kind).toBe('pipe');
    expect(penetration?.crossings[0]?.lengthMm).toBeCloseTo(200, 3);
    expect(penetration?.where.level).toBe('Ground');
    expect(outcomeOf(found, pipe.guid)).toBe('through');
    expect(outcomeOf(found, opening.guid)).toBe('inPenetration');
  });

  test('services without an opening, ending inside, within, touching and clear', async () => {
    const m = new IfcMaker({ schema });
    const wall = m.wall({ at: [0, 0, 0], length: 6000, thickness: 200, height: 3000 });
    const at = (x: number, from: number, to: number, z = 1500) =>
      m.segment('conduit', {
        from: [x, from, z],
        to: [x, to, z],
        outline: { circle: 40, bore: 36 },
      });
    const through = at(500, -500, 500);
    const ends = at(1000, -500, 0);
    const within = m.segment('conduit', {
      from: [1500, 0, 500],
      to: [1500, 0, 1500],
      outline: { circle: 40, bore: 36 },
    });
    const touches = at(2000, -500, -100);
    const clear = at(2500, -1500, -500);
    const above = at(3000, -500, 500, 3500);
    const found = await findIn(m);
    expect(found.findings.penetrations.map(brief)).toEqual([
      { kind: 'unopened', hosts: [wall.guid], openings: [], services: [[through.guid]] },
    ]);
    expect(found.findings.penetrations[0]?.crossings[0]?.boreMm).toBeCloseTo(36, 6);
    expect(found.findings.penetrations[0]?.crossings[0]?.kind).toBe('conduit');
    expect([ends, within, touches, clear, above].map(({ guid }) => outcomeOf(found, guid))).toEqual(
      ['endsInside', 'within', 'touches', 'clear', 'clear'],
    );
  });
});
