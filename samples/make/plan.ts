import { GRID, HOSTS, hostOf, SPACES, STATION } from '../dimensions/building.ts';
import { OPENINGS, RISERS } from '../dimensions/openings.ts';
import type { OpeningDim, V2 } from '../dimensions/types.ts';
import { DxfWriter } from './dxf-writer.ts';
import { wallDirection } from './host-frame.ts';
import { drawServices } from './plan-services.ts';
import { onSheet, SMALL, TEXT } from './plan-sheet.ts';
import { drawWalls, hostWall } from './plan-walls.ts';

export const PLAN_FILE = 'plan.dxf';

const LAYERS = [
  { name: 'A-WALL', colour: 7 },
  { name: 'A-DOOR', colour: 3 },
  { name: 'A-GLAZ', colour: 4 },
  { name: 'A-FLOR-OVHD', colour: 8, lineType: 'DASHED' },
  { name: 'A-AREA-IDEN', colour: 7 },
  { name: 'A-ANNO-NOTE', colour: 7 },
  { name: 'A-ANNO-DIMS', colour: 8 },
  { name: 'A-ANNO-TTLB', colour: 7 },
  { name: 'S-GRID', colour: 8, lineType: 'CENTER' },
  { name: 'S-GRID-IDEN', colour: 8 },
  { name: 'S-OPNG-SYMB', colour: 1 },
  { name: 'E-CABL-TRAY', colour: 5 },
  { name: 'E-CABL-COND', colour: 6, lineType: 'DASHED' },
  { name: 'E-CABL-WIRE', colour: 30 },
  { name: 'E-ANNO-TEXT', colour: 5 },
  { name: 'E-DETL-RISR', colour: 5 },
  { name: 'M-DUCT', colour: 4 },
  { name: 'P-PIPE', colour: 3 },
  { name: 'M-ANNO-TEXT', colour: 4 },
  // Work of an earlier scheme, switched off by freezing.
  { name: 'E-CABL-TRAY-OLD', colour: 8, isFrozen: true },
] as const;

const SERVICE_LAYERS = ['E-CABL-TRAY', 'E-CABL-COND', 'E-CABL-WIRE', 'M-DUCT', 'P-PIPE'];
const HIDDEN_LAYERS = ['E-CABL-TRAY-OLD'];

/** The ground floor plan, 1:50, AC1021 (UTF-8). */
export function planDxf(): string {
  return drawPlan().toText([onSheet([-9000, -6000]), onSheet([24_000, 14_500])]);
}

/** Entities on layers of services. */
export function planServiceEntities(): Readonly<Record<string, number>> {
  return countsOn(drawPlan(), SERVICE_LAYERS);
}

export function planHiddenEntities(): Readonly<Record<string, number>> {
  return countsOn(drawPlan(), HIDDEN_LAYERS);
}

function countsOn(dxf: DxfWriter, layers: readonly string[]): Readonly<Record<string, number>> {
  return Object.fromEntries(layers.map((layer) => [layer, dxf.entitiesByLayer.get(layer) ?? 0]));
}

function drawPlan(): DxfWriter {
  const dxf = new DxfWriter('AC1021', LAYERS);
  defineBlocks(dxf);
  drawGrid(dxf);
  drawWalls(dxf);
  drawServices(dxf);
  drawOpeningMarks(dxf);
  drawRooms(dxf);
  drawDimensions(dxf);
  drawSheet(dxf);
  // The old scheme's tray, frozen: it would cross the wall on line B.
  dxf.line('E-CABL-TRAY-OLD', onSheet([4000, 6000]), onSheet([11000, 6400]));
  return dxf;
}

function defineBlocks(dxf: DxfWriter): void {
  dxf.block(
    'OPENING-MARK',
    [
      { tag: 'REF', prompt: 'Opening', at: [170, 20], heightMm: 80 },
      { tag: 'SIZE', prompt: 'Size', at: [170, -95], heightMm: 80 },
    ],
    () => drawOpeningSymbol(dxf),
  );
  // For walls that run across the sheet: the text stands below the wall.
  dxf.block(
    'OPENING-MARK-UNDER',
    [
      { tag: 'REF', prompt: 'Opening', at: [40, -290], heightMm: 80 },
      { tag: 'SIZE', prompt: 'Size', at: [40, -405], heightMm: 80 },
    ],
    () => drawOpeningSymbol(dxf),
  );
  dxf.block(
    'RISER',
    [
      { tag: 'REF', prompt: 'Reference', at: [100, 30], heightMm: 90 },
      { tag: 'SIZE', prompt: 'Size', at: [100, -90], heightMm: 90 },
    ],
    () => {
      dxf.circle('0', [0, 0], RISERS.outsideMm / 2);
      dxf.line('0', [-40, -40], [40, 40]);
      dxf.line('0', [-40, 40], [40, -40]);
    },
  );
}

function drawOpeningSymbol(dxf: DxfWriter): void {
  dxf.circle('0', [0, 0], 60);
  dxf.line('0', [-60, 0], [60, 0]);
  dxf.line('0', [0, -60], [0, 60]);
}

function sizeLabel(opening: OpeningDim): string {
  const { shape } = opening;
  if (shape.type === 'circle') return `%%c${shape.diameterMm}`;
  if (shape.type === 'slot') return `SLOT ${shape.lengthMm}x${shape.widthMm}`;
  return `${shape.widthMm}x${shape.heightMm}`;
}

/** A mark beside each hole in a wall of this floor. */
function drawOpeningMarks(dxf: DxfWriter): void {
  for (const opening of OPENINGS) {
    const wall = hostWall(opening);
    const isInRing = hostOf(opening.host).form === 'ring';
    if (wall === undefined && !isInRing) continue;
    if (opening.filledBy !== undefined || opening.outcome === 'recess') continue;
    if (opening.mark === 'OP-143' || opening.mark === 'OP-145') continue;
    const isAcross = wall !== undefined && Math.abs(wallDirection(wall)[1]) < 0.5;
    const block = isAcross ? 'OPENING-MARK-UNDER' : 'OPENING-MARK';
    dxf.insert('S-OPNG-SYMB', block, onSheet(opening.at), {
      REF: opening.mark,
      SIZE: sizeLabel(opening),
    });
  }
  const hatch = OPENINGS.find((opening) => opening.outcome === 'shaft');
  if (hatch?.shape.type !== 'rectangle') return;
  const [x, y] = hatch.at;
  const [hw, hh] = [hatch.shape.widthMm / 2, hatch.shape.heightMm / 2];
  const corners: readonly V2[] = [
    onSheet([x - hw, y - hh]),
    onSheet([x + hw, y - hh]),
    onSheet([x + hw, y + hh]),
    onSheet([x - hw, y + hh]),
  ];
  dxf.polyline('A-FLOR-OVHD', corners, true);
  const [a, b, c, d] = corners;
  if (a !== undefined && c !== undefined) dxf.line('A-FLOR-OVHD', a, c);
  if (b !== undefined && d !== undefined) dxf.line('A-FLOR-OVHD', b, d);
  dxf.text('A-ANNO-NOTE', onSheet([x - 250, y - 250]), SMALL, 'HATCH TO PIT', {
    centred: true,
  });
}

const ROOM_NAME_AT: Readonly<Record<string, V2>> = {
  '001': [4200, 5600],
  '002': [11_300, 1500],
  '003': [15_950, 3550],
  '004': [11_000, 6900],
  '005': [16_300, 8600],
};

function drawRooms(dxf: DxfWriter): void {
  for (const host of HOSTS) {
    if (host.form !== 'ring') continue;
    const [x, y] = host.centre;
    dxf.text('A-AREA-IDEN', onSheet([x, y - 900]), TEXT, 'WET WELL', { centred: true });
  }
  for (const space of SPACES) {
    const at = ROOM_NAME_AT[space.mark];
    if (at === undefined) continue;
    dxf.text('A-AREA-IDEN', onSheet(at), 175, space.longName.toUpperCase(), { centred: true });
    dxf.text('A-AREA-IDEN', onSheet([at[0], at[1] - 260]), TEXT, space.mark, { centred: true });
  }
}

function drawGrid(dxf: DxfWriter): void {
  const bubble = 300;
  for (const { tag, atMm } of GRID.x) {
    dxf.line('S-GRID', onSheet([atMm, -1500]), onSheet([atMm, 12_000]));
    const centre = onSheet([atMm, 12_000 + bubble]);
    dxf.circle('S-GRID-IDEN', centre, bubble);
    dxf.text('S-GRID-IDEN', centre, 250, tag, { centred: true });
  }
  for (const { tag, atMm } of GRID.y) {
    dxf.line('S-GRID', onSheet([-7000, atMm]), onSheet([20_000, atMm]));
    const centre = onSheet([20_000 + bubble, atMm]);
    dxf.circle('S-GRID-IDEN', centre, bubble);
    dxf.text('S-GRID-IDEN', centre, 250, tag, { centred: true });
  }
}

function drawDimensions(dxf: DxfWriter): void {
  const y = -2200;
  for (const [index, { atMm }] of GRID.x.entries()) {
    const next = GRID.x[index + 1];
    if (next === undefined) continue;
    dxf.dimension(
      'A-ANNO-DIMS',
      onSheet([atMm, -700]),
      onSheet([next.atMm, -700]),
      onSheet([atMm, y]),
      TEXT,
    );
  }
  dxf.dimension(
    'A-ANNO-DIMS',
    onSheet([-150, -700]),
    onSheet([18_150, -700]),
    onSheet([0, y - 500]),
    TEXT,
  );
  for (const [index, { atMm }] of GRID.y.entries()) {
    const next = GRID.y[index + 1];
    if (next === undefined) continue;
    dxf.dimension(
      'A-ANNO-DIMS',
      onSheet([18_900, atMm]),
      onSheet([18_900, next.atMm]),
      onSheet([19_400, atMm]),
      TEXT,
    );
  }
}

function drawSheet(dxf: DxfWriter): void {
  const corner = (x: number, y: number): V2 => onSheet([x, y]);
  dxf.polyline(
    'A-ANNO-TTLB',
    [corner(-9000, -6000), corner(24_000, -6000), corner(24_000, 14_500), corner(-9000, 14_500)],
    true,
  );
  dxf.line('A-ANNO-TTLB', corner(12_000, -6000), corner(12_000, -3400));
  dxf.line('A-ANNO-TTLB', corner(12_000, -3400), corner(24_000, -3400));
  const title = [
    STATION.name.toUpperCase(),
    'GROUND FLOOR PLAN: CABLE WAYS AND OPENINGS',
    `${STATION.number}   REV ${STATION.revision}   ${STATION.date}   1:50 ON A1   mm`,
    'SAMPLE: INVENTED PLACE, NOT FOR CONSTRUCTION',
  ];
  for (const [index, line] of title.entries()) {
    dxf.text('A-ANNO-TTLB', corner(12_300, -3950 - index * 520), index < 2 ? 250 : 175, line);
  }
  dxf.mtext(
    'A-ANNO-NOTE',
    corner(-8600, -3300),
    SMALL + 25,
    19_000,
    [
      'NOTES',
      '1. All dimensions in millimetres. Levels in metres; ±0.000 is +12.40 on the site datum.',
      '2. Cable ways at 3000 above floor unless noted.',
      '3. Openings marked OP-… by structure; sizes width x height, Ø for cored holes.',
      '4. Wall on line B: REI 120. Wall on line 2: REI 90. Wall on line C: REI 120.',
      '5. Duct bank into the pit: see section, two rows of 4x150 dia.',
    ].join('\\P'),
  );
  // North.
  dxf.circle('A-ANNO-NOTE', corner(22_500, 12_500), 500);
  dxf.solid('A-ANNO-NOTE', [
    corner(22_300, 12_300),
    corner(22_700, 12_300),
    corner(22_500, 13_000),
  ]);
  dxf.text('A-ANNO-NOTE', corner(22_500, 13_250), 250, 'N', { centred: true });
}
