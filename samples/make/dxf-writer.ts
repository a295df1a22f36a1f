import type { V2 } from '../dimensions/types.ts';
import { type DxfLayer, OBJECTS, tablesSection } from './dxf-tables.ts';
import { MODEL_RECORD, PAPER_RECORD, section, type Tag, tag } from './dxf-tags.ts';

export type DxfVersion = 'AC1015' | 'AC1021';

export interface AttributeDefinition {
  readonly tag: string;
  readonly prompt: string;
  readonly at: V2;
  readonly heightMm: number;
}

interface Block {
  readonly name: string;
  readonly recordHandle: string;
  readonly entities: Tag[];
  readonly attributes: readonly AttributeDefinition[];
}

/**
 * Writes a drawing with tables, blocks and entities as text. Handles are counted in order of
 * calls, so the same calls give the same bytes. Coordinates are drawing units (mm here).
 */
export class DxfWriter {
  readonly #version: DxfVersion;
  readonly #layers: readonly DxfLayer[];
  readonly #entities: Tag[] = [];
  readonly #blocks: Block[] = [];
  readonly #byLayer = new Map<string, number>();
  #lastHandle = 0x2f;
  #dimensions = 0;
  #into: Tag[] = this.#entities;
  #owner = MODEL_RECORD;

  constructor(version: DxfVersion, layers: readonly DxfLayer[]) {
    this.#version = version;
    this.#layers = layers;
  }

  #handle(): string {
    this.#lastHandle += 1;
    return this.#lastHandle.toString(16).toUpperCase();
  }

  #entity(type: string, layer: string, subclass: string, tags: readonly Tag[]): string {
    const handle = this.#handle();
    if (this.#owner === MODEL_RECORD) {
      this.#byLayer.set(layer, (this.#byLayer.get(layer) ?? 0) + 1);
    }
    this.#into.push(
      tag(0, type),
      tag(5, handle),
      tag(330, this.#owner),
      tag(100, 'AcDbEntity'),
      tag(8, layer),
      tag(100, subclass),
      ...tags,
    );
    return handle;
  }

  line(layer: string, from: V2, to: V2): void {
    this.#entity('LINE', layer, 'AcDbLine', [
      tag(10, from[0]),
      tag(20, from[1]),
      tag(30, 0),
      tag(11, to[0]),
      tag(21, to[1]),
      tag(31, 0),
    ]);
  }

  polyline(layer: string, points: readonly V2[], isClosed = false): void {
    this.#entity('LWPOLYLINE', layer, 'AcDbPolyline', [
      tag(90, points.length),
      tag(70, isClosed ? 1 : 0),
      tag(43, 0),
      ...points.flatMap(([x, y]) => [tag(10, x), tag(20, y)]),
    ]);
  }

  circle(layer: string, centre: V2, radius: number): void {
    this.#entity('CIRCLE', layer, 'AcDbCircle', [
      tag(10, centre[0]),
      tag(20, centre[1]),
      tag(30, 0),
      tag(40, radius),
    ]);
  }

  arc(layer: string, centre: V2, radius: number, fromDeg: number, toDeg: number): void {
    this.#entity('ARC', layer, 'AcDbCircle', [
      tag(10, centre[0]),
      tag(20, centre[1]),
      tag(30, 0),
      tag(40, radius),
      tag(100, 'AcDbArc'),
      tag(50, fromDeg),
      tag(51, toDeg),
    ]);
  }

  text(
    layer: string,
    at: V2,
    height: number,
    value: string,
    options: { readonly turnDeg?: number; readonly centred?: boolean } = {},
  ): void {
    this.#entity('TEXT', layer, 'AcDbText', [
      tag(10, at[0]),
      tag(20, at[1]),
      tag(30, 0),
      tag(40, height),
      tag(1, value),
      ...(options.turnDeg === undefined ? [] : [tag(50, options.turnDeg)]),
      ...(options.centred === true ? [tag(72, 1), tag(11, at[0]), tag(21, at[1]), tag(31, 0)] : []),
      tag(100, 'AcDbText'),
      ...(options.centred === true ? [tag(73, 2)] : []),
    ]);
  }

  /** Lines of text; `\\P` parts them. */
  mtext(layer: string, at: V2, height: number, width: number, value: string): void {
    this.#entity('MTEXT', layer, 'AcDbMText', [
      tag(10, at[0]),
      tag(20, at[1]),
      tag(30, 0),
      tag(40, height),
      tag(41, width),
      tag(71, 1),
      tag(72, 1),
      tag(1, value),
    ]);
  }

  /** A filled triangle. */
  solid(layer: string, [a, b, c]: readonly [V2, V2, V2]): void {
    this.#entity('SOLID', layer, 'AcDbTrace', [
      ...[a, b, c, c].flatMap(([x, y], index) => [
        tag(10 + index, x),
        tag(20 + index, y),
        tag(30 + index, 0),
      ]),
    ]);
  }

  /** Cross-hatching of an outline by one set of parallel lines. */
  hatch(layer: string, outline: readonly V2[], spacing: number): void {
    const offset = spacing / Math.SQRT2;
    this.#entity('HATCH', layer, 'AcDbHatch', [
      tag(10, 0),
      tag(20, 0),
      tag(30, 0),
      tag(210, 0),
      tag(220, 0),
      tag(230, 1),
      tag(2, 'ANSI31'),
      tag(70, 0),
      tag(71, 0),
      tag(91, 1),
      tag(92, 3),
      tag(72, 0),
      tag(73, 1),
      tag(93, outline.length),
      ...outline.flatMap(([x, y]) => [tag(10, x), tag(20, y)]),
      tag(97, 0),
      tag(75, 0),
      tag(76, 1),
      tag(52, 0),
      tag(41, 1),
      tag(77, 0),
      tag(78, 1),
      tag(53, 45),
      tag(43, 0),
      tag(44, 0),
      tag(45, -offset),
      tag(46, offset),
      tag(79, 0),
      tag(98, 1),
      tag(10, outline[0]?.[0] ?? 0),
      tag(20, outline[0]?.[1] ?? 0),
    ]);
  }

  /** An arrow from `points[0]` along the others; drawn as the standard's leader. */
  leader(layer: string, points: readonly V2[]): void {
    this.#entity('LEADER', layer, 'AcDbLeader', [
      tag(3, 'STANDARD'),
      tag(71, 1),
      tag(72, 0),
      tag(73, 3),
      tag(74, 0),
      tag(75, 0),
      tag(40, 0),
      tag(41, 0),
      tag(76, points.length),
      ...points.flatMap(([x, y]) => [tag(10, x), tag(20, y), tag(30, 0)]),
      tag(211, 1),
      tag(221, 0),
      tag(231, 0),
    ]);
  }

  /** Makes a block; what `draw` draws goes into it. */
  block(name: string, attributes: readonly AttributeDefinition[], draw: () => void): void {
    const block: Block = { name, recordHandle: this.#handle(), entities: [], attributes };
    this.#blocks.push(block);
    this.#into = block.entities;
    this.#owner = block.recordHandle;
    draw();
    for (const attribute of attributes) {
      this.#entity('ATTDEF', '0', 'AcDbText', [
        tag(10, attribute.at[0]),
        tag(20, attribute.at[1]),
        tag(30, 0),
        tag(40, attribute.heightMm),
        tag(1, ''),
        tag(100, 'AcDbAttributeDefinition'),
        tag(3, attribute.prompt),
        tag(2, attribute.tag),
        tag(70, 0),
      ]);
    }
    this.#into = this.#entities;
    this.#owner = MODEL_RECORD;
  }

  insert(
    layer: string,
    blockName: string,
    at: V2,
    values: Readonly<Record<string, string>> = {},
  ): void {
    const block = this.#blocks.find((candidate) => candidate.name === blockName);
    if (block === undefined) throw new Error(`No block ${blockName}.`);
    const hasAttributes = block.attributes.length > 0;
    const insertHandle = this.#entity('INSERT', layer, 'AcDbBlockReference', [
      ...(hasAttributes ? [tag(66, 1)] : []),
      tag(2, blockName),
      tag(10, at[0]),
      tag(20, at[1]),
      tag(30, 0),
    ]);
    if (!hasAttributes) return;
    this.#owner = insertHandle;
    for (const attribute of block.attributes) {
      this.#entity('ATTRIB', layer, 'AcDbText', [
        tag(10, at[0] + attribute.at[0]),
        tag(20, at[1] + attribute.at[1]),
        tag(30, 0),
        tag(40, attribute.heightMm),
        tag(1, values[attribute.tag] ?? ''),
        tag(100, 'AcDbAttribute'),
        tag(2, attribute.tag),
        tag(70, 0),
      ]);
    }
    this.#into.push(
      tag(0, 'SEQEND'),
      tag(5, this.#handle()),
      tag(330, insertHandle),
      tag(100, 'AcDbEntity'),
      tag(8, layer),
    );
    this.#owner = MODEL_RECORD;
  }

  /** A dimension along x or y with its picture in an anonymous block. */
  dimension(layer: string, from: V2, to: V2, lineAt: V2, height: number): void {
    const isHorizontal = Math.abs(to[0] - from[0]) >= Math.abs(to[1] - from[1]);
    const a: V2 = isHorizontal ? [from[0], lineAt[1]] : [lineAt[0], from[1]];
    const b: V2 = isHorizontal ? [to[0], lineAt[1]] : [lineAt[0], to[1]];
    const middle: V2 = [(a[0] + b[0]) / 2, (a[1] + b[1]) / 2];
    const textAt: V2 = isHorizontal
      ? [middle[0], middle[1] + height * 0.9]
      : [middle[0] - height * 0.9, middle[1]];
    const measured = String(Math.round(Math.hypot(b[0] - a[0], b[1] - a[1])));
    this.#dimensions += 1;
    const name = `*D${this.#dimensions}`;
    this.block(name, [], () => {
      this.line(layer, from, a);
      this.line(layer, to, b);
      this.line(layer, a, b);
      const tick = height * 0.5;
      for (const [x, y] of [a, b]) this.line(layer, [x - tick, y - tick], [x + tick, y + tick]);
      this.text(layer, textAt, height, measured, {
        centred: true,
        ...(isHorizontal ? {} : { turnDeg: 90 }),
      });
    });
    this.#entity('DIMENSION', layer, 'AcDbDimension', [
      tag(2, name),
      tag(10, b[0]),
      tag(20, b[1]),
      tag(30, 0),
      tag(11, textAt[0]),
      tag(21, textAt[1]),
      tag(31, 0),
      tag(70, 32),
      tag(71, 5),
      tag(1, ''),
      tag(3, 'STANDARD'),
      tag(100, 'AcDbAlignedDimension'),
      tag(13, from[0]),
      tag(23, from[1]),
      tag(33, 0),
      tag(14, to[0]),
      tag(24, to[1]),
      tag(34, 0),
      ...(isHorizontal ? [] : [tag(50, 90)]),
      tag(100, 'AcDbRotatedDimension'),
    ]);
  }

  /** Entities of the model space by layer, blocks' own parts and attributes not among them. */
  get entitiesByLayer(): ReadonlyMap<string, number> {
    return this.#byLayer;
  }

  toText(extents: readonly [V2, V2]): string {
    const body = [
      ...tablesSection(
        this.#layers.map((layer) => ({ layer, handle: this.#handle() })),
        this.#blocks,
      ),
      ...this.#blockSection(),
      ...section('ENTITIES', this.#entities),
      ...section('OBJECTS', OBJECTS),
      tag(0, 'EOF'),
    ];
    const seed = (this.#lastHandle + 1).toString(16).toUpperCase();
    const header = section('HEADER', [
      tag(9, '$ACADVER'),
      tag(1, this.#version),
      tag(9, '$DWGCODEPAGE'),
      tag(3, 'ANSI_1252'),
      tag(9, '$HANDSEED'),
      tag(5, seed),
      tag(9, '$INSUNITS'),
      tag(70, 4),
      tag(9, '$MEASUREMENT'),
      tag(70, 1),
      tag(9, '$LTSCALE'),
      tag(40, 50),
      tag(9, '$EXTMIN'),
      tag(10, extents[0][0]),
      tag(20, extents[0][1]),
      tag(30, 0),
      tag(9, '$EXTMAX'),
      tag(10, extents[1][0]),
      tag(20, extents[1][1]),
      tag(30, 0),
    ]);
    return [...header, ...section('CLASSES', []), ...body]
      .map(({ code, value }) => `${String(code).padStart(3, ' ')}\n${value}\n`)
      .join('');
  }

  #blockSection(): readonly Tag[] {
    const whole = (
      name: string,
      owner: string,
      entities: readonly Tag[],
      flags: number,
      handles: readonly [string, string],
    ): readonly Tag[] => [
      tag(0, 'BLOCK'),
      tag(5, handles[0]),
      tag(330, owner),
      tag(100, 'AcDbEntity'),
      tag(8, '0'),
      tag(100, 'AcDbBlockBegin'),
      tag(2, name),
      tag(70, flags),
      tag(10, 0),
      tag(20, 0),
      tag(30, 0),
      tag(3, name),
      tag(1, ''),
      ...entities,
      tag(0, 'ENDBLK'),
      tag(5, handles[1]),
      tag(330, owner),
      tag(100, 'AcDbEntity'),
      tag(8, '0'),
      tag(100, 'AcDbBlockEnd'),
    ];
    return section('BLOCKS', [
      ...whole('*Model_Space', MODEL_RECORD, [], 0, ['20', '21']),
      ...whole('*Paper_Space', PAPER_RECORD, [], 0, ['22', '23']),
      ...this.#blocks.flatMap((block) =>
        whole(
          block.name,
          block.recordHandle,
          block.entities,
          (block.name.startsWith('*') ? 1 : 0) + (block.attributes.length > 0 ? 2 : 0),
          [this.#handle(), this.#handle()],
        ),
      ),
    ]);
  }
}
