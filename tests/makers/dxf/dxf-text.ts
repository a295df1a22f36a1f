/** Hand-made text DXF for what a library can't or won't write. Tags as [code, value] pairs. */
export type Tag = readonly [number, string | number];

export const encode = (text: string): Uint8Array => new TextEncoder().encode(text);

export function tagText(tags: readonly Tag[], lineEnd = '\n'): string {
  return tags.map(([code, value]) => `${code}${lineEnd}${value}${lineEnd}`).join('');
}

export interface DxfParts {
  readonly version?: string;
  readonly codePage?: string;
  readonly insUnits?: number;
  readonly layers?: readonly (readonly Tag[])[];
  readonly blocks?: readonly Tag[];
  readonly entities?: readonly Tag[];
  readonly lineEnd?: string;
}

/** A whole drawing from its parts. */
export function dxfText(parts: DxfParts): string {
  const {
    version = 'AC1015',
    codePage,
    insUnits = 4,
    layers = [],
    blocks = [],
    entities = [],
  } = parts;
  return tagText(
    [
      [0, 'SECTION'],
      [2, 'HEADER'],
      [9, '$ACADVER'],
      [1, version],
      ...(codePage === undefined
        ? []
        : ([
            [9, '$DWGCODEPAGE'],
            [3, codePage],
          ] as Tag[])),
      [9, '$INSUNITS'],
      [70, insUnits],
      [0, 'ENDSEC'],
      [0, 'SECTION'],
      [2, 'TABLES'],
      [0, 'TABLE'],
      [2, 'LAYER'],
      [70, layers.length],
      ...layers.flat(),
      [0, 'ENDTAB'],
      [0, 'ENDSEC'],
      [0, 'SECTION'],
      [2, 'BLOCKS'],
      ...blocks,
      [0, 'ENDSEC'],
      [0, 'SECTION'],
      [2, 'ENTITIES'],
      ...entities,
      [0, 'ENDSEC'],
      [0, 'EOF'],
    ],
    parts.lineEnd,
  );
}

export const lineTags = (
  layer: string,
  from: readonly [number, number],
  to: readonly [number, number],
  more: readonly Tag[] = [],
): Tag[] => [
  [0, 'LINE'],
  [8, layer],
  ...more,
  [10, from[0]],
  [20, from[1]],
  [11, to[0]],
  [21, to[1]],
];

/** Two faces of a wall along x, and its two ends. */
export const wallTags = (layer: string, x0: number, x1: number, y0: number, y1: number): Tag[] => [
  ...lineTags(layer, [x0, y0], [x1, y0]),
  ...lineTags(layer, [x0, y1], [x1, y1]),
  ...lineTags(layer, [x0, y0], [x0, y1]),
  ...lineTags(layer, [x1, y0], [x1, y1]),
];

export const textTags = (
  layer: string,
  at: readonly [number, number],
  value: string,
  height = 100,
): Tag[] => [
  [0, 'TEXT'],
  [8, layer],
  [10, at[0]],
  [20, at[1]],
  [40, height],
  [1, value],
];
