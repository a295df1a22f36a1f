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
import type { DxfEntity, DxfLook } from './dxf-entity.ts';
import type { EntityTags } from './entity-tags.ts';
import { dimensionOf, leaderOf, mtextOf, multileaderOf, textEntityOf } from './text-entities.ts';

/** Reads an entity that stands in one record. */
export type EntityReader = (tags: EntityTags, look: DxfLook) => DxfEntity;

export const ENTITY_READERS: ReadonlyMap<string, EntityReader> = new Map<string, EntityReader>([
  ['LINE', lineOf],
  ['POINT', pointEntityOf],
  ['CIRCLE', circleOf],
  ['ARC', arcOf],
  ['ELLIPSE', ellipseOf],
  ['LWPOLYLINE', lwpolylineOf],
  ['SPLINE', splineOf],
  ['SOLID', solidOf],
  ['TRACE', solidOf],
  ['3DFACE', solidOf],
  ['TEXT', textEntityOf],
  ['ATTDEF', textEntityOf],
  ['MTEXT', mtextOf],
  ['HATCH', hatchOf],
  ['MLINE', multilineOf],
  ['LEADER', leaderOf],
  ['MULTILEADER', multileaderOf],
  ['DIMENSION', dimensionOf],
  ['VIEWPORT', viewportOf],
  ['WIPEOUT', wipeoutOf],
]);

/** Records that are parts of something: joined by what follows them. */
export const PART_TYPES: ReadonlySet<string> = new Set([
  'LAYER',
  'BLOCK',
  'ENDBLK',
  'POLYLINE',
  'VERTEX',
  'INSERT',
  'ATTRIB',
  'SEQEND',
]);
