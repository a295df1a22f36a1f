/**
 * Records of a DXF as they are written for a file's own version: handles, owners and subclass marks
 * where it has them.
 *
 * @source Autodesk DXF Reference, "ENTITIES Section", "BLOCKS Section", "TABLES Section"; the marks
 * of AC1012 and later checked with ezdxf's audit.
 */
import type { PatchLayout } from './patch-layout.ts';

export type Point2 = readonly [number, number];

export type PatchEntity =
  | { readonly type: 'line'; readonly from: Point2; readonly to: Point2 }
  | { readonly type: 'circle'; readonly centre: Point2; readonly radius: number }
  | {
      readonly type: 'arc';
      readonly centre: Point2;
      readonly radius: number;
      /** Anticlockwise from start to end. */
      readonly startDeg: number;
      readonly endDeg: number;
    }
  | {
      readonly type: 'insert';
      readonly block: string;
      readonly at: Point2;
      readonly scale: Point2;
      readonly turnDeg: number;
      readonly attributes: readonly PatchAttribute[];
    };

export interface PatchAttribute {
  readonly tag: string;
  readonly text: string;
  /** Middle of the text. */
  readonly at: Point2;
  readonly height: number;
  readonly turnDeg: number;
  readonly isVisible: boolean;
}

/** An attribute as the block declares it, in the block's own units. */
export interface PatchAttributeSlot {
  readonly tag: string;
  readonly prompt: string;
  readonly at: Point2;
  readonly height: number;
  readonly isVisible: boolean;
}

export interface PatchBlock {
  readonly name: string;
  readonly entities: readonly PatchEntity[];
  readonly slots: readonly PatchAttributeSlot[];
}

const LONGEST_TEXT = 250;

/** Writes records, counting handles up. */
export class PatchRecords {
  readonly #layout: PatchLayout;
  readonly #layer: string;
  #next: number;
  #tags: string[] = [];

  constructor(layout: PatchLayout, layer: string) {
    this.#layout = layout;
    this.#layer = layer;
    this.#next = layout.nextHandle;
  }

  /** First handle not given out. */
  get nextHandle(): number {
    return this.#next;
  }

  /** Text of the records written since the last call. */
  take(): string {
    const text = this.#tags.join('');
    this.#tags = [];
    return text;
  }

  comment(text: string): void {
    this.#tag(999, text);
  }

  /** A section of its own round what `write` writes. */
  section(name: string, write: () => void): void {
    this.#tag(0, 'SECTION');
    this.#tag(2, name);
    write();
    this.#tag(0, 'ENDSEC');
  }

  layer(): void {
    this.#begin('LAYER', this.#layout.layerTable);
    this.#mark('AcDbSymbolTableRecord');
    this.#mark('AcDbLayerTableRecord');
    this.#tag(2, this.#layer);
    this.#tag(70, 0);
    this.#tag(62, 7);
    this.#tag(6, 'CONTINUOUS');
    for (const [code, value] of this.#layout.layerExtras) this.#tag(code, value);
  }

  /** The record of a block; its handle, or null where a file has no such records (R12). */
  blockRecord(name: string): string | null {
    if (this.#layout.blockRecordsEnd === null) return null;
    const handle = this.#begin('BLOCK_RECORD', this.#layout.blockRecordTable);
    this.#mark('AcDbSymbolTableRecord');
    this.#mark('AcDbBlockTableRecord');
    this.#tag(2, name);
    if (this.#layout.version >= 'AC1015') this.#tag(340, '0');
    return handle;
  }

  block(block: PatchBlock, owner: string | null): void {
    this.#begin('BLOCK', owner);
    this.#entityHead('AcDbBlockBegin');
    this.#tag(2, block.name);
    this.#tag(70, block.slots.length > 0 ? 2 : 0);
    this.#point(10, [0, 0]);
    this.#tag(3, block.name);
    this.#tag(1, '');
    for (const entity of block.entities) this.entity(entity, owner);
    for (const slot of block.slots) this.#slot(slot, owner);
    this.#begin('ENDBLK', owner);
    this.#entityHead('AcDbBlockEnd');
  }

  entity(entity: PatchEntity, owner: string | null): void {
    switch (entity.type) {
      case 'line':
        this.#begin('LINE', owner);
        this.#entityHead('AcDbLine');
        this.#point(10, entity.from);
        this.#point(11, entity.to);
        return;
      case 'circle':
        this.#begin('CIRCLE', owner);
        this.#entityHead('AcDbCircle');
        this.#point(10, entity.centre);
        this.#real(40, entity.radius);
        return;
      case 'arc':
        this.#begin('ARC', owner);
        this.#entityHead('AcDbCircle');
        this.#point(10, entity.centre);
        this.#real(40, entity.radius);
        this.#mark('AcDbArc');
        this.#real(50, entity.startDeg);
        this.#real(51, entity.endDeg);
        return;
      case 'insert':
        this.#insert(entity, owner);
        return;
    }
  }

  #insert(insert: Extract<PatchEntity, { type: 'insert' }>, owner: string | null): void {
    const handle = this.#begin('INSERT', owner);
    this.#entityHead('AcDbBlockReference');
    if (insert.attributes.length > 0) this.#tag(66, 1);
    this.#tag(2, insert.block);
    this.#point(10, insert.at);
    this.#real(41, insert.scale[0]);
    this.#real(42, insert.scale[1]);
    this.#real(43, 1);
    this.#real(50, insert.turnDeg);
    if (insert.attributes.length === 0) return;
    for (const attribute of insert.attributes) this.#attribute(attribute, handle);
    this.#begin('SEQEND', handle);
    this.#mark('AcDbEntity');
    this.#tag(8, this.#layer);
  }

  #attribute(attribute: PatchAttribute, owner: string | null): void {
    this.#begin('ATTRIB', owner);
    this.#entityHead('AcDbText');
    this.#centredText(attribute.at, attribute.height, attribute.text, attribute.turnDeg);
    this.#mark('AcDbAttribute');
    this.#versionMark();
    this.#tag(2, attribute.tag);
    this.#tag(70, attribute.isVisible ? 0 : 1);
    this.#tag(74, 2);
  }

  #slot(slot: PatchAttributeSlot, owner: string | null): void {
    this.#begin('ATTDEF', owner);
    this.#entityHead('AcDbText');
    this.#centredText(slot.at, slot.height, '', 0);
    this.#mark('AcDbAttributeDefinition');
    this.#versionMark();
    this.#tag(3, this.#text(slot.prompt));
    this.#tag(2, slot.tag);
    this.#tag(70, slot.isVisible ? 0 : 1);
    this.#tag(74, 2);
  }

  #centredText(at: Point2, height: number, text: string, turnDeg: number): void {
    this.#point(10, at);
    this.#real(40, height);
    this.#tag(1, this.#text(text));
    if (turnDeg !== 0) this.#real(50, turnDeg);
    this.#tag(72, 1);
    this.#point(11, at);
  }

  /** Attributes carry a version from AC1024 on. */
  #versionMark(): void {
    if (this.#layout.hasSubclasses && this.#layout.version >= 'AC1024') this.#tag(280, 0);
  }

  /** Starts a record; gives its handle, or null where the file has none. */
  #begin(type: string, owner: string | null): string | null {
    this.#tag(0, type);
    let handle: string | null = null;
    if (this.#layout.hasHandles && (this.#layout.hasSubclasses || type !== 'LAYER')) {
      handle = this.#next.toString(16).toUpperCase();
      this.#next += 1;
      this.#tag(5, handle);
    }
    if (this.#layout.hasOwners && owner !== null) this.#tag(330, owner);
    return handle;
  }

  #entityHead(subclass: string): void {
    this.#mark('AcDbEntity');
    this.#tag(8, this.#layer);
    this.#mark(subclass);
  }

  #mark(subclass: string): void {
    if (this.#layout.hasSubclasses) this.#tag(100, subclass);
  }

  #point(code: number, [x, y]: Point2): void {
    this.#real(code, x);
    this.#real(code + 10, y);
    this.#real(code + 20, 0);
  }

  #real(code: number, value: number): void {
    // Twelve digits hold survey coordinates to the micrometre.
    const tidy = Number(value.toPrecision(14));
    const text = String(Object.is(tidy, -0) ? 0 : tidy);
    this.#tag(code, /[.e]/.test(text) ? text : `${text}.0`);
  }

  #tag(code: number, value: string | number): void {
    const { lineEnd } = this.#layout;
    this.#tags.push(`${String(code).padStart(3)}${lineEnd}${value}${lineEnd}`);
  }

  /**
   * A text of one line: no control characters, signs that start a code doubled or parted, what the
   * file's version can't hold as `\U+XXXX`.
   */
  #text(text: string): string {
    let out = '';
    for (const character of text.slice(0, LONGEST_TEXT)) {
      const code = character.codePointAt(0) ?? 0;
      if (code < 32 || code === 127) out += ' ';
      else if (character === '^') out += '^ ';
      else if (code < 127 || (this.#layout.version >= 'AC1021' && !isHalf(code))) out += character;
      else if (code > 0xffff || isHalf(code)) out += '?';
      else out += `\\U+${code.toString(16).toUpperCase().padStart(4, '0')}`;
    }
    // Two percent signs start a code of the format; three stand for one sign.
    return out.replaceAll('%%', '%%%%%%');
  }
}

const isHalf = (code: number): boolean => code >= 0xd800 && code <= 0xdfff;
