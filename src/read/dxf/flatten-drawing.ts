import type {
  DxfCommon,
  DxfDocument,
  DxfEntity,
  DxfInsert,
  DxfLayer,
  DxfText,
} from '../../formats/dxf/dxf-entity.ts';
import {
  type Frame3,
  frameDirection,
  frameInside,
  framePoint,
  scaledFrame,
  WORLD_FRAME,
} from '../../geometry/frame3.ts';
import { mapPoint, type PlanePiece } from '../../geometry/plane-curve.ts';
import { planeOfExtrusion } from '../../geometry/plane-transform.ts';
import type { Vec2, Vec3 } from '../../geometry/vec.ts';
import type {
  DrawnEntity,
  DrawnLeader,
  DrawnStyle,
  DrawnSymbol,
  DrawnText,
} from '../../model/drawing.ts';
import { mapEntity } from './map-entity.ts';
import { mapText } from './map-text.ts';

export interface FlatDrawing {
  readonly entities: readonly DrawnEntity[];
  readonly symbols: readonly DrawnSymbol[];
  readonly texts: readonly DrawnText[];
  readonly leaders: readonly DrawnLeader[];
  readonly masks: readonly (readonly Vec2[])[];
  /** What was left out, by type, layer and reason. */
  readonly leftOut: readonly LeftOut[];
  /** Blocks that stand for files which are not here, and blocks that are inserted and missing. */
  readonly missingBlocks: readonly { readonly name: string; readonly xrefPath: string | null }[];
  /** Entities in paper space, where model space is used. */
  readonly isPaperSpaceUsed: boolean;
}

export interface LeftOut {
  readonly type: string;
  readonly layer: string;
  readonly reason: string;
  count: number;
}

export interface FlattenOptions {
  readonly fileKey: string;
  readonly mmPerUnit: number;
  readonly includeHidden: boolean;
  readonly maxDepth: number;
  readonly maxEntities: number;
  /** More copies in one array are left out. */
  readonly maxCopies: number;
}

/** Takes all blocks apart and puts everything into the drawing's plane, in millimetres. */
export function flattenDrawing(document: DxfDocument, options: FlattenOptions): FlatDrawing {
  return new Flattening(options).finish(document);
}

/** What a block's content takes over from the insert that shows it. */
interface Surroundings {
  readonly map: Frame3;
  readonly layer: string | null;
  readonly style: DrawnStyle;
  readonly within: readonly string[];
  readonly handles: string;
  /** Names of the blocks that are being taken apart, to catch one that holds itself. */
  readonly open: readonly string[];
}

const NOTHING_YET: Pick<DxfDocument, 'layers' | 'blocks'> = {
  layers: new Map(),
  blocks: new Map(),
};
const BY_BLOCK = 0;
const BY_LAYER = 256;
const TRUE_COLOUR = 0x1000000;

/**
 * Takes a drawing apart as it is read: `take` for each entity that needs nothing that comes later in
 * the file, then `finish` for the rest.
 */
export class Flattening {
  private document: Pick<DxfDocument, 'layers' | 'blocks'> = NOTHING_YET;
  private readonly options: FlattenOptions;
  private readonly entities: DrawnEntity[] = [];
  private readonly symbols: DrawnSymbol[] = [];
  private readonly texts: DrawnText[] = [];
  private readonly leaders: DrawnLeader[] = [];
  private readonly masks: (readonly Vec2[])[] = [];
  private readonly leftOut = new Map<string, LeftOut>();
  private readonly missing = new Map<string, { name: string; xrefPath: string | null }>();
  private readonly layerStyles = new Map<string, DrawnStyle>();
  private readonly outside: Surroundings;
  private hasModelLines = false;
  private count = 0;

  constructor(options: FlattenOptions) {
    this.options = options;
    this.outside = {
      map: scaledFrame(WORLD_FRAME, options.mmPerUnit),
      layer: null,
      style: { colour: 7, lineweight: -3, linetype: 'CONTINUOUS' },
      within: [],
      handles: '',
      open: [],
    };
  }

  /** Whether the entity was taken; blocks and paper space wait for the end of the file. */
  take(entity: DxfEntity, soFar: Pick<DxfDocument, 'layers' | 'blocks'>): boolean {
    if (entity.kind === 'insert' || entity.kind === 'viewport' || entity.look.isPaperSpace)
      return false;
    this.document = soFar;
    this.hasModelLines ||= drawsLines(entity);
    this.add(entity, this.outside);
    return true;
  }

  /** The whole, with the entities that were not taken on the way. */
  finish(document: Pick<DxfDocument, 'layers' | 'blocks' | 'entities'>): FlatDrawing {
    this.document = document;
    const { entities } = document;
    const isDrawnInPaper =
      !this.hasModelLines &&
      !entities.some((entity) => !entity.look.isPaperSpace && drawsLines(entity));
    for (const entity of entities) {
      if (entity.kind === 'viewport') continue;
      if (entity.look.isPaperSpace && !isDrawnInPaper)
        this.leave(entity, entity.look.layer, 'paper space');
      else this.add(entity, this.outside);
    }
    return {
      entities: this.entities,
      symbols: this.symbols,
      texts: this.texts,
      leaders: this.leaders,
      masks: this.masks,
      leftOut: [...this.leftOut.values()],
      missingBlocks: [...this.missing.values()],
      isPaperSpaceUsed: isDrawnInPaper && entities.some(drawsLines),
    };
  }

  private add(entity: DxfEntity, around: Surroundings): void {
    const layer = this.layerOf(entity, around);
    if (!this.options.includeHidden) {
      const reason = this.hiddenReason(entity, layer);
      if (reason !== null) {
        this.leave(entity, layer, reason);
        return;
      }
    }
    switch (entity.kind) {
      case 'insert':
        this.addInsert(entity, layer, around);
        return;
      case 'text':
        this.addText(entity, layer, around);
        return;
      case 'leader':
        this.addLeader(entity, layer, around);
        return;
      case 'wipeout':
        this.masks.push(entity.outline.map((point) => mapPoint(around.map, point)));
        return;
      case 'point':
      case 'dimension':
      case 'viewport':
        // Read and known; they draw nothing that can be a wall or a service.
        return;
      default:
        this.addDrawn(entity, layer, around);
    }
  }

  private addDrawn(entity: DxfEntity, layer: string, around: Surroundings): void {
    const loops = (mapEntity(entity, around.map) ?? []).filter((loop) => loop.pieces.length > 0);
    if (loops.length === 0) {
      this.leave(entity, layer, 'no length when seen from above');
      return;
    }
    const isNearEnough = loops.every((loop) => loop.pieces.every(isSane));
    if (!isNearEnough) {
      this.leave(entity, layer, 'a coordinate beyond any drawing');
      return;
    }
    this.entities.push({
      ref: this.refOf(entity, around),
      type: entity.type,
      layer,
      style: this.styleOf(entity, layer, around),
      loops,
      form: entity.kind === 'hatch' || entity.kind === 'solid' ? 'fill' : 'curve',
      widthMm: entity.kind === 'polyline' ? entity.width * scaleOf(around.map) : 0,
      within: around.within,
    });
  }

  private addText(entity: DxfText, layer: string, around: Surroundings): void {
    // The definition of an attribute is a form to fill in, unless it is constant.
    if (entity.tag !== null && !entity.isConstant) return;
    if (entity.text.trim() === '') return;
    this.texts.push({
      ref: this.refOf(entity, around),
      layer,
      text: entity.text,
      ...mapText(entity, around.map),
      within: around.within,
    });
  }

  private addLeader(
    entity: Extract<DxfEntity, { kind: 'leader' }>,
    layer: string,
    around: Surroundings,
  ): void {
    const lines = entity.lines
      .map((points) => points.map((point) => mapPoint(around.map, point)))
      .filter((points) => points.length > 1);
    const tips = lines.flatMap((points) => points.slice(0, 1));
    const tail = lines[0]?.at(-1);
    if (tail === undefined) return;
    this.leaders.push({
      ref: this.refOf(entity, around),
      layer,
      tipsMm: tips,
      tailMm: tail,
      textHandle: entity.annotationHandle,
      text: entity.text,
    });
  }

  private addInsert(insert: DxfInsert, layer: string, around: Surroundings): void {
    const block = this.document.blocks.get(insert.blockName.toLowerCase());
    const own = frameInside(around.map, planeOfExtrusion(insert.look.extrusion));
    const copies = insert.columns * insert.rows;
    const isArray = copies > 1 && copies <= this.options.maxCopies && block !== undefined;
    if (!isArray) this.addSymbol(insert, layer, around, mapPoint(own, insert.position), '');
    if (block === undefined || block.xrefPath !== null) {
      this.missing.set(insert.blockName, {
        name: insert.blockName,
        xrefPath: block?.xrefPath ?? null,
      });
      if (block === undefined || block.entities.length === 0) return;
    }
    const name = block.name.toLowerCase();
    if (around.open.includes(name)) {
      this.leave(insert, layer, 'a block that holds itself');
      return;
    }
    if (around.open.length >= this.options.maxDepth) {
      this.leave(
        insert,
        layer,
        `blocks nested deeper than ${this.options.maxDepth} (limits.depth)`,
      );
      return;
    }
    if (copies > this.options.maxCopies) {
      this.leave(insert, layer, `an array of ${copies} copies (limits.copies)`);
      return;
    }
    const style = this.styleOf(insert, layer, around);
    for (let copy = 0; copy < copies; copy++) {
      // A copy counts even where the block is empty: arrays within arrays multiply.
      if (!this.hasRoom(insert, layer)) return;
      const row = Math.floor(copy / insert.columns);
      const column = copy % insert.columns;
      const place = copies > 1 ? `[${row + 1},${column + 1}]` : '';
      const map = frameInside(own, insertMap(insert, block.base, row, column));
      if (isArray) this.addSymbol(insert, layer, around, mapPoint(map, block.base), place);
      const inside: Surroundings = {
        map,
        layer,
        style,
        within: [...around.within, this.refOf(insert, around).id + place],
        handles: `${around.handles}${insert.handle}${place}/`,
        open: [...around.open, name],
      };
      for (const entity of block.entities) {
        if (!this.hasRoom(insert, layer)) return;
        this.add(entity, inside);
      }
    }
  }

  /** Counts one more thing within blocks; says so where there may be no more. */
  private hasRoom(insert: DxfInsert, layer: string): boolean {
    if (this.count >= this.options.maxEntities) {
      this.leave(insert, layer, 'more content than limits.entities allows');
      return false;
    }
    this.count += 1;
    return true;
  }

  /** Each copy of an array is a symbol of its own, with the attributes of all. */
  private addSymbol(
    insert: DxfInsert,
    layer: string,
    around: Surroundings,
    positionMm: Vec2,
    place: string,
  ): void {
    const { fileKey, id } = this.refOf(insert, around);
    this.symbols.push({
      ref: { fileKey, id: id + place },
      layer,
      blockName: insert.blockName,
      positionMm,
      attributes: insert.attributes.map(({ tag, text, handle }) => ({ tag, text, handle })),
      within: around.within,
    });
  }

  private refOf(entity: DxfCommon, around: Surroundings) {
    const id = around.handles === '' ? entity.handle : around.handles + entity.handle;
    return { fileKey: this.options.fileKey, id };
  }

  /** Content of a block on layer 0 belongs to the layer of its insert. */
  private layerOf(entity: DxfCommon, around: Surroundings): string {
    const { layer } = entity.look;
    if (layer === '0' && around.layer !== null) return around.layer;
    return this.layerNamed(layer)?.name ?? layer;
  }

  private layerNamed(name: string): DxfLayer | undefined {
    return this.document.layers.get(name) ?? this.document.layers.get(name.toLowerCase());
  }

  private hiddenReason(entity: DxfEntity, layerName: string): string | null {
    if (entity.look.isInvisible) return 'invisible';
    if (entity.kind === 'text' && entity.isHiddenAttribute) return 'invisible';
    const layer = this.layerNamed(layerName);
    if (layer?.isFrozen) return 'layer is frozen';
    // A switched-off layer hides what is on it, not what a block on it holds on other layers.
    if (layer?.isOff && entity.kind !== 'insert') return 'layer is switched off';
    return null;
  }

  private styleOf(entity: DxfCommon, layerName: string, around: Surroundings): DrawnStyle {
    const isByLayer =
      entity.look.colour === BY_LAYER &&
      entity.look.trueColour === null &&
      entity.look.lineweight === -1 &&
      entity.look.linetype === 'BYLAYER';
    const known = isByLayer ? this.layerStyles.get(layerName) : undefined;
    if (known !== undefined) return known;
    const style = this.makeStyle(entity, layerName, around);
    if (isByLayer) this.layerStyles.set(layerName, style);
    return style;
  }

  private makeStyle(entity: DxfCommon, layerName: string, around: Surroundings): DrawnStyle {
    const layer = this.layerNamed(layerName);
    const { style } = around;
    const linetype = entity.look.linetype.toUpperCase();
    return {
      colour:
        entity.look.trueColour !== null
          ? entity.look.trueColour + TRUE_COLOUR
          : entity.look.colour === BY_LAYER
            ? (layer?.colour ?? 7)
            : entity.look.colour === BY_BLOCK
              ? style.colour
              : Math.abs(entity.look.colour),
      lineweight:
        entity.look.lineweight === -1
          ? (layer?.lineweight ?? -3)
          : entity.look.lineweight === -2
            ? style.lineweight
            : entity.look.lineweight,
      linetype:
        linetype === 'BYLAYER'
          ? (layer?.linetype.toUpperCase() ?? 'CONTINUOUS')
          : linetype === 'BYBLOCK'
            ? style.linetype
            : linetype,
    };
  }

  private leave(entity: DxfCommon, layer: string, reason: string): void {
    const key = `${entity.type}\n${layer}\n${reason}`;
    const known = this.leftOut.get(key);
    if (known !== undefined) known.count += 1;
    else this.leftOut.set(key, { type: entity.type, layer, reason, count: 1 });
  }
}

function drawsLines(entity: DxfEntity): boolean {
  switch (entity.kind) {
    case 'text':
    case 'viewport':
    case 'point':
    case 'dimension':
    case 'leader':
    case 'wipeout':
      return false;
    default:
      return true;
  }
}

/**
 * From a block's own space to the plane of its insert: base point to the origin, scale, shift of
 * this copy of the array (which turns with the insert but is not scaled), turn, place.
 */
function insertMap(insert: DxfInsert, base: Vec3, row: number, column: number): Frame3 {
  const cos = Math.cos(insert.rotationRad);
  const sin = Math.sin(insert.rotationRad);
  const turn: Frame3 = { x: [cos, sin, 0], y: [-sin, cos, 0], z: [0, 0, 1], origin: [0, 0, 0] };
  const [sx, sy, sz] = insert.scale;
  const linear: Frame3 = {
    x: frameDirection(turn, [sx, 0, 0]),
    y: frameDirection(turn, [0, sy, 0]),
    z: [0, 0, sz],
    origin: [0, 0, 0],
  };
  const shift = frameDirection(turn, [column * insert.columnSpacing, row * insert.rowSpacing, 0]);
  const moved = framePoint(linear, [-base[0], -base[1], -base[2]]);
  return {
    ...linear,
    origin: [
      moved[0] + shift[0] + insert.position[0],
      moved[1] + shift[1] + insert.position[1],
      moved[2] + shift[2] + insert.position[2],
    ],
  };
}

/** Length of the map's x axis seen from above: good enough for the width of a line. */
function scaleOf(map: Frame3): number {
  return Math.hypot(map.x[0], map.x[1]);
}

/** In millimetres a thousand kilometres: no survey grid reaches farther from its origin. */
const FARTHEST_MM = 1e12;

function isSane(piece: PlanePiece): boolean {
  return piece.type === 'line'
    ? isNear(piece.from) && isNear(piece.to)
    : isNear(piece.centre) && piece.radiusMm < FARTHEST_MM;
}

const isNear = ([x, y]: Vec2): boolean => Math.abs(x) < FARTHEST_MM && Math.abs(y) < FARTHEST_MM;
