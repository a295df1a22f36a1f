import { describe, expect, test } from 'vitest';
import { findInBytes } from '../makers/ifc/find-in.ts';
import { IfcMaker, MAKER_SCHEMAS } from '../makers/ifc/ifc-maker.ts';

// Boards and pumps are named in the published schemas' own entity tables; places are invented.
describe.each(MAKER_SCHEMAS)('%s', (schema) => {
  test.each(['mm', 'm', 'inch'] as const)(
    'equipment is read with its names and place, in %s',
    async (unit) => {
      const maker = new IfcMaker({ schema, unit, siteAt: [1000, 2000, 0], siteTurnDeg: 90 });
      const storey = maker.storey('L1', 3000);
      const board = schema === 'IFC2X3' ? 'IFCFLOWCONTROLLER' : 'IFCELECTRICDISTRIBUTIONBOARD';
      const place = { at: [4000, 500, 3000], z: [0, 0, 1], x: [1, 0, 0] } as const;
      const made = maker.element(
        board,
        { ...place, storey, name: 'Board', tag: 'MCC-1' },
        '$',
        schema === 'IFC2X3' ? '' : ',$',
      );
      const { building } = await findInBytes(maker.toBytes());
      expect(building.equipment).toHaveLength(1);
      const [one] = building.equipment ?? [];
      expect(one?.ref.id).toBe(made.guid);
      expect(one?.names).toEqual(['Board', 'MCC-1']);
      // A quarter turn: the building's x runs along y, from where the site stands.
      const [x, y, z] = one?.positionMm ?? [];
      expect(x).toBeCloseTo(1000 - 500, 3);
      expect(y).toBeCloseTo(2000 + 4000, 3);
      expect(z).toBeCloseTo(3000, 3);
    },
  );
});
