import { MODEL_RECORD, PAPER_RECORD, section, type Tag, tag } from './dxf-tags.ts';

export interface DxfLayer {
  readonly name: string;
  /** Colour index 1–255. */
  readonly colour: number;
  readonly lineType?: 'CONTINUOUS' | 'DASHED' | 'CENTER';
  readonly isFrozen?: boolean;
}

/** The TABLES section: line types, layers, one text and one dimension style, block records. */
export function tablesSection(
  layers: readonly { readonly layer: DxfLayer; readonly handle: string }[],
  blocks: readonly { readonly name: string; readonly recordHandle: string }[],
): readonly Tag[] {
  const lineTypes = [
    record('LTYPE', '14', '5', 'AcDbLinetypeTableRecord', lineType('BYBLOCK', '', [])),
    record('LTYPE', '15', '5', 'AcDbLinetypeTableRecord', lineType('BYLAYER', '', [])),
    record('LTYPE', '16', '5', 'AcDbLinetypeTableRecord', lineType('CONTINUOUS', 'Solid', [])),
    record('LTYPE', '17', '5', 'AcDbLinetypeTableRecord', lineType('DASHED', '__ __', [6, -3])),
    record(
      'LTYPE',
      '18',
      '5',
      'AcDbLinetypeTableRecord',
      lineType('CENTER', '____ _ ____', [12, -3, 3, -3]),
    ),
  ];
  const layerRecords = layers.map(({ layer, handle }) =>
    record('LAYER', handle, '2', 'AcDbLayerTableRecord', [
      tag(2, layer.name),
      tag(70, layer.isFrozen === true ? 1 : 0),
      tag(62, layer.colour),
      tag(6, layer.lineType ?? 'CONTINUOUS'),
    ]),
  );
  const layerZero = record('LAYER', '10', '2', 'AcDbLayerTableRecord', [
    tag(2, '0'),
    tag(70, 0),
    tag(62, 7),
    tag(6, 'CONTINUOUS'),
  ]);
  const blockRecords = [
    record('BLOCK_RECORD', MODEL_RECORD, '1', 'AcDbBlockTableRecord', [tag(2, '*Model_Space')]),
    record('BLOCK_RECORD', PAPER_RECORD, '1', 'AcDbBlockTableRecord', [tag(2, '*Paper_Space')]),
    ...blocks.map((block) =>
      record('BLOCK_RECORD', block.recordHandle, '1', 'AcDbBlockTableRecord', [tag(2, block.name)]),
    ),
  ];
  return section('TABLES', [
    ...table('VPORT', '8', []),
    ...table('LTYPE', '5', lineTypes),
    ...table('LAYER', '2', [layerZero, ...layerRecords]),
    ...table('STYLE', '3', [
      record('STYLE', '11', '3', 'AcDbTextStyleTableRecord', [
        tag(2, 'STANDARD'),
        tag(70, 0),
        tag(40, 0),
        tag(41, 1),
        tag(50, 0),
        tag(71, 0),
        tag(42, 2.5),
        tag(3, 'txt'),
        tag(4, ''),
      ]),
    ]),
    ...table('VIEW', '6', []),
    ...table('UCS', '7', []),
    ...table('APPID', '9', [
      record('APPID', '12', '9', 'AcDbRegAppTableRecord', [tag(2, 'ACAD'), tag(70, 0)]),
    ]),
    ...dimensionStyles(),
    ...table('BLOCK_RECORD', '1', blockRecords),
  ]);
}

function record(
  type: string,
  handle: string,
  owner: string,
  subclass: string,
  tags: readonly Tag[],
): readonly Tag[] {
  return [
    tag(0, type),
    tag(5, handle),
    tag(330, owner),
    tag(100, 'AcDbSymbolTableRecord'),
    tag(100, subclass),
    ...tags,
  ];
}

function table(name: string, handle: string, records: readonly (readonly Tag[])[]): readonly Tag[] {
  return [
    tag(0, 'TABLE'),
    tag(2, name),
    tag(5, handle),
    tag(330, '0'),
    tag(100, 'AcDbSymbolTable'),
    tag(70, records.length),
    ...records.flat(),
    tag(0, 'ENDTAB'),
  ];
}

function lineType(name: string, description: string, dashes: readonly number[]): readonly Tag[] {
  const total = dashes.reduce((sum, dash) => sum + Math.abs(dash), 0);
  return [
    tag(2, name),
    tag(70, 0),
    tag(3, description),
    tag(72, 65),
    tag(73, dashes.length),
    tag(40, total),
    ...dashes.flatMap((dash) => [tag(49, dash), tag(74, 0)]),
  ];
}

/** Records of this table have code 105 for their handle. */
function dimensionStyles(): readonly Tag[] {
  return [
    tag(0, 'TABLE'),
    tag(2, 'DIMSTYLE'),
    tag(5, 'A'),
    tag(330, '0'),
    tag(100, 'AcDbSymbolTable'),
    tag(70, 1),
    tag(100, 'AcDbDimStyleTable'),
    tag(0, 'DIMSTYLE'),
    tag(105, '13'),
    tag(330, 'A'),
    tag(100, 'AcDbSymbolTableRecord'),
    tag(100, 'AcDbDimStyleTableRecord'),
    tag(2, 'STANDARD'),
    tag(70, 0),
    tag(40, 50),
    tag(41, 2.5),
    tag(42, 0.625),
    tag(44, 1.25),
    tag(140, 2.5),
    tag(0, 'ENDTAB'),
  ];
}

/** The OBJECTS section: the dictionary that every drawing has. */
export const OBJECTS: readonly Tag[] = [
  tag(0, 'DICTIONARY'),
  tag(5, 'C'),
  tag(330, '0'),
  tag(100, 'AcDbDictionary'),
  tag(281, 1),
  tag(3, 'ACAD_GROUP'),
  tag(350, 'D'),
  tag(0, 'DICTIONARY'),
  tag(5, 'D'),
  tag(330, 'C'),
  tag(100, 'AcDbDictionary'),
  tag(281, 1),
];
