import { describe, expect, test } from 'vitest';
import { findInModels } from '../../../../src/find/models/find-in-models.ts';
import { Settings } from '../../../../src/model/settings.ts';
import { type BuildingPart, joinBuildings } from '../../../../src/read/ifc/join-buildings.ts';
import { readIfc } from '../../../../src/read/ifc/read-ifc.ts';
import { IfcMaker, type MakerOptions } from '../../../makers/ifc/ifc-maker.ts';

const settings = Settings.parse({});

async function partOf(maker: IfcMaker, key: string, text = maker.toText()): Promise<BuildingPart> {
  const bytes = new TextEncoder().encode(text);
  return (await readIfc({ key, name: `${key}.ifc`, bytes }, settings)).result;
}

function architecture(options: Partial<MakerOptions> = {}): IfcMaker {
  const m = new IfcMaker({ schema: 'IFC4', guidSeed: 1, ...options });
  m.wall({ at: [0, 0, 0], length: 6000, thickness: 200, height: 3000, name: 'Wall' });
  return m;
}

function services(options: Partial<MakerOptions> = {}): IfcMaker {
  const m = new IfcMaker({ schema: 'IFC4', guidSeed: 2, ...options });
  m.segment('pipe', {
    from: [1000, -500, 1500],
    to: [1000, 500, 1500],
    outline: { circle: 50 },
    name: 'P',
  });
  return m;
}

const MAP = { eastings: 400_000_000, northings: 5_000_000_000, height: 10_000, turnDeg: 0 };

describe('models in one frame', () => {
  test('no model at all is an empty building', () => {
    expect(joinBuildings([]).result.hosts).toEqual([]);
  });

  test('two models of one frame meet, with nothing to ask', async () => {
    const joined = joinBuildings([
      await partOf(architecture(), 'a'),
      await partOf(services(), 's'),
    ]);
    expect(joined.queries).toEqual([]);
    expect(findInModels(joined.result, settings).result.penetrations).toHaveLength(1);
  });

  test('a model far off is not moved; the query states the move that joins it', async () => {
    const far = services({ siteAt: [2_000_000_000, 0, 0] });
    const joined = joinBuildings([await partOf(architecture(), 'a'), await partOf(far, 's')]);
    const [query] = joined.queries;
    expect(query?.code).toBe('files-far-apart');
    // The wall's middle is (3000, 0, 1500), the pipe's (2 000 001 000, 0, 1500).
    expect(query?.settles).toContain('moveMm: [-1999998000, 0, 0]');
    expect(findInModels(joined.result, settings).result.penetrations).toEqual([]);
  });

  test('one with a map conversion, one without: joined by their origins, with a note', async () => {
    const joined = joinBuildings([
      await partOf(architecture({ mapConversion: MAP }), 'a'),
      await partOf(services(), 's'),
    ]);
    expect(joined.queries.map(({ code, severity }) => `${code} ${severity}`)).toEqual([
      'map-conversion-doubtful note',
    ]);
    expect(findInModels(joined.result, settings).result.penetrations).toHaveLength(1);
  });

  test('the conversion held twice is seen and not applied again', async () => {
    // Both stand at the same coordinates; the second says they are to be moved once more.
    const joined = joinBuildings([
      await partOf(architecture({ mapConversion: { ...MAP, eastings: 0, northings: 0 } }), 'a'),
      await partOf(services({ mapConversion: MAP }), 's'),
    ]);
    expect(joined.queries.map(({ id }) => id)).toEqual([
      'map-conversion-doubtful:s/converted-twice',
    ]);
    expect(findInModels(joined.result, settings).result.penetrations).toHaveLength(1);
  });

  test('true norths that differ are asked about with the angle', async () => {
    const turned = (text: string): string =>
      text
        .replace(/(IFCGEOMETRICREPRESENTATIONCONTEXT\([^;]*),\$\);/, '$1,#900000);')
        .replace(
          'ENDSEC;\nEND-ISO',
          '#900000=IFCDIRECTION((-0.5,0.8660254037844386));\nENDSEC;\nEND-ISO',
        );
    const north = (text: string): string =>
      turned(text).replace('(-0.5,0.8660254037844386)', '(0.,1.)');
    const joined = joinBuildings([
      await partOf(architecture(), 'a', north(architecture().toText())),
      await partOf(services(), 's', turned(services().toText())),
    ]);
    const query = joined.queries.find(({ id }) => id.includes('true-north'));
    expect(query?.text).toContain('30.00°');
  });

  test('the same wall in two files counts once and is listed', async () => {
    const joined = joinBuildings([
      await partOf(architecture(), 'a'),
      await partOf(architecture({ guidSeed: 3 }), 'b'),
      await partOf(services(), 's'),
    ]);
    expect(joined.result.hosts).toHaveLength(1);
    expect(joined.queries.map(({ code }) => code)).toEqual(['duplicate-element']);
    const { penetrations } = findInModels(joined.result, settings).result;
    expect(penetrations.map(({ hosts }) => hosts.length)).toEqual([1]);
  });

  test('the same pipe in two files counts once, one of the same name elsewhere counts', async () => {
    const other = services({ guidSeed: 4 });
    other.segment('pipe', {
      from: [2000, -500, 1500],
      to: [2000, 500, 1500],
      outline: { circle: 50 },
      name: 'P',
    });
    const joined = joinBuildings([
      await partOf(architecture(), 'a'),
      await partOf(services(), 's'),
      await partOf(other, 't'),
    ]);
    expect(joined.result.services).toHaveLength(2);
    expect(findInModels(joined.result, settings).result.penetrations).toHaveLength(2);
  });
});
