import type {
  PatchAttributeSlot,
  PatchBlock,
  PatchEntity,
  Point2,
} from '../../formats/dxf/patch-records.ts';
import type { DxfTagEdit } from '../../model/tag-edit.ts';

export const TAG_LAYER = 'SEALBOOK-TAGS';
export const TAG_BLOCK = 'SEALBOOK_TAG';

/** Attributes of the symbol; the first is shown, the others travel with it. */
const TAG_ATTRIBUTES = [
  { tag: 'TAG', prompt: 'Tag of the penetration' },
  { tag: 'REVISION', prompt: 'Revision of the issue' },
  { tag: 'OPENING', prompt: 'Opening, mm' },
  { tag: 'SEAL', prompt: 'Seal' },
  { tag: 'CABLES', prompt: 'Cables' },
  { tag: 'QUERIES', prompt: 'Open queries' },
] as const;

/** Side of the square that the block is drawn in; the insert stretches it to the box. */
const HALF = 0.5;

/** A box with a second line at its foot: ours, and legible in grey. */
export function tagBlock(): PatchBlock {
  const corners: Point2[] = [
    [-HALF, -HALF],
    [HALF, -HALF],
    [HALF, HALF],
    [-HALF, HALF],
  ];
  const sides = corners.map((from, at): PatchEntity => {
    const to = corners[(at + 1) % corners.length] ?? from;
    return { type: 'line', from, to };
  });
  const foot: PatchEntity = { type: 'line', from: [-HALF, -0.38], to: [HALF, -0.38] };
  const slots = TAG_ATTRIBUTES.map(({ tag, prompt }, at): PatchAttributeSlot => {
    return { tag, prompt, at: [0, 0.06], height: 0.5, isVisible: at === 0 };
  });
  return { name: TAG_BLOCK, entities: [...sides, foot], slots };
}

export interface SymbolPlace {
  readonly centre: Point2;
  readonly width: number;
  readonly height: number;
  readonly textHeight: number;
  readonly turnDeg: number;
}

export function tagInsert(edit: DxfTagEdit, place: SymbolPlace): PatchEntity {
  const texts = new Map(edit.texts.map(({ name, text }) => [name, text]));
  texts.set('TAG', edit.tag);
  const turn = (place.turnDeg * Math.PI) / 180;
  // The text stands a little above the middle, clear of the second line.
  const lift = 0.06 * place.height;
  const at: Point2 = [
    place.centre[0] - Math.sin(turn) * lift,
    place.centre[1] + Math.cos(turn) * lift,
  ];
  return {
    type: 'insert',
    block: TAG_BLOCK,
    at: place.centre,
    scale: [place.width, place.height],
    turnDeg: place.turnDeg,
    attributes: TAG_ATTRIBUTES.map(({ tag }, index) => ({
      tag,
      text: texts.get(tag) ?? '',
      at,
      height: place.textHeight,
      turnDeg: place.turnDeg,
      isVisible: index === 0,
    })),
  };
}

const CLOUD_BULGES = 10;

/** A revision cloud: half circles along a ring, bulging outwards. */
export function cloudRound([x, y]: Point2, radius: number): PatchEntity[] {
  const step = (2 * Math.PI) / CLOUD_BULGES;
  const bulge = radius * Math.sin(step / 2);
  return Array.from({ length: CLOUD_BULGES }, (_, at): PatchEntity => {
    const angle = at * step;
    const middle = radius * Math.cos(step / 2);
    const degrees = (angle * 180) / Math.PI;
    return {
      type: 'arc',
      centre: [x + middle * Math.cos(angle), y + middle * Math.sin(angle)],
      radius: bulge,
      startDeg: (degrees + 270) % 360,
      endDeg: (degrees + 90) % 360,
    };
  });
}
