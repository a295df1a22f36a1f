import type { OnProgress } from '../../basics/progress.ts';
import { textLabel } from './code-page.ts';
import { polylineOf } from './curve-entities.ts';
import type { DxfBlock, DxfCount, DxfDocument, DxfEntity, DxfLayer } from './dxf-entity.ts';
import { type EntityTags, numberOf, pointOf, textOf } from './entity-tags.ts';
import { type ChunkRecord, makeChunkParser } from './parse-chunk.ts';
import { readHeader } from './read-header.ts';
import { BROKEN_VERTEX, type RawCount, scanDxf } from './scan-dxf.ts';
import { insertOf } from './text-entities.ts';

export interface ParseDxfLimits {
  /** Largest number of records in the drawing and its blocks. */
  readonly maxRecords: number;
}

/**
 * A text DXF as data: entities, blocks, layers and a count of every raw record.
 * @throws SealbookError `input-unreadable` or `input-too-large`; the caller adds the file's name
 */
export function parseDxf(
  bytes: Uint8Array,
  limits: ParseDxfLimits,
  onProgress?: OnProgress,
): DxfDocument {
  const header = readHeader(bytes);
  const { label, isKnown } = textLabel(header.version, header.codePage, () => isUtf8(bytes));
  const decoder = new TextDecoder(label);
  const parse = makeChunkParser();
  const assembly = new Assembly();
  const scan = scanDxf(bytes, {
    maxRecords: limits.maxRecords,
    onRecords: (records, where, done) => {
      for (const record of parse(decoder.decode(records))) assembly.add(record, where);
      onProgress?.({ step: 'reading drawing', done, total: bytes.length });
    },
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
    counts: joinCounts(scan.counts, assembly.read, decoder),
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

function joinCounts(
  raw: readonly RawCount[],
  read: ReadonlyMap<string, number>,
  decoder: TextDecoder,
): DxfCount[] {
  return raw.map(({ type, rawLayer, where, found, broken }) => {
    const layer = decoder.decode(Uint8Array.from(rawLayer, (char) => char.charCodeAt(0)));
    return { type, layer, where, found, broken, read: read.get(countKey(where, type, layer)) ?? 0 };
  });
}

const countKey = (where: string, type: string, layer: string): string =>
  `${where}\n${type}\n${layer}`;

type Where = 'entities' | 'blocks' | 'tables';

/** Joins the records that belong together and sorts entities into the drawing and its blocks. */
class Assembly {
  readonly layers = new Map<string, DxfLayer>();
  readonly blocks = new Map<string, DxfBlock>();
  readonly entities: DxfEntity[] = [];
  readonly read = new Map<string, number>();
  readonly remarks: string[] = [];
  private readonly names = new Map<string, string>();
  private block: { tags: EntityTags; entities: DxfEntity[] } | null = null;
  private open: { tags: EntityTags; parts: EntityTags[]; where: Where } | null = null;

  add(record: ChunkRecord, where: Where): void {
    if (record.part === 'entity') {
      this.closeOpen();
      this.keep(record.entity, where);
      return;
    }
    const { tags } = record;
    switch (tags.type) {
      case 'LAYER':
        this.addLayer(tags);
        break;
      case 'BLOCK':
        this.closeOpen();
        this.closeBlock();
        this.block = { tags, entities: [] };
        break;
      case 'ENDBLK':
        this.closeOpen();
        this.closeBlock();
        break;
      case 'POLYLINE':
      case 'INSERT':
        this.closeOpen();
        this.open = { tags, parts: [], where };
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

  private addPart(tags: EntityTags, where: Where): void {
    const owner = tags.type === 'VERTEX' ? 'POLYLINE' : 'INSERT';
    if (this.open?.tags.type !== owner) return;
    this.open.parts.push(tags);
    if (!isBrokenVertex(tags)) this.countRead(where, tags.type, textOf(tags, 8) ?? '0');
  }

  private closeOpen(): void {
    const { open } = this;
    this.open = null;
    if (open === null) return;
    if (open.tags.type === 'INSERT') this.keep(insertOf(open.tags, open.parts), open.where);
    else if (open.parts.some(isBrokenVertex)) {
      this.remarks.push(`Polyline ${textOf(open.tags, 5)} has a corner that can't be read.`);
    } else {
      const polyline = polylineOf(open.tags, open.parts);
      if (polyline !== null) this.keep(polyline, open.where);
    }
  }

  private closeBlock(): void {
    const { block } = this;
    this.block = null;
    if (block === null) return;
    const name = textOf(block.tags, 2);
    if (name === null) return;
    const isXref = (numberOf(block.tags, 70, 0) & 4) !== 0;
    this.blocks.set(name.toLowerCase(), {
      name,
      base: pointOf(block.tags, 10),
      xrefPath: isXref ? (textOf(block.tags, 1) ?? '') : null,
      entities: block.entities,
    });
  }

  private keep(entity: DxfEntity, where: Where): void {
    this.countRead(where, entity.type, entity.layer);
    const named = { ...entity, layer: this.oneName(entity.layer) };
    if (where === 'entities') this.entities.push(named);
    else this.block?.entities.push(named);
  }

  /** One string a name: a piece of a larger text would keep that text in memory. */
  private oneName(name: string): string {
    const known = this.names.get(name);
    if (known !== undefined) return known;
    const own = [...name].join('');
    this.names.set(own, own);
    return own;
  }

  private countRead(where: Where, type: string, layer: string): void {
    const key = countKey(where, type, layer);
    this.read.set(key, (this.read.get(key) ?? 0) + 1);
  }

  private addLayer(tags: EntityTags): void {
    const name = textOf(tags, 2);
    if (name === null) return;
    const colour = numberOf(tags, 62, 7);
    this.layers.set(name.toLowerCase(), {
      name: this.oneName(name),
      isFrozen: (numberOf(tags, 70, 0) & 1) !== 0,
      isOff: colour < 0,
      colour: Math.abs(colour),
      lineweight: numberOf(tags, 370, -3),
      linetype: textOf(tags, 6) ?? 'CONTINUOUS',
    });
  }
}

function isBrokenVertex(tags: EntityTags): boolean {
  return tags.type === 'VERTEX' && (numberOf(tags, 70, 0) & BROKEN_VERTEX) !== 0;
}
