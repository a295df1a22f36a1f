import { describe, expect, test } from 'vitest';
import { layerRole, matchesPattern } from '../../../src/model/layer-role.ts';
import { Settings } from '../../../src/model/settings.ts';

const usual = Settings.parse({});
const roleOf = (layer: string) => {
  const role = layerRole(layer, usual);
  return role.role === 'service' ? role.kind : role.role;
};

describe('layer habits', () => {
  // Names after the US National CAD Standard, BS 1192, ISO 13567 (all from memory) and local words.
  test.each([
    ['A-WALL', 'wall'],
    ['a-wall-full-n', 'wall'],
    ['S-WALL', 'wall'],
    ['house$0$A-WALL', 'wall'],
    ['house|A-WALL', 'wall'],
    ['A.Wall_Internal', 'wall'],
    ['A-G25-M2_ExternalWalls', 'wall'],
    ['A-21----E-----------', 'wall'],
    ['Außenwände', 'wall'],
    ['MURS', 'wall'],
    ['Стены', 'wall'],
    ['S-SLAB', 'slab'],
    ['Decke', 'slab'],
    ['E-CABL-TRAY', 'carrier'],
    ['E-POWR', 'cable'],
    ['E-CNDT', 'conduit'],
    ['E-COND', 'conduit'],
    ['COND', 'conduit'],
    ['CONDUIT-25', 'conduit'],
    ['E-CONDUIT2', 'conduit'],
    ['M-COND', 'pipe'],
    ['A-COND', 'unknown'],
    ['E-CNDT-UNDR', 'conduit'],
    ['E-DUCT', 'duct'],
    ['E-DUCT-BANK', 'duct'],
    ['E-TRAY', 'carrier'],
    ['TRAY1', 'carrier'],
    ['E-LADR', 'carrier'],
    ['E-TRNK', 'carrier'],
    ['E-CABL-LADR', 'carrier'],
    ['A-LADR', 'unknown'],
    ['S-LADDER', 'unknown'],
    ['E-CABL', 'cable'],
    ['E-PWR', 'cable'],
    ['E-Ss_70_30-M2_Conduits', 'conduit'],
    ['E-63----E-----------', 'cable'],
    ['ELT_Chemins de câbles', 'carrier'],
    ['Goulottes', 'carrier'],
    ['Kabelpritschen', 'carrier'],
    ['Kabelrännor', 'carrier'],
    ['Eletrocalhas', 'carrier'],
    ['Eletrodutos', 'conduit'],
    ['Fourreaux', 'conduit'],
    ['Кабельные лотки', 'carrier'],
    ['Воздуховоды', 'duct'],
    ['E-CONC-DUCT', 'duct'],
    ['S-CONC', 'wall'],
    ['A-CONC', 'wall'],
    ['EL300', 'unknown'],
    ['VIADUCT', 'unknown'],
    ['CONDITION', 'unknown'],
    ['SECOND', 'unknown'],
    ['T-DATA', 'cable'],
    ['M-HVAC', 'duct'],
    ['M-DUCT-SUPL', 'duct'],
    ['P-PIPE-CNTR', 'pipe'],
    ['F-SPRN', 'pipe'],
    ['P-SANR', 'pipe'],
    ['A-WALL-OPNG', 'opening'],
    ['Durchbrüche', 'opening'],
    ['A-DOOR', 'doorOrWindow'],
    ['A-GLAZ', 'doorOrWindow'],
    ['E-POWR-TEXT', 'annotation'],
    ['A-WALL-DIMS', 'annotation'],
    ['0', 'unknown'],
    ['A-FURN', 'unknown'],
    ['A-WALL-DEMO', 'unknown'],
    ['constructor', 'unknown'],
  ])('%s is %s', (layer, role) => {
    expect(roleOf(layer)).toBe(role);
  });

  test("the project's own lists come first", () => {
    const own = Settings.parse({
      hosts: { layers: ['X*thick'], excludeLayers: ['A-WALL-OLD'] },
      services: {
        layers: [
          { pattern: 'JOB-?', kind: 'pipe' },
          { pattern: 'job-*', kind: 'cable' },
        ],
      },
    });
    expect(layerRole('x 300 THICK', own).role).toBe('wall');
    expect(layerRole('A-WALL-OLD', own).role).toBe('excluded');
    expect(layerRole('JOB-7', own)).toMatchObject({ role: 'service', kind: 'cable' });
  });

  test('a star stands for any text, and nothing else is special', () => {
    expect(matchesPattern('A-WALL-FULL', 'a-*-full')).toBe(true);
    expect(matchesPattern('A-WALL', 'A.WALL')).toBe(false);
    expect(matchesPattern('aaa', 'aa*aa')).toBe(false);
    expect(matchesPattern('abcabc', '*bc')).toBe(true);
  });
});
