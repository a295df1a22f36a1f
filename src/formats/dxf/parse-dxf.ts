import type { OnProgress } from '../../basics/progress.ts';
import { textLabel } from './code-page.ts';
import { polylineOf } from './curve-entities.ts';
import type { DxfBlock, DxfCount, DxfDocument, DxfEntity, DxfLayer } from './dxf-entity.ts';
import { ENTITY_READERS } from './entity-readers.ts';
import { type EntityTags, Looks, numberOf, pointOf, textOf } from './entity-tags.ts';
import { readHeader } from './read-header.ts';
import { BROKEN_VERTEX, type RecordPlace, scanDxf } from './scan-dxf.ts';
import { insertOf } from './text-entities.ts';

export interface ParseDxfLimits {
  /** Largest number of records in the drawing and its blocks. */
  readonly maxRecords: number;
}

export interface ParseDxfOptions {
  readonly onProgress?: OnProgress;
  /**
   * Takes each entity of the ENTITIES section as soon as it is read, with the layers and blocks so
   * far; what it takes (returns true for) is not kept in the document. A large drawing need not be
   * held in memory twice.
   */
  readonly takeEntity?: (
    entity: DxfEntity,
    soFar: Pick<DxfDocument, 'layers' | 'blocks'>,
  ) => boolean;
}

/**
 * A text DXF as data: entities, blocks, layers and a count of every raw record.
 * @throws SealbookError `input-unreadable` or `input-too-large`; the caller adds the file's name
 */
export function parseDxf(
  bytes: Uint8Array,
  limits: ParseDxfLimits,
  { onProgress, takeEntity }: ParseDxfOptions = {},
): DxfDocument {
  const header = readHeader(bytes);
  const { label, isKnown } = textLabel(header.version, header.codePage, () => isUtf8(bytes));
  const assembly = new Assembly(takeEntity);
  const scan = scanDxf(bytes, {
    maxRecords: limits.maxRecords,
    decoder: new TextDecoder(label),
    onRecord: (tags, where) => assembly.add(tags, where),
    onBytes: (done) => onProgress?.({ step: 'reading drawing', done, total: bytes.length }),
  });
  assembly.finish();
  const remarks = [...scan.remarks, ...assembly.remarks];
  if (!isKnown) {
    remarks.push(`The code page "${header.codePage}" is not known; texts were read as ${label}.`);
  }
  return {
    version: header.version,
    codePage: label,
    insUnits: header.insUnits,
    measurement: header.measurement,
    layers: assembly.layers,
    blocks: assembly.blocks,
    entities: assembly.entities,
    counts: scan.counts.map((count): DxfCount => {
      return { ...count, read: assembly.readOf(count.where, count.type, count.layer) };
    }),
    remarks,
  };
}

function isUtf8(bytes: Uint8Array): boolean {
  try {
    new TextDecoder('utf-8', { fatal: true }).decode(bytes);
    return true;
  } catch {
    // The decoder has no other way of saying no.
    return false;
  }
}

/** Joins the records that belong together and sorts entities into the drawing and its blocks. */
class Assembly {
  readonly layers = new Map<string, DxfLayer>();
  readonly blocks = new Map<string, DxfBlock>();
  readonly entities: DxfEntity[] = [];
  private readonly readInEntities = new Map<string, Map<string, number>>();
  private readonly readInBlocks = new Map<string, Map<string, number>>();
  private readonly looks = new Looks();
  readonly remarks: string[] = [];
  private readonly takeEntity: ParseDxfOptions['takeEntity'];
  private block: { tags: EntityTags; entities: DxfEntity[] } | null = null;
  private open: { tags: EntityTags; parts: EntityTags[]; where: RecordPlace } | null = null;

  constructor(takeEntity: ParseDxfOptions['takeEntity']) {
    this.takeEntity = takeEntity;
  }

  /** Takes a record; its lists are the scan's own and are copied where they must last. */
  add(tags: EntityTags, where: RecordPlace): void {
    const read = ENTITY_READERS.get(tags.type);
    if (read !== undefined) {
      this.closeOpen();
      this.keep(read(tags, this.looks.of(tags)), where);
      return;
    }
    switch (tags.type) {
      case 'LAYER':
        this.addLayer(tags);
        break;
      case 'BLOCK':
        this.closeOpen();
        this.closeBlock();
        this.block = { tags: lasting(tags), entities: [] };
        break;
      case 'ENDBLK':
        this.closeOpen();
        this.closeBlock();
        break;
      case 'POLYLINE':
      case 'INSERT':
        this.closeOpen();
        this.open = { tags: lasting(tags), parts: [], where };
        break;
      case 'VERTEX':
      case 'ATTRIB':
        this.addPart(tags, where);
        break;
      case 'SEQEND':
        this.countRead(where, 'SEQEND', textOf(tags, 8) ?? '0');
        this.closeOpen();
        break;
    }
  }

  finish(): void {
    this.closeOpen();
    this.closeBlock();
  }

  private addPart(tags: EntityTags, where: RecordPlace): void {
    const owner = tags.type === 'VERTEX' ? 'POLYLINE' : 'INSERT';
    if (this.open?.tags.type !== owner) return;
    this.open.parts.push(lasting(tags));
    if (!isBrokenVertex(tags)) this.countRead(where, tags.type, textOf(tags, 8) ?? '0');
  }

  private closeOpen(): void {
    const { open } = this;
    this.open = null;
    if (open === null) return;
    if (open.tags.type === 'INSERT')
      this.keep(insertOf(open.tags, this.looks.of(open.tags), open.parts), open.where);
    else if (open.parts.some(isBrokenVertex)) {
      this.remarks.push(`Polyline ${textOf(open.tags, 5)} has a corner that can't be read.`);
    } else {
      const polyline = polylineOf(open.tags, this.looks.of(open.tags), open.parts);
      if (polyline !== null) this.keep(polyline, open.where);
    }
  }

  private closeBlock(): void {
    const { block } = this;
    this.block = null;
    if (block === null) return;
    const name = textOf(block.tags, 2);
    if (name === null) return;
    if (this.blocks.has(name.toLowerCase())) {
      this.remarks.push(
        `The block "${name}" is defined more than once; its last definition was used.`,
      );
    }
    const isXref = (numberOf(block.tags, 70, 0) & 4) !== 0;
    this.blocks.set(name.toLowerCase(), {
      name,
      base: pointOf(block.tags, 10),
      xrefPath: isXref ? (textOf(block.tags, 1) ?? '') : null,
      entities: block.entities,
    });
  }

  private keep(entity: DxfEntity, where: RecordPlace): void {
    this.countRead(where, entity.type, entity.look.layer);
    if (where !== 'entities') this.block?.entities.push(entity);
    else if (this.takeEntity?.(entity, this) !== true) this.entities.push(entity);
  }

  private countRead(where: RecordPlace, type: string, layer: string): void {
    const counts = where === 'blocks' ? this.readInBlocks : this.readInEntities;
    let ofType = counts.get(type);
    if (ofType === undefined) {
      ofType = new Map();
      counts.set(type, ofType);
    }
    ofType.set(layer, (ofType.get(layer) ?? 0) + 1);
  }

  /** How many records of a type on a layer came out as entities or parts of them. */
  readOf(where: RecordPlace, type: string, layer: string): number {
    const counts = where === 'blocks' ? this.readInBlocks : this.readInEntities;
    return counts.get(type)?.get(layer) ?? 0;
  }

  private addLayer(tags: EntityTags): void {
    const name = textOf(tags, 2);
    if (name === null) return;
    const colour = numberOf(tags, 62, 7);
    this.layers.set(name.toLowerCase(), {
      name,
      isFrozen: (numberOf(tags, 70, 0) & 1) !== 0,
      isOff: colour < 0,
      colour: Math.abs(colour),
      lineweight: numberOf(tags, 370, -3),
      linetype: textOf(tags, 6) ?? 'CONTINUOUS',
    });
  }
}

const lasting = ({ type, codes, values }: EntityTags): EntityTags => ({
  type,
  codes: [...codes],
  values: [...values],
});

function isBrokenVertex(tags: EntityTags): boolean {
  return tags.type === 'VERTEX' && (numberOf(tags, 70, 0) & BROKEN_VERTEX) !== 0;
}
