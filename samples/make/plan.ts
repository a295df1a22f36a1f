import { GRID, HOSTS, hostOf, SPACES, STATION } from '../dimensions/building.ts';
import { OPENINGS, RISERS } from '../dimensions/openings.ts';
import { RUNS } from '../dimensions/services.ts';
import type { OpeningDim, PieceDim, RunDim, V2, V3, WallDim } from '../dimensions/types.ts';
import { DxfWriter } from './dxf-writer.ts';
import { wallDirection, wallLengthMm } from './host-frame.ts';

export const PLAN_FILE = 'plan.dxf';
/** Where the model's zero lies in the drawing: the plan is drawn on a site sheet's coordinates. */
export const PLAN_BASE_POINT: V2 = [100_000, 50_000];

const TEXT = 125;
const SMALL = 100;

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

const onSheet = ([x, y]: readonly number[]): V2 => [
  (x ?? 0) + PLAN_BASE_POINT[0],
  (y ?? 0) + PLAN_BASE_POINT[1],
];

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
  for (const host of HOSTS) {
    if (host.form === 'straight' && host.storey === '00') drawWall(dxf, host);
    if (host.form === 'ring') {
      const centre = onSheet(host.centre);
      dxf.circle('A-WALL', centre, host.outerRadiusMm);
      dxf.circle('A-WALL', centre, host.outerRadiusMm - host.thicknessMm);
      dxf.text('A-AREA-IDEN', [centre[0], centre[1] - 900], TEXT, 'WET WELL', { centred: true });
    }
  }
  for (const opening of OPENINGS) {
    if (opening.filledBy === 'DOOR') drawDoor(dxf, opening);
    if (opening.filledBy === 'WINDOW') drawWindow(dxf, opening);
  }
  for (const run of RUNS) drawRun(dxf, run);
  drawRisers(dxf);
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

/** Part of a wall's length that is not drawn: a door, a window, another wall's end. */
type Gap = readonly [number, number];

const straightWalls: readonly WallDim[] = HOSTS.filter((host) => host.form === 'straight').filter(
  (wall) => wall.storey === '00',
);

function drawWall(dxf: DxfWriter, wall: WallDim): void {
  const lengthMm = wallLengthMm(wall);
  const doors = OPENINGS.filter(
    (opening) => opening.host === wall.mark && opening.filledBy !== undefined,
  ).map((opening): Gap => {
    const half = widthOf(opening) / 2;
    const at = alongWall(wall, opening.at);
    return [at - half, at + half];
  });
  for (const side of [1, -1] as const) {
    const gaps = [...doors, ...junctions(wall, side)];
    for (const [from, to] of kept(lengthMm, gaps)) {
      dxf.line(
        'A-WALL',
        onSheet(besideWall(wall, from, side)),
        onSheet(besideWall(wall, to, side)),
      );
    }
  }
  for (const at of doors.flat()) closeAcross(dxf, wall, at);
  for (const at of [0, lengthMm]) if (!endsAtAWall(wall, at)) closeAcross(dxf, wall, at);
}

function closeAcross(dxf: DxfWriter, wall: WallDim, at: number): void {
  dxf.line('A-WALL', onSheet(besideWall(wall, at, 1)), onSheet(besideWall(wall, at, -1)));
}

function widthOf(opening: OpeningDim): number {
  return opening.shape.type === 'rectangle' ? opening.shape.widthMm : 0;
}

function alongWall(wall: WallDim, point: readonly number[]): number {
  const [dx, dy] = wallDirection(wall);
  return ((point[0] ?? 0) - wall.from[0]) * dx + ((point[1] ?? 0) - wall.from[1]) * dy;
}

function asideOfWall(wall: WallDim, point: readonly number[]): number {
  const [dx, dy] = wallDirection(wall);
  return -((point[0] ?? 0) - wall.from[0]) * dy + ((point[1] ?? 0) - wall.from[1]) * dx;
}

/** Point on a face; at the cut ends of a skew wall it follows the cut. */
function besideWall(wall: WallDim, along: number, side: 1 | -1): V2 {
  const [dx, dy] = wallDirection(wall);
  const half = (side * wall.thicknessMm) / 2;
  let at = along;
  if (wall.footprint !== undefined) {
    const cut = (half * dx) / dy;
    if (along === 0 || along === wallLengthMm(wall)) at = along - cut;
  }
  return [wall.from[0] + dx * at - dy * half, wall.from[1] + dy * at + dx * half];
}

/** Where other walls end on this face. */
function junctions(wall: WallDim, side: 1 | -1): readonly Gap[] {
  const face = (side * wall.thicknessMm) / 2;
  return straightWalls
    .filter((other) => other !== wall)
    .flatMap((other) =>
      [other.from, other.to].flatMap((end): readonly Gap[] => {
        const along = alongWall(wall, end);
        const isOnFace = Math.abs(asideOfWall(wall, end) - face) < 1;
        if (!isOnFace || along < -1 || along > wallLengthMm(wall) + 1) return [];
        const [dx, dy] = wallDirection(other);
        const [wx, wy] = wallDirection(wall);
        const sine = Math.abs(dx * wy - dy * wx);
        const half = other.thicknessMm / 2 / sine;
        return [[along - half, along + half]];
      }),
    );
}

function endsAtAWall(wall: WallDim, at: number): boolean {
  const end = at === 0 ? wall.from : wall.to;
  return straightWalls.some(
    (other) =>
      other !== wall &&
      Math.abs(Math.abs(asideOfWall(other, end)) - other.thicknessMm / 2) < 1 &&
      alongWall(other, end) > -1 &&
      alongWall(other, end) < wallLengthMm(other) + 1,
  );
}

function kept(lengthMm: number, gaps: readonly Gap[]): readonly Gap[] {
  const sorted = [...gaps].sort((a, b) => a[0] - b[0]);
  const parts: Gap[] = [];
  let at = 0;
  for (const [from, to] of sorted) {
    if (from > at + 1) parts.push([at, from]);
    at = Math.max(at, to);
  }
  if (lengthMm > at + 1) parts.push([at, lengthMm]);
  return parts;
}

function hostWall(opening: OpeningDim): WallDim | undefined {
  return straightWalls.find((wall) => wall.mark === opening.host);
}

function drawDoor(dxf: DxfWriter, opening: OpeningDim): void {
  const wall = hostWall(opening);
  if (wall === undefined) return;
  const width = widthOf(opening);
  const [dx, dy] = wallDirection(wall);
  const hinge = alongWall(wall, opening.at) - width / 2;
  const at = onSheet(besideWall(wall, hinge, 1));
  const leaf: V2 = [at[0] - dy * width, at[1] + dx * width];
  dxf.line('A-DOOR', at, leaf);
  const turn = (Math.atan2(dy, dx) * 180) / Math.PI;
  dxf.arc('A-DOOR', at, width, turn, turn + 90);
}

function drawWindow(dxf: DxfWriter, opening: OpeningDim): void {
  const wall = hostWall(opening);
  if (wall === undefined) return;
  const half = widthOf(opening) / 2;
  const at = alongWall(wall, opening.at);
  for (const side of [1, -1] as const) {
    dxf.line(
      'A-GLAZ',
      onSheet(besideWall(wall, at - half, side)),
      onSheet(besideWall(wall, at + half, side)),
    );
  }
  dxf.line(
    'A-GLAZ',
    onSheet(middleOfWall(wall, at - half)),
    onSheet(middleOfWall(wall, at + half)),
  );
}

function middleOfWall(wall: WallDim, along: number): V2 {
  const [dx, dy] = wallDirection(wall);
  return [wall.from[0] + dx * along, wall.from[1] + dy * along];
}

const isLevel = (piece: PieceDim): boolean => piece.from[2] === piece.to[2];

/** What a plan of the ground floor shows of the runs: those that lie level above the slab. */
export function drawnInPlan(run: RunDim): boolean {
  return (
    run.storey === '00' &&
    run.withoutBody !== true &&
    run.pieces.some((piece) => isLevel(piece) || piece.via !== undefined) &&
    run.pieces.every((piece) => piece.from[2] > 0)
  );
}

function drawRun(dxf: DxfWriter, run: RunDim): void {
  if (!drawnInPlan(run)) return;
  const [first] = run.pieces;
  const last = run.pieces.at(-1);
  if (first === undefined || last === undefined) return;
  if (run.form === 'cable') {
    for (const piece of run.pieces) {
      const path = [piece.from, ...(piece.via ?? [])];
      dxf.polyline(
        'E-CABL-WIRE',
        (piece.via === undefined ? [...path, piece.to] : path).map(onSheet),
      );
    }
  } else if (run.section.type === 'rectangle') {
    drawDoubleLine(dxf, run, first.from, last.to);
  } else {
    const layer = run.form === 'pipe' ? 'P-PIPE' : 'E-CABL-COND';
    dxf.line(layer, onSheet(first.from), onSheet(last.to));
  }
  // Cables side by side have one label, beside the last.
  labelRun(dxf, run, run.form === 'cable' ? last.from : first.from, last.to);
}

/** Trays and ducts by both edges; the tray through line 2 by its centre line alone. */
function drawDoubleLine(dxf: DxfWriter, run: RunDim, from: V3, to: V3): void {
  if (run.section.type !== 'rectangle') return;
  const layer = run.form === 'duct' ? 'M-DUCT' : 'E-CABL-TRAY';
  if (run.ref === 'R-03') {
    dxf.polyline(layer, [onSheet(from), onSheet(to)]);
    return;
  }
  const length = Math.hypot(to[0] - from[0], to[1] - from[1]);
  const nx = (-(to[1] - from[1]) / length) * (run.section.widthMm / 2);
  const ny = ((to[0] - from[0]) / length) * (run.section.widthMm / 2);
  for (const side of [1, -1]) {
    dxf.line(
      layer,
      onSheet([from[0] + side * nx, from[1] + side * ny]),
      onSheet([to[0] + side * nx, to[1] + side * ny]),
    );
  }
}

/** The trade's ways of writing sizes, each used somewhere. */
function labelText(run: RunDim): string {
  if (run.section.type === 'circle') {
    const size = String(run.section.diameterMm);
    if (run.form === 'pipe') return `${run.ref} Ø${size}`;
    if (run.pieces.length > 1 && run.form === 'cable') {
      return `${run.ref} ${run.pieces.length} No. ${size} dia`;
    }
    if (run.form === 'cable') return `${run.ref} %%c${size}`;
    return run.ref === 'C-08' ? `${run.ref} 1 No. 110 duct` : `${run.ref} ${size} dia`;
  }
  const { widthMm, heightMm } = run.section;
  return `${run.ref} ${run.form.toUpperCase()} ${widthMm}x${heightMm}`;
}

/** Where along a run its label starts, where the usual place is taken. */
const LABEL_AT: Readonly<Record<string, number>> = {
  'VD-01': 0.27,
  'VD-02': 1.02,
  'VP-01': 0.86,
  'C-08': 0.33,
  'C-09': 0.45,
  'C-12': 0.3,
  'R-04': 0.55,
  'R-06': 0.75,
  'TR1-LV': 0.65,
  'TK-02': 0.65,
  'FA-01': 0.15,
  'C-20': 0.55,
  'C-11': 0.02,
};

/** Conduits close together have smaller labels, so that each stands between its own line and the next. */
function labelSpace(run: RunDim): { readonly beside: number; readonly height: number } {
  if (run.section.type === 'rectangle') {
    return { beside: run.section.widthMm / 2 + 50, height: SMALL };
  }
  return ['C-05', 'C-06', 'C-07'].includes(run.ref)
    ? { beside: 18, height: 65 }
    : { beside: 40, height: SMALL };
}

function labelRun(dxf: DxfWriter, run: RunDim, from: V3, to: V3): void {
  const isUpright = Math.abs(to[0] - from[0]) < Math.abs(to[1] - from[1]);
  const { beside, height } = labelSpace(run);
  const share = LABEL_AT[run.ref] ?? 0.08;
  const at: V2 = [from[0] + (to[0] - from[0]) * share, from[1] + (to[1] - from[1]) * share];
  const place: V2 = isUpright ? [at[0] - beside, at[1]] : [at[0], at[1] + beside];
  const layer = run.form === 'duct' || run.form === 'pipe' ? 'M-ANNO-TEXT' : 'E-ANNO-TEXT';
  dxf.text(layer, onSheet(place), height, labelText(run), isUpright ? { turnDeg: 90 } : {});
}

function drawRisers(dxf: DxfWriter): void {
  for (const run of RUNS) {
    const [piece] = run.pieces;
    if (piece === undefined || isLevel(piece) || run.form === 'cable') continue;
    if (Math.max(piece.from[2], piece.to[2]) <= 0) continue;
    if (run.section.type === 'circle') {
      dxf.insert('E-DETL-RISR', 'RISER', onSheet(piece.from), {
        REF: run.ref,
        SIZE: `%%c${run.section.diameterMm}`,
      });
      continue;
    }
    const { widthMm, heightMm } = run.section;
    const [x, y] = piece.from;
    dxf.polyline(
      'E-DETL-RISR',
      [
        onSheet([x - widthMm / 2, y - heightMm / 2]),
        onSheet([x + widthMm / 2, y - heightMm / 2]),
        onSheet([x + widthMm / 2, y + heightMm / 2]),
        onSheet([x - widthMm / 2, y + heightMm / 2]),
      ],
      true,
    );
    dxf.text(
      'E-ANNO-TEXT',
      onSheet([x - widthMm / 2, y + heightMm / 2 + 140]),
      SMALL,
      `${run.ref} DOWN ${widthMm}x${heightMm}`,
    );
  }
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
