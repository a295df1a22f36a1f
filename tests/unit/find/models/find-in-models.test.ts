import { describe, expect, test } from 'vitest';
import { brief, findIn, findInBytes, outcomeOf } from '../../../makers/ifc/find-in.ts';
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

describe.each(MAKER_SCHEMAS)('beside the hosts, %s', (schema) => {
  const proxyWithHole = () => {
    const m = new IfcMaker({ schema });
    const wall = m.wall({ at: [0, 0, 0], length: 4000, thickness: 200, height: 3000 });
    const made = { at: [2000, 0, 1500], axis: [0, 1, 0], outline: { circle: 150 } } as const;
    const opening = m.opening(wall, { ...made, depth: 300 });
    m.segment('pipe', {
      from: [2000, -500, 1500],
      to: [2000, 500, 1500],
      outline: { circle: 110 },
    });
    const text = m
      .toText()
      .replace(/=IFCWALL(?:STANDARDCASE)?\((.*)\);/, (_, attributes: string) => {
        const eight = attributes.split(',').slice(0, 8).join(',');
        return `=IFCBUILDINGELEMENTPROXY(${eight},$);`;
      });
    return { bytes: new TextEncoder().encode(text), opening };
  };

  test('an opening in an element of another class is told, with the setting that takes it in', async () => {
    const { bytes, opening } = proxyWithHole();
    const found = await findInBytes(bytes);
    expect(found.findings.penetrations).toEqual([]);
    expect(outcomeOf(found, opening.guid)).toBe('excluded');
    const [query] = found.queries.filter(({ code }) => code === 'opening-without-host');
    expect(query?.settles).toContain('hosts.classes: [IfcBuildingElementProxy]');
    const taken = await findInBytes(bytes, { hosts: { classes: ['IfcBuildingElementProxy'] } });
    expect(taken.findings.penetrations).toHaveLength(1);
    expect(taken.queries.map(({ code }) => code)).not.toContain('opening-without-host');
  });

  test('the zones of the spaces on both sides', async () => {
    const m = new IfcMaker({ schema });
    const ground = m.storey('Ground', 0);
    m.wall({ at: [0, 0, 0], length: 4000, thickness: 200, height: 3000, storey: ground });
    const south = m.space('South', [0, -2100, 0], [4000, 2000, 3000], ground);
    const north = m.space('North', [0, 100, 0], [4000, 2000, 3000], ground);
    const inner = m.zone('Compartment 1', [south]);
    m.zone('Level 0', [inner, north]);
    m.segment('pipe', { from: [2000, -500, 1500], to: [2000, 500, 1500], outline: { circle: 50 } });
    const [penetration] = (await findIn(m)).findings.penetrations;
    const { near, far } = penetration?.where.zones ?? { near: [], far: [] };
    const byName = [near, far].sort((a, b) => a.length - b.length);
    expect(byName).toEqual([['Level 0'], ['Compartment 1', 'Level 0']]);
  });
});

// IFC2X3 knows no such zones.
test.each(MAKER_SCHEMAS.filter((schema) => schema !== 'IFC2X3'))(
  'zones with a body of their own, and those that refer to a space, %s',
  async (schema) => {
    const m = new IfcMaker({ schema });
    const ground = m.storey('Ground', 0);
    m.wall({ at: [0, 0, 0], length: 4000, thickness: 200, height: 3000, storey: ground });
    const south = m.space('South', [0, -2100, 0], [4000, 2000, 3000], ground);
    m.spatialZone('Fire zone A', [0, -2100, 0], [4000, 2000, 3000]);
    m.spatialZone('Fire zone B', [0, 100, 0], [4000, 2000, 3000]);
    m.spatialZone('Elsewhere', [9000, 100, 0], [4000, 2000, 3000], [south]);
    m.segment('pipe', {
      from: [2000, -500, 1500],
      to: [2000, 500, 1500],
      outline: { circle: 50 },
    });
    const [penetration] = (await findIn(m)).findings.penetrations;
    expect(penetration?.where.zones).toEqual({
      near: ['Elsewhere', 'Fire zone A'],
      far: ['Fire zone B'],
    });
  },
);
