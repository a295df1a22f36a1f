import library from 'dxf-parser';
import { hatchOf, multilineOf, viewportOf, wipeoutOf } from './area-entities.ts';
import {
  arcOf,
  circleOf,
  ellipseOf,
  lineOf,
  lwpolylineOf,
  pointEntityOf,
  solidOf,
  splineOf,
} from './curve-entities.ts';
import type { DxfEntity } from './dxf-entity.ts';
import type { EntityTags } from './entity-tags.ts';
import { dimensionOf, leaderOf, mtextOf, multileaderOf, textEntityOf } from './text-entities.ts';

/**
 * The one place that knows dxf-parser. Its own handlers lose what finding needs (vertex ids,
 * extrusions, attributes, spaces at the ends of text) and some of them loop or throw on odd files,
 * so each record type has a handler of ours registered in their place, and the library is given
 * only records that the scan has passed. What belongs together in several records (POLYLINE and
 * its VERTEX, INSERT and its ATTRIB, BLOCK to ENDBLK) is joined afterwards, where a missing end
 * cannot hang anything.
 */

/** A record as it left the library: an entity, or the tags of a part that is joined later. */
export type ChunkRecord =
  | { readonly part: 'entity'; readonly entity: DxfEntity }
  | { readonly part: 'tags'; readonly tags: EntityTags };

const ENTITY_READERS: Readonly<Record<string, (tags: EntityTags) => DxfEntity>> = {
  LINE: lineOf,
  POINT: pointEntityOf,
  CIRCLE: circleOf,
  ARC: arcOf,
  ELLIPSE: ellipseOf,
  LWPOLYLINE: lwpolylineOf,
  SPLINE: splineOf,
  SOLID: solidOf,
  TRACE: solidOf,
  '3DFACE': solidOf,
  TEXT: textEntityOf,
  ATTDEF: textEntityOf,
  MTEXT: mtextOf,
  HATCH: hatchOf,
  MLINE: multilineOf,
  LEADER: leaderOf,
  MULTILEADER: multileaderOf,
  DIMENSION: dimensionOf,
  VIEWPORT: viewportOf,
  WIPEOUT: wipeoutOf,
};

const PART_TYPES = [
  'LAYER',
  'BLOCK',
  'ENDBLK',
  'POLYLINE',
  'VERTEX',
  'INSERT',
  'ATTRIB',
  'SEQEND',
] as const;

/** Record types that are handed to the library; all others are counted as unread. */
export const READ_TYPES: ReadonlySet<string> = new Set([
  ...Object.keys(ENTITY_READERS),
  ...PART_TYPES,
]);

/** The scan writes this for a space at the end of a text, which the library would trim away. */
export const KEPT_SPACE = 0x1f;
const KEPT_SPACE_CHAR = String.fromCharCode(KEPT_SPACE);

interface TagScanner {
  next(): { readonly code: number; readonly value: string | number | boolean };
  isEOF(): boolean;
}

interface EntityHandler {
  readonly ForEntityName: string;
  parseEntity(scanner: TagScanner, first: { readonly value: unknown }): object;
}

interface LibraryParser {
  registerEntityHandler(handler: new () => EntityHandler): void;
  parseSync(source: string): { readonly entities?: readonly object[] } | null;
}

/** Records of a piece of text that holds whole records and nothing else. */
export type ChunkParser = (records: string) => ChunkRecord[];

export function makeChunkParser(): ChunkParser {
  // The package is CommonJS whose export is the class itself; its types say otherwise.
  const Parser = library as unknown as new () => LibraryParser;
  const parser = new Parser();
  for (const type of READ_TYPES) parser.registerEntityHandler(handlerOf(type));
  return (records) => {
    const parsed = parser.parseSync(`0\nSECTION\n2\nENTITIES\n${records}0\nENDSEC\n0\nEOF\n`);
    return (parsed?.entities ?? []).map((item) => (item as { record: ChunkRecord }).record);
  };
}

function handlerOf(type: string): new () => EntityHandler {
  const read = ENTITY_READERS[type];
  return class {
    readonly ForEntityName = type;

    parseEntity(scanner: TagScanner): object {
      const tags = readTags(type, scanner);
      const record: ChunkRecord =
        read === undefined ? { part: 'tags', tags } : { part: 'entity', entity: read(tags) };
      // The library numbers what has no handle; ours is inside the record.
      return { handle: type, record };
    }
  };
}

function readTags(type: string, scanner: TagScanner): EntityTags {
  const codes: number[] = [];
  const values: (string | number | boolean)[] = [];
  let group = scanner.next();
  while (group.code !== 0 && !scanner.isEOF()) {
    codes.push(group.code);
    values.push(
      typeof group.value === 'string' && group.value.includes(KEPT_SPACE_CHAR)
        ? group.value.replaceAll(KEPT_SPACE_CHAR, ' ')
        : group.value,
    );
    group = scanner.next();
  }
  return { type, codes, values };
}
