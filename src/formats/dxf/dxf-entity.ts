/** A point or vector as the file gives it: drawing units, x, y, z. */
export type DxfPoint = readonly [number, number, number];

/** How and where an entity is drawn; entities that look alike share one. */
export interface DxfLook {
  readonly layer: string;
  /** Colour number: 0 by block, 256 by layer. */
  readonly colour: number;
  /** 0xRRGGBB, where the entity has a true colour. */
  readonly trueColour: number | null;
  /** Hundredths of a millimetre; −1 by layer, −2 by block, −3 default. */
  readonly lineweight: number;
  readonly linetype: string;
  readonly isInvisible: boolean;
  readonly isPaperSpace: boolean;
  /** Extrusion direction; [0, 0, 1] for a drawing seen from above. */
  readonly extrusion: DxfPoint;
}

/** What every entity has. */
export interface DxfCommon {
  /** Entity type as the file spells it, upper case. */
  readonly type: string;
  /** The file's own handle; made from the content where the file has none or repeats it. */
  readonly handle: string;
  readonly look: DxfLook;
}

/** One corner of a polyline; `bulge` is the tangent of a quarter of the arc's angle to the next. */
export interface DxfVertex {
  readonly x: number;
  readonly y: number;
  readonly z: number;
  readonly bulge: number;
}

export interface DxfLine extends DxfCommon {
  readonly kind: 'line';
  readonly start: DxfPoint;
  readonly end: DxfPoint;
}

/** Circle or arc in its own plane (OCS); angles in radians, anticlockwise. */
export interface DxfArc extends DxfCommon {
  readonly kind: 'arc';
  readonly centre: DxfPoint;
  readonly radius: number;
  readonly startRad: number;
  readonly sweepRad: number;
}

export interface DxfEllipse extends DxfCommon {
  readonly kind: 'ellipse';
  readonly centre: DxfPoint;
  readonly major: DxfPoint;
  readonly ratio: number;
  readonly startRad: number;
  readonly sweepRad: number;
}

export interface DxfPolyline extends DxfCommon {
  readonly kind: 'polyline';
  readonly vertices: readonly DxfVertex[];
  readonly isClosed: boolean;
  /** Constant width; 0 for a plain line. */
  readonly width: number;
  /** A 3D polyline's vertices are in world coordinates, a 2D one's in its own plane. */
  readonly is3d: boolean;
}

export interface DxfSpline extends DxfCommon {
  readonly kind: 'spline';
  readonly degree: number;
  readonly isClosed: boolean;
  readonly knots: readonly number[];
  readonly controlPoints: readonly DxfPoint[];
  readonly weights: readonly number[];
  readonly fitPoints: readonly DxfPoint[];
}

/** Filled triangle or quadrilateral (SOLID, TRACE in its own plane; 3DFACE in world coordinates). */
export interface DxfSolid extends DxfCommon {
  readonly kind: 'solid';
  /** In order round the outline. */
  readonly corners: readonly DxfPoint[];
  readonly isWorld: boolean;
}

export interface DxfAttribute {
  readonly tag: string;
  readonly text: string;
  readonly handle: string;
  readonly position: DxfPoint;
  readonly isInvisible: boolean;
}

export interface DxfInsert extends DxfCommon {
  readonly kind: 'insert';
  readonly blockName: string;
  readonly position: DxfPoint;
  readonly scale: DxfPoint;
  readonly rotationRad: number;
  readonly columns: number;
  readonly rows: number;
  readonly columnSpacing: number;
  readonly rowSpacing: number;
  readonly attributes: readonly DxfAttribute[];
}

export interface DxfText extends DxfCommon {
  readonly kind: 'text';
  /** Plain text: codes resolved, lines parted by \n. */
  readonly text: string;
  /** Where the text is anchored, and how: 0 left, 1 middle, 2 right; 0 bottom, 1 middle, 2 top. */
  readonly position: DxfPoint;
  readonly horizontal: 0 | 1 | 2;
  readonly vertical: 0 | 1 | 2;
  readonly height: number;
  readonly rotationRad: number;
  /** MTEXT is placed in world coordinates, TEXT in its own plane. */
  readonly isWorld: boolean;
  /** The tag of an ATTRIB or ATTDEF. */
  readonly tag: string | null;
  readonly isConstant: boolean;
  /** An attribute's own flag. */
  readonly isHiddenAttribute: boolean;
}

export type DxfHatchEdge =
  | { readonly type: 'line'; readonly start: DxfPoint; readonly end: DxfPoint }
  | {
      readonly type: 'arc';
      readonly centre: DxfPoint;
      readonly radius: number;
      readonly startRad: number;
      readonly sweepRad: number;
    }
  | {
      readonly type: 'ellipse';
      readonly centre: DxfPoint;
      readonly major: DxfPoint;
      readonly ratio: number;
      readonly startRad: number;
      readonly sweepRad: number;
    }
  | {
      readonly type: 'spline';
      readonly degree: number;
      readonly knots: readonly number[];
      readonly controlPoints: readonly DxfPoint[];
      readonly weights: readonly number[];
    };

export type DxfHatchPath =
  | { readonly type: 'polyline'; readonly vertices: readonly DxfVertex[] }
  | { readonly type: 'edges'; readonly edges: readonly DxfHatchEdge[] };

export interface DxfHatch extends DxfCommon {
  readonly kind: 'hatch';
  readonly pattern: string;
  readonly isSolid: boolean;
  readonly elevation: number;
  readonly paths: readonly DxfHatchPath[];
}

/** Multiline: one open or closed line for each of its elements, world coordinates. */
export interface DxfMultiline extends DxfCommon {
  readonly kind: 'multiline';
  readonly lines: readonly (readonly DxfPoint[])[];
  readonly isClosed: boolean;
}

/** Pointer: from its arrow's tip to where its text stands; `text` where it carries one. */
export interface DxfLeader extends DxfCommon {
  readonly kind: 'leader';
  readonly lines: readonly (readonly DxfPoint[])[];
  readonly annotationHandle: string | null;
  readonly text: string | null;
  readonly textPosition: DxfPoint | null;
  readonly textHeight: number;
}

export interface DxfDimension extends DxfCommon {
  readonly kind: 'dimension';
  readonly measurement: number | null;
  readonly text: string;
}

export interface DxfViewport extends DxfCommon {
  readonly kind: 'viewport';
  readonly number: number;
  readonly paperHeight: number;
  readonly viewHeight: number;
}

/** A mask that hides what lies below it, world coordinates. */
export interface DxfWipeout extends DxfCommon {
  readonly kind: 'wipeout';
  readonly outline: readonly DxfPoint[];
}

/** Read, and of no use for finding: a point or an attribute's definition. */
export interface DxfPlain extends DxfCommon {
  readonly kind: 'point';
  readonly position: DxfPoint;
}

export type DxfEntity =
  | DxfLine
  | DxfArc
  | DxfEllipse
  | DxfPolyline
  | DxfSpline
  | DxfSolid
  | DxfInsert
  | DxfText
  | DxfHatch
  | DxfMultiline
  | DxfLeader
  | DxfDimension
  | DxfViewport
  | DxfWipeout
  | DxfPlain;

export interface DxfLayer {
  readonly name: string;
  readonly isFrozen: boolean;
  readonly isOff: boolean;
  readonly colour: number;
  readonly lineweight: number;
  readonly linetype: string;
}

export interface DxfBlock {
  readonly name: string;
  readonly base: DxfPoint;
  /** Path of the external reference this block stands for; null for a plain block. */
  readonly xrefPath: string | null;
  readonly entities: readonly DxfEntity[];
}

/** Number of raw records of one type on one layer, and how many came out as entities. */
export interface DxfCount {
  readonly type: string;
  readonly layer: string;
  /** `entities` section, or inside block definitions. */
  readonly where: 'entities' | 'blocks';
  readonly found: number;
  readonly read: number;
  /** Left out because a value in them is no number. */
  readonly broken: number;
}

export interface DxfDocument {
  /** $ACADVER, e.g. `AC1032`; null where the file has no header. */
  readonly version: string | null;
  readonly codePage: string;
  /** $INSUNITS; null where the file does not say. */
  readonly insUnits: number | null;
  /** $MEASUREMENT: 0 imperial, 1 metric. */
  readonly measurement: number | null;
  readonly layers: ReadonlyMap<string, DxfLayer>;
  readonly blocks: ReadonlyMap<string, DxfBlock>;
  readonly entities: readonly DxfEntity[];
  readonly counts: readonly DxfCount[];
  /** Odd things met while reading, as sentences. */
  readonly remarks: readonly string[];
}
