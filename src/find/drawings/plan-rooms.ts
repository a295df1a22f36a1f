import { compareText, groupBy } from '../../basics/order.ts';
import { type Band, bandLengthMm, bandPoint, bandThicknessMm } from '../../geometry/band.ts';
import type { PlaneBox } from '../../geometry/plane-box.ts';
import { bandBox, insideStretches, pathAt, planePath } from '../../geometry/plane-cross.ts';
import { PlaneFlood } from '../../geometry/plane-flood.ts';
import { add2, distance2, scale2, sub2, unit2, type Vec2 } from '../../geometry/vec.ts';
import { speaksOfRooms } from '../../model/layer-role.ts';
import { STAMP_LINE } from '../../model/room-names.ts';
import type { DoorSwing } from './door-swings.ts';
import type { HostBands } from './host-bands.ts';
import type { Sheet } from './sheet.ts';

/** Cells of the raster on which rooms are told apart. Narrower than the thinnest partition with its two faces. */
const CELL_MM = 50;
/** On coarser cells thin walls and narrow rooms run into each other: then nothing is said. */
const COARSEST_MM = 200;
/** Gaps in line with a wall up to this wide, doors and windows, part rooms. */
const WIDEST_GAP_MM = 3000;
/** Texts of one room's stamp stand within so many of their heights of one another. */
const STAMP_HEIGHTS = 4;
/** Areas, heights and levels in a room's stamp name nothing. */
const MEASURE =
  /^\(?[~≈]?\s*[\d.,\s]+(?:m2|m²|m\^2|qm|sqm|sq\.?\s?(?:m|ft)\.?|sf|ft²|m|mm)\)?$|^(?:FFL|SSL|CH|CL|RH|LRH|RD|OKF|OKFF|HSP|NGF|A|F|U|H)\s*[:=.]?\s*[+±-]?\s*[\d.,]+\s*(?:m|mm|m2|m²|qm)?$/i;

export interface PlanRooms {
  /** The room that a place lies in; null where none is named, more than one, or none is closed. */
  readonly at: (place: Vec2) => string | null;
  /** How far from a face one looks: clear of the cells that the wall itself takes. */
  readonly besideMm: number;
}

interface RoomText {
  readonly text: string;
  readonly centre: Vec2;
  readonly heightMm: number;
}

/** Rooms of a plan by their names, parted by walls and the doors and windows in line with them. */
export function planRooms(
  sheet: Sheet,
  hosts: HostBands,
  swings: readonly DoorSwing[],
): PlanRooms | null {
  const texts = roomTexts(sheet);
  if (sheet.view.view !== 'plan' || texts.length === 0 || hosts.bands.length === 0) return null;
  const box = boxRound(hosts.bands);
  const flood = new PlaneFlood(box, CELL_MM);
  if (flood.cellMm > COARSEST_MM) return null;
  for (const band of hosts.bands) blockBand(flood, band);
  for (const { hinge, ends } of swings) for (const end of ends) flood.block(hinge, end);
  for (const [from, to] of gapsInLine(hosts)) flood.block(from, to);
  // What hangs together with the margin is no room, or one whose walls leave a wide gap.
  const outside = flood.regionAt([box[0] + 1, box[1] + 1]);
  const byRegion = groupBy(texts, ({ centre }) => String(flood.regionAt(centre)));
  const names = new Map([...byRegion].map(([region, own]) => [region, roomName(own)]));
  return {
    besideMm: 3 * flood.cellMm,
    at(place) {
      const region = flood.regionAt(place);
      return region === null || region === outside ? null : (names.get(String(region)) ?? null);
    },
  };
}

/** Free ground round everything. */
const MARGIN_MM = 1000;

function roomTexts(sheet: Sheet): RoomText[] {
  const written = sheet.names.texts
    .filter(({ layer }) => speaksOfRooms(layer))
    .map(({ text, centreMm, heightMm }) => ({ text, centre: centreMm, heightMm }));
  const stamps = sheet.names.tags
    .filter(({ layer, blockName }) => speaksOfRooms(layer) || speaksOfRooms(blockName))
    .map(({ attributes, positionMm }) => ({
      text: attributes.map(({ text }) => text).join('\n'),
      centre: positionMm,
      heightMm: 0,
    }));
  return [...written, ...stamps].filter(({ text }) => nameLines(text).length > 0);
}

const nameLines = (text: string): string[] =>
  text
    .split('\n')
    .map((line) => line.trim())
    .filter((line) => /[\p{L}\p{N}]/u.test(line) && !MEASURE.test(line));

/** More texts than any stamp has. */
const MOST_TEXTS = 60;

/** One stamp's lines as "PUMP HALL / R.012"; null where a region holds several stamps that differ. */
function roomName(texts: readonly RoomText[]): string | null {
  if (texts.length > MOST_TEXTS) return null;
  const stamps = new Set(
    stampsOf(texts).map((stamp) => {
      const ordered = [...stamp].sort(
        (a, b) =>
          b.centre[1] - a.centre[1] || a.centre[0] - b.centre[0] || compareText(a.text, b.text),
      );
      return [...new Set(ordered.flatMap(({ text }) => nameLines(text)))].join(STAMP_LINE);
    }),
  );
  const [name] = stamps;
  return stamps.size === 1 && name !== undefined ? name : null;
}

/** Texts that stand together. */
function stampsOf(texts: readonly RoomText[]): RoomText[][] {
  const stamps: RoomText[][] = [];
  for (const text of texts) {
    const near = stamps.filter((stamp) =>
      stamp.some(
        ({ centre, heightMm }) =>
          distance2(centre, text.centre) <= STAMP_HEIGHTS * Math.max(heightMm, text.heightMm),
      ),
    );
    for (const stamp of near) stamps.splice(stamps.indexOf(stamp), 1);
    stamps.push([...near.flat(), text]);
  }
  return stamps;
}

/** Draws a wall into the raster: lines along it, close enough to leave no cell out. */
function blockBand(flood: PlaneFlood, band: Band): void {
  const across = Math.max(1, Math.ceil((2 * bandThicknessMm(band)) / flood.cellMm));
  const along =
    band.type === 'straight' ? 1 : Math.max(4, Math.ceil(bandLengthMm(band) / flood.cellMm));
  for (let i = 0; i <= across; i += 1) {
    const v = band.v0 + ((band.v1 - band.v0) * i) / across;
    for (let j = 0; j < along; j += 1) {
      const at = (n: number): Vec2 =>
        bandPoint(band, band.u0 + ((band.u1 - band.u0) * n) / along, v);
      flood.block(at(j), at(j + 1));
    }
  }
}

/** From each end of a wall on to the next wall in line with it. */
function gapsInLine({ bands, index }: HostBands): (readonly [Vec2, Vec2])[] {
  return bands.flatMap((band) => {
    if (band.type !== 'straight') return [];
    const v = (band.v0 + band.v1) / 2;
    const ends = [bandPoint(band, band.u0, v), bandPoint(band, band.u1, v)] as const;
    return [ends, [ends[1], ends[0]] as const].flatMap(([end, other]) => {
      const out = unit2(sub2(end, other));
      if (out === null) return [];
      const path = planePath([add2(end, out), add2(end, scale2(out, WIDEST_GAP_MM))]);
      const [next] = insideStretches(path, index);
      return next === undefined ? [] : [[end, pathAt(path, next.s0).point] as const];
    });
  });
}

function boxRound(bands: readonly Band[]): PlaneBox {
  const boxes = bands.map(bandBox);
  const least = (k: 0 | 1) => boxes.reduce((low, box) => Math.min(low, box[k]), Infinity);
  const most = (k: 2 | 3) => boxes.reduce((high, box) => Math.max(high, box[k]), -Infinity);
  return [least(0) - MARGIN_MM, least(1) - MARGIN_MM, most(2) + MARGIN_MM, most(3) + MARGIN_MM];
}
