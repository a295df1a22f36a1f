import type {
  DxfAttribute,
  DxfDimension,
  DxfInsert,
  DxfLeader,
  DxfLook,
  DxfPoint,
  DxfText,
} from './dxf-entity.ts';
import { plainMtext, plainText } from './dxf-text.ts';
import {
  asNumber,
  type EntityTags,
  handleOf,
  hasCode,
  numberOf,
  pointAt,
  pointOf,
  pointsOf,
  radians,
  textOf,
} from './entity-tags.ts';

/** TEXT, ATTRIB and ATTDEF. */
export function textEntityOf(tags: EntityTags, look: DxfLook): DxfText {
  const isAttribute = tags.type !== 'TEXT';
  const horizontalCode = numberOf(tags, 72, 0);
  const verticalCode = numberOf(tags, isAttribute ? 74 : 73, 0);
  const isAnchoredByFirst = horizontalCode === 0 && verticalCode === 0;
  // Aligned and fitted text runs between two points and is anchored by the first of them.
  const isStretched = horizontalCode === 3 || horizontalCode === 5;
  const flags = numberOf(tags, 70, 0);
  return {
    type: tags.type,
    handle: handleOf(tags),
    look,
    kind: 'text',
    text: plainText(textOf(tags, 1) ?? ''),
    position:
      isAnchoredByFirst || isStretched || !hasCode(tags, 11)
        ? pointOf(tags, 10)
        : pointOf(tags, 11),
    horizontal: horizontalOf(horizontalCode),
    vertical: horizontalCode === 4 || verticalCode === 2 ? 1 : verticalCode === 3 ? 2 : 0,
    height: Math.abs(numberOf(tags, 40, 0)),
    rotationRad: stretchedAngle(tags, isStretched) ?? radians(numberOf(tags, 50, 0)),
    isWorld: false,
    tag: isAttribute ? (textOf(tags, 2) ?? '') : null,
    isConstant: tags.type === 'ATTDEF' && (flags & 2) !== 0,
    isHiddenAttribute: isAttribute && (flags & 1) !== 0,
  };
}

function horizontalOf(code: number): 0 | 1 | 2 {
  if (code === 1 || code === 4) return 1;
  return code === 2 ? 2 : 0;
}

function stretchedAngle(tags: EntityTags, isStretched: boolean): number | null {
  if (!isStretched || !hasCode(tags, 11)) return null;
  const [x1, y1] = pointOf(tags, 10);
  const [x2, y2] = pointOf(tags, 11);
  return Math.atan2(y2 - y1, x2 - x1);
}

/** MTEXT: chunks (code 3) come before the last part (code 1). */
export function mtextOf(tags: EntityTags, look: DxfLook): DxfText {
  let raw = '';
  for (let i = 0; i < tags.codes.length; i++) {
    const code = tags.codes[i];
    if (code === 3 || code === 1) raw += String(tags.values[i]);
  }
  const attachment = Math.min(9, Math.max(1, numberOf(tags, 71, 1)));
  return {
    type: tags.type,
    handle: handleOf(tags),
    look,
    kind: 'text',
    text: plainMtext(raw),
    position: pointOf(tags, 10),
    horizontal: ((attachment - 1) % 3) as 0 | 1 | 2,
    vertical: (2 - Math.floor((attachment - 1) / 3)) as 0 | 1 | 2,
    height: Math.abs(numberOf(tags, 40, 0)),
    rotationRad: hasCode(tags, 11)
      ? Math.atan2(pointOf(tags, 11)[1], pointOf(tags, 11)[0])
      : radians(numberOf(tags, 50, 0)),
    isWorld: true,
    tag: null,
    isConstant: false,
    isHiddenAttribute: false,
  };
}

export function insertOf(
  tags: EntityTags,
  look: DxfLook,
  attributes: readonly EntityTags[],
): DxfInsert {
  return {
    type: tags.type,
    handle: handleOf(tags),
    look,
    kind: 'insert',
    blockName: textOf(tags, 2) ?? '',
    position: pointOf(tags, 10),
    scale: [numberOf(tags, 41, 1), numberOf(tags, 42, 1), numberOf(tags, 43, 1)],
    rotationRad: radians(numberOf(tags, 50, 0)),
    columns: Math.max(1, numberOf(tags, 70, 1)),
    rows: Math.max(1, numberOf(tags, 71, 1)),
    columnSpacing: numberOf(tags, 44, 0),
    rowSpacing: numberOf(tags, 45, 0),
    attributes: attributes.map((attribute) => attributeOf(attribute, look)),
  };
}

function attributeOf(tags: EntityTags, look: DxfLook): DxfAttribute {
  const { tag, text, handle, position, isHiddenAttribute } = textEntityOf(tags, look);
  return { tag: tag ?? '', text, handle, position, isInvisible: isHiddenAttribute };
}

export function leaderOf(tags: EntityTags, look: DxfLook): DxfLeader {
  return {
    type: tags.type,
    handle: handleOf(tags),
    look,
    kind: 'leader',
    lines: [pointsOf(tags, 10)],
    annotationHandle: textOf(tags, 340),
    text: null,
    textPosition: null,
    textHeight: 0,
  };
}

/**
 * MULTILEADER. Its context is a nested list in one record: 304 holds the text and also opens each
 * leader line, whose vertices are the 10s up to the closing 305. The last point of all lines of one
 * leader is the 10 that stands right inside `LEADER{`.
 */
export function multileaderOf(tags: EntityTags, look: DxfLook): DxfLeader {
  const lines: DxfPoint[][] = [];
  let text: string | null = null;
  let textPosition: DxfPoint | null = null;
  let textHeight = 0;
  let landing: DxfPoint | null = null;
  let line: DxfPoint[] | null = null;
  let isInLeader = false;
  for (let i = 0; i < tags.codes.length; i++) {
    const code = tags.codes[i];
    const value = tags.values[i];
    if (code === 302) isInLeader = true;
    else if (code === 303) isInLeader = false;
    else if (code === 304 && value === 'LEADER_LINE{') line = [];
    else if (code === 304) text ??= plainMtext(String(value));
    else if (code === 305 && line !== null) {
      if (landing !== null) line.push(landing);
      lines.push(line);
      line = null;
    } else if (code === 10 && line !== null) line.push(pointAt(tags, i));
    else if (code === 10 && isInLeader) landing = pointAt(tags, i);
    else if (code === 12 && !isInLeader) textPosition ??= pointAt(tags, i);
    else if (code === 41 && textHeight === 0) textHeight = asNumber(value);
  }
  return {
    type: tags.type,
    handle: handleOf(tags),
    look,
    kind: 'leader',
    lines,
    annotationHandle: null,
    text,
    textPosition,
    textHeight,
  };
}

export function dimensionOf(tags: EntityTags, look: DxfLook): DxfDimension {
  return {
    type: tags.type,
    handle: handleOf(tags),
    look,
    kind: 'dimension',
    measurement: hasCode(tags, 42) ? numberOf(tags, 42, 0) : null,
    text: plainMtext(textOf(tags, 1) ?? ''),
  };
}
