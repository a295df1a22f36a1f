import type { PlanePiece } from '../geometry/plane-curve.ts';
import type { Vec2, Vec3 } from '../geometry/vec.ts';
import type { ElementRef } from './ids.ts';

/**
 * A drawing as finding needs it: blocks taken apart, everything in millimetres in the drawing's own
 * plane (x right, y up), seen from above. `views` tell what each part of it shows.
 */
export interface Drawing {
  readonly fileKey: string;
  readonly name: string;
  readonly units: DrawingUnits;
  readonly layers: readonly DrawnLayer[];
  readonly views: readonly DrawnView[];
  readonly entities: readonly DrawnEntity[];
  readonly symbols: readonly DrawnSymbol[];
  readonly texts: readonly DrawnText[];
  readonly leaders: readonly DrawnLeader[];
  /** Outlines that hide what lies below them. */
  readonly masks: readonly (readonly Vec2[])[];
}

export type DrawingUnit = 'mm' | 'cm' | 'm' | 'in' | 'ft';

export interface DrawingUnits {
  readonly unit: DrawingUnit;
  readonly mmPerUnit: number;
  /** `given`: project file · `said`: the drawing's own · `likely`: told by its content. */
  readonly from: 'given' | 'said' | 'likely';
}

export interface DrawnLayer {
  readonly name: string;
  readonly isHidden: boolean;
}

/** One plan, section or elevation. */
export interface DrawnView {
  readonly view: 'plan' | 'section' | 'elevation';
  readonly name: string | null;
  /** Part of the drawing that belongs to it: x1, y1, x2, y2, mm. Null: all of it. */
  readonly windowMm: readonly [number, number, number, number] | null;
  readonly level: string | null;
  readonly elevationMm: number | null;
  readonly serviceHeightMm: number | null;
  /** Point of the drawing, mm, and the place in the world it stands for; null where none is given. */
  readonly base: { readonly pointMm: Vec2; readonly atMm: Vec3 } | null;
  /** For sections: drawing y, mm, of the datum and the height it stands for. */
  readonly datum: { readonly yMm: number; readonly heightMm: number } | null;
}

/** How an entity is drawn, where layers tell nothing. */
export interface DrawnStyle {
  /** Colour number after layer and block, or 0xRRGGBB with the top bit set for true colours. */
  readonly colour: number;
  /** Hundredths of a millimetre; negative for the default. */
  readonly lineweight: number;
  readonly linetype: string;
}

export interface DrawnEntity {
  /** Handle; of a block's content the handles of its inserts before it: `2A/1F`. */
  readonly ref: ElementRef;
  /** Entity type as the file spells it. */
  readonly type: string;
  readonly layer: string;
  readonly style: DrawnStyle;
  /** Lines and arcs in order; several loops for a fill. */
  readonly loops: readonly DrawnLoop[];
  /** `curve`: a line that was drawn · `fill`: a filled area. */
  readonly form: 'curve' | 'fill';
  /** Width of the line itself, mm; 0 for a plain one. */
  readonly widthMm: number;
  /** Ids of the inserts that hold it, outermost first. */
  readonly within: readonly string[];
}

export interface DrawnLoop {
  readonly pieces: readonly PlanePiece[];
  readonly isClosed: boolean;
}

/** A block put into the drawing. Its content stands among the entities. */
export interface DrawnSymbol {
  readonly ref: ElementRef;
  readonly layer: string;
  readonly blockName: string;
  readonly positionMm: Vec2;
  readonly attributes: readonly DrawnAttribute[];
  readonly within: readonly string[];
}

export interface DrawnAttribute {
  readonly tag: string;
  readonly text: string;
  readonly handle: string;
}

export interface DrawnText {
  readonly ref: ElementRef;
  readonly layer: string;
  /** Plain text, lines parted by \n. */
  readonly text: string;
  readonly heightMm: number;
  readonly rotationRad: number;
  /** Middle of the box round the text; its length is estimated from the number of letters. */
  readonly centreMm: Vec2;
  readonly lengthMm: number;
  /** All lines together. */
  readonly depthMm: number;
  readonly within: readonly string[];
}

export interface DrawnLeader {
  readonly ref: ElementRef;
  readonly layer: string;
  /** What it points at. */
  readonly tipsMm: readonly Vec2[];
  /** Where its text stands. */
  readonly tailMm: Vec2;
  /** Handle of its text, where the file says. */
  readonly textHandle: string | null;
  /** Its own text, where it carries one. */
  readonly text: string | null;
}
