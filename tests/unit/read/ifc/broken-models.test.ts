import { expect, test } from 'vitest';
import { SealbookError } from '../../../../src/basics/errors.ts';
import { findInBytes } from '../../../makers/ifc/find-in.ts';
import { IfcMaker, MAKER_SCHEMAS } from '../../../makers/ifc/ifc-maker.ts';

/** Numbers 0 to 1 in a fixed order. */
function seeded(seed: number): () => number {
  let state = seed;
  return () => {
    state = (Math.imul(state, 1103515245) + 12345) & 0x7fffffff;
    return state / 0x7fffffff;
  };
}

const HARMS: readonly ((line: string, random: () => number) => string)[] = [
  (line, random) => line.replace(/#\d+(?!=)/g, () => `#${Math.floor(random() * 150)}`),
  (line, random) =>
    line.replace(
      /-?\d+\.\d*/g,
      () =>
        ['1.E300', '-1.E-300', '0.', 'NAN', '1e999', '123456789.'][Math.floor(random() * 6)] ?? '',
    ),
  (line) => line.replace(/\(.*\)/, '()'),
  () => '',
  (line) => line.replace(/\$/g, "'x'"),
  (line, random) => {
    const at = Math.floor(random() * line.length);
    return `${line.slice(0, at)}((((((${line.slice(at)}`;
  },
];

test('models with harmed records end in findings with a ledger that adds up, or in a clear error', async () => {
  const random = seeded(7);
  for (let run = 0; run < 30; run += 1) {
    const schema = MAKER_SCHEMAS[run % 3] ?? 'IFC4';
    const m = new IfcMaker({ schema });
    const wall = m.wall({ at: [0, 0, 0], length: 4000, thickness: 200, height: 3000 });
    m.opening(wall, { at: [1000, 0, 1500], axis: [0, 1, 0], outline: { circle: 150 }, depth: 300 });
    m.segment('pipe', {
      from: [1000, -500, 1500],
      to: [1000, 500, 1500],
      outline: { circle: 110 },
    });
    m.swept('cable', {
      points: [
        [2000, -500, 1500],
        [2000, 500, 1500],
      ],
      diameter: 30,
    });
    m.element(
      schema === 'IFC2X3' ? 'IFCFLOWSEGMENT' : 'IFCPIPESEGMENT',
      { at: [3000, -500, 1500], z: [0, 1, 0], x: [1, 0, 0] },
      m.body(m.boxBrep([-50, -50, 0], [50, 50, 1000]), 'Brep'),
      schema === 'IFC2X3' ? '' : ',.RIGIDSEGMENT.',
    );
    const lines = m.toText().split('\n');
    for (let n = 0; n < 3; n += 1) {
      const at = 8 + Math.floor(random() * (lines.length - 12));
      const harm = HARMS[Math.floor(random() * HARMS.length)];
      if (harm !== undefined) lines[at] = harm(lines[at] ?? '', random);
    }
    try {
      const { building, findings } = await findInBytes(new TextEncoder().encode(lines.join('\n')));
      expect(findings.ledger.services).toHaveLength(building.services.length);
      expect(findings.ledger.openings).toHaveLength(building.openings.length);
      for (const { frame, thicknessMm } of findings.penetrations) {
        expect([...frame.originMm, thicknessMm].every(Number.isFinite)).toBe(true);
      }
    } catch (error) {
      if (!(error instanceof SealbookError)) throw error;
    }
  }
}, 120_000);
