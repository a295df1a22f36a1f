import { IfcMaker, type MakerSchema } from './ifc-maker.ts';

/**
 * A building of walls side by side with services through them, half of them in openings.
 * @param crossings how many times a service passes a wall
 */
export function manyCrossings(crossings: number, schema: MakerSchema = 'IFC4'): IfcMaker {
  const m = new IfcMaker({ schema });
  const perWall = 100;
  const walls = Math.ceil(crossings / perWall);
  for (let w = 0; w < walls; w += 1) {
    const y = w * 3000;
    const wall = m.wall({
      at: [0, y, 0],
      length: perWall * 500,
      thickness: 200,
      height: 3000,
      name: `Wall ${w}`,
    });
    const here = Math.min(perWall, crossings - w * perWall);
    for (let n = 0; n < here; n += 1) {
      const x = 250 + n * 500;
      if (n % 2 === 0) {
        m.opening(wall, {
          at: [x, y, 1500],
          axis: [0, 1, 0],
          outline: n % 4 === 0 ? { circle: 200 } : { rectangle: [250, 200] },
          depth: 300,
        });
      }
      m.segment(n % 3 === 0 ? 'cable' : n % 3 === 1 ? 'pipe' : 'conduit', {
        from: [x, y - 1000, 1500],
        to: [x, y + 1000, 1500],
        outline: { circle: 60 },
        name: `S ${w}/${n}`,
      });
    }
  }
  return m;
}
