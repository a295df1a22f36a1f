import {
  DATUM_OF_ZERO_M,
  GROUND_LEVEL_MM,
  hostOf,
  STATION,
  WATER_LEVEL_MM,
} from '../dimensions/building.ts';
import { BANK_PLACES, DUCT_BANK, OPENINGS } from '../dimensions/openings.ts';
import { RUNS } from '../dimensions/services.ts';
import type { V2 } from '../dimensions/types.ts';
import { DxfWriter } from './dxf-writer.ts';

export const PIT_SECTION_FILE = 'pit-section.dxf';
/** Drawing point of the section that stands for the west end of the wall at height zero. */
export const SECTION_BASE_POINT: V2 = [2000, 6000];
/** Part of the drawing that belongs to the section; the detail and title stand outside it. */
export const SECTION_WINDOW = [0, 1600, 13_500, 7000] as const;

const LAYERS = [
  { name: 'S-WALL', colour: 7 },
  { name: 'S-SLAB', colour: 7 },
  { name: 'S-HIDN', colour: 8, lineType: 'DASHED' },
  { name: 'S-OPNG', colour: 1 },
  { name: 'S-PATT', colour: 8 },
  { name: 'E-POWR-DUCT', colour: 5 },
  { name: 'E-CABL-COND', colour: 6 },
  { name: 'E-ANNO-TEXT', colour: 5 },
  { name: 'C-TOPO', colour: 3 },
  { name: 'S-ANNO-LEVL', colour: 7 },
  { name: 'S-ANNO-DIMS', colour: 8 },
  { name: 'S-ANNO-NOTE', colour: 7 },
  { name: 'S-ANNO-TTLB', colour: 7 },
  { name: 'S-DETL', colour: 7 },
] as const;

const WALL = hostOf(DUCT_BANK.host);
const TEXT = 90;

function wallEnds(): readonly [number, number] {
  if (WALL.form !== 'straight') throw new Error('The duct bank lies in a straight wall.');
  return [WALL.from[0], WALL.to[0]];
}

const [WEST, EAST] = wallEnds();

/** From x along the wall and z to the sheet. */
const onSheet = (x: number, z: number): V2 => [
  x - WEST + SECTION_BASE_POINT[0],
  z + SECTION_BASE_POINT[1],
];

/** Elevation of the south pit wall seen from outside, looking north; 1:20, AC1015. */
export function pitSectionDxf(): string {
  return drawSection().toText([
    [-500, -700],
    [14_500, 7400],
  ]);
}

/** Entities on layers of services. */
export function pitServiceEntities(): Readonly<Record<string, number>> {
  const { entitiesByLayer } = drawSection();
  return Object.fromEntries(
    ['E-POWR-DUCT', 'E-CABL-COND'].map((layer) => [layer, entitiesByLayer.get(layer) ?? 0]),
  );
}

function drawSection(): DxfWriter {
  const dxf = new DxfWriter('AC1015', LAYERS);
  drawConcrete(dxf);
  drawBank(dxf);
  drawEarth(dxf);
  drawLevels(dxf);
  drawDetail(dxf);
  drawTitle(dxf);
  return dxf;
}

function rectangle(x1: number, z1: number, x2: number, z2: number): readonly V2[] {
  return [onSheet(x1, z1), onSheet(x2, z1), onSheet(x2, z2), onSheet(x1, z2)];
}

function drawConcrete(dxf: DxfWriter): void {
  const top = WALL.baseMm + WALL.heightMm;
  dxf.polyline('S-WALL', rectangle(WEST, WALL.baseMm, EAST, top), true);
  const ground = hostOf('GS-01');
  dxf.polyline(
    'S-SLAB',
    rectangle(WEST, ground.baseMm, EAST, ground.baseMm + ground.heightMm),
    true,
  );
  dxf.hatch('S-PATT', rectangle(WEST, ground.baseMm, EAST, ground.baseMm + ground.heightMm), 120);
  const base = hostOf('PS-01');
  dxf.polyline('S-SLAB', rectangle(WEST, base.baseMm, EAST, base.baseMm + base.heightMm), true);
  dxf.hatch('S-PATT', rectangle(WEST, base.baseMm, EAST, base.baseMm + base.heightMm), 120);
  // The cross wall and the end walls behind.
  for (const x of [14_400, 14_600, 9150, 17_850]) {
    dxf.line('S-HIDN', onSheet(x, WALL.baseMm), onSheet(x, top));
  }
  dxf.line('C-TOPO', onSheet(WEST - 1500, GROUND_LEVEL_MM), onSheet(WEST, GROUND_LEVEL_MM));
  dxf.line('C-TOPO', onSheet(EAST, GROUND_LEVEL_MM), onSheet(EAST + 1500, GROUND_LEVEL_MM));
}

function drawBank(dxf: DxfWriter): void {
  for (const place of BANK_PLACES) {
    const centre = onSheet(place.xMm, place.zMm);
    dxf.circle('S-OPNG', centre, DUCT_BANK.openingMm / 2);
    dxf.circle('E-POWR-DUCT', centre, DUCT_BANK.outsideMm / 2);
    dxf.text('E-ANNO-TEXT', [centre[0], centre[1]], 45, place.ref, { centred: true });
  }
  const first = BANK_PLACES[0];
  const last = BANK_PLACES.at(-1);
  if (first === undefined || last === undefined) return;
  for (let column = 1; column <= DUCT_BANK.columns; column += 1) {
    const x = DUCT_BANK.firstX + (column - 1) * DUCT_BANK.pitchMm;
    dxf.text('E-ANNO-TEXT', onSheet(x, last.zMm - 220), TEXT, String(column), { centred: true });
  }
  for (const [row, z] of DUCT_BANK.rowsZ.entries()) {
    dxf.text('E-ANNO-TEXT', onSheet(first.xMm - 420, z), TEXT, `ROW ${row + 1}`, { centred: true });
  }
  const from = onSheet(last.xMm + 70, last.zMm - 70);
  const landing = onSheet(last.xMm + 600, last.zMm - 600);
  dxf.leader('E-ANNO-TEXT', [from, landing, [landing[0] + 150, landing[1]]]);
  dxf.mtext(
    'E-ANNO-TEXT',
    [landing[0] + 200, landing[1] + 60],
    TEXT,
    4200,
    `8 No. ducts %%c${DUCT_BANK.outsideMm} outside, %%c${DUCT_BANK.boreMm} bore,\\Pin cored holes ${DUCT_BANK.openingMm} dia`,
  );
  dxf.dimension(
    'S-ANNO-DIMS',
    onSheet(first.xMm, first.zMm),
    onSheet(first.xMm + DUCT_BANK.pitchMm, first.zMm),
    onSheet(first.xMm, first.zMm + 420),
    TEXT,
  );
  dxf.dimension(
    'S-ANNO-DIMS',
    onSheet(WEST, first.zMm),
    onSheet(first.xMm, first.zMm),
    onSheet(WEST, first.zMm + 420),
    TEXT,
  );
  dxf.dimension(
    'S-ANNO-DIMS',
    onSheet(last.xMm, first.zMm),
    onSheet(last.xMm, last.zMm),
    onSheet(last.xMm + 350, first.zMm),
    TEXT,
  );
}

function drawEarth(dxf: DxfWriter): void {
  const run = RUNS.find((candidate) => candidate.ref === 'E-01');
  const opening = OPENINGS.find((candidate) => candidate.serves.includes('E-01'));
  if (run?.section.type !== 'circle' || opening?.shape.type !== 'circle') return;
  const centre = onSheet(opening.at[0], opening.at[2]);
  dxf.circle('S-OPNG', centre, opening.shape.diameterMm / 2);
  dxf.circle('E-CABL-COND', centre, run.section.diameterMm / 2);
  dxf.text(
    'E-ANNO-TEXT',
    [centre[0] + 90, centre[1] - 30],
    TEXT,
    `E-01 %%c${run.section.diameterMm} EARTH, CORE %%c${opening.shape.diameterMm}`,
  );
}

function levelMark(dxf: DxfWriter, heightMm: number, label: string): void {
  const tip = onSheet(EAST + 400, heightMm);
  dxf.line('S-ANNO-LEVL', onSheet(EAST + 100, heightMm), [tip[0] + 900, tip[1]]);
  dxf.solid('S-ANNO-LEVL', [tip, [tip[0] - 60, tip[1] + 100], [tip[0] + 60, tip[1] + 100]]);
  const sign = heightMm < 0 ? '-' : '%%p';
  const metres = Math.abs(heightMm / 1000).toFixed(3);
  dxf.text('S-ANNO-LEVL', [tip[0] + 100, tip[1] + 25], TEXT, `${label} ${sign}${metres}`);
}

function drawLevels(dxf: DxfWriter): void {
  levelMark(dxf, 0, 'FFL');
  levelMark(dxf, WALL.baseMm, 'PIT FFL');
  levelMark(dxf, WATER_LEVEL_MM, 'WL');
  for (const zMm of DUCT_BANK.rowsZ) levelMark(dxf, zMm, 'CL');
  dxf.line('C-TOPO', onSheet(WEST - 1500, WATER_LEVEL_MM), onSheet(WEST, WATER_LEVEL_MM));
  dxf.text('S-ANNO-LEVL', onSheet(WEST - 1500, WATER_LEVEL_MM - 130), TEXT, `STORM WATER LEVEL`);
  dxf.text('S-ANNO-LEVL', onSheet(WEST - 1500, GROUND_LEVEL_MM + 60), TEXT, 'GROUND');
}

/** Not to scale, beside the section: not to be read as part of it. */
function drawDetail(dxf: DxfWriter): void {
  const centre: V2 = [1800, 700];
  dxf.circle('S-DETL', centre, 400);
  dxf.circle('S-DETL', centre, 320);
  dxf.circle('S-DETL', centre, 300);
  for (const [x, y] of [
    [0, 120],
    [-110, -70],
    [110, -70],
  ] as const) {
    dxf.circle('S-DETL', [centre[0] + x, centre[1] + y], 74);
  }
  dxf.mtext(
    'S-ANNO-NOTE',
    [2400, 1000],
    TEXT,
    5000,
    'TYPICAL DUCT, NOT TO SCALE\\PSeal round the duct and inside the duct.\\PFillers set back from the face.',
  );
}

function drawTitle(dxf: DxfWriter): void {
  dxf.polyline(
    'S-ANNO-TTLB',
    [
      [-500, -700],
      [14_500, -700],
      [14_500, 7400],
      [-500, 7400],
    ],
    true,
  );
  const lines = [
    STATION.name.toUpperCase(),
    'PIT WALL ON LINE 1, SEEN FROM OUTSIDE (LOOKING NORTH)',
    `${STATION.number}   REV ${STATION.revision}   ${STATION.date}   1:20   mm   DATUM: %%p0.000 = +${DATUM_OF_ZERO_M.toFixed(2)}`,
    'SAMPLE: INVENTED PLACE, NOT FOR CONSTRUCTION',
  ];
  for (const [index, line] of lines.entries()) {
    dxf.text('S-ANNO-TTLB', [7600, 1000 - index * 300], index < 2 ? 150 : 110, line);
  }
}
