import type { StepFile } from '../../formats/ifc/step-file.ts';
import {
  list,
  name,
  real,
  ref,
  refs,
  type StepLines,
  type StepToken,
  text,
  typed,
} from '../../formats/ifc/step-lines.ts';
import type { StepUnits } from '../../formats/ifc/step-units.ts';
import { type Shape, shapeExtentMm } from '../../geometry/shape.ts';
import { add3, scale3, sub3, type Vec2, type Vec3 } from '../../geometry/vec.ts';
import type { IfcTagEdit } from '../../model/tag-edit.ts';
import type { FileFrame } from './file-frame.ts';
import { TagValues } from './tag-values.ts';

type Missing = NonNullable<IfcTagEdit['missing']>;
type Rooted = (className: string, key: string, values: Record<string, StepToken>) => number;

/**
 * Provisions for void: what asks the designer of a host for an opening.
 *
 * @source IFC4 ADD2 TC1, IfcBuildingElementProxyTypeEnum.PROVISIONFORVOID with its property set;
 * IFC4X3 ADD2, IfcVirtualElementTypeEnum.PROVISIONFORVOID with Pset_ProvisionForVoid. IFC2X3 knows
 * none: a proxy with an object type, by convention.
 */
export class ProvisionLines {
  readonly #file: StepFile;
  readonly #lines: StepLines;
  readonly #values: TagValues;

  constructor(file: StepFile, lines: StepLines, units: StepUnits) {
    this.#file = file;
    this.#lines = lines;
    this.#values = new TagValues(units);
  }

  /** Writes the provision, its set and its relation to the host; gives its number. */
  add(tag: string, missing: Missing, host: number, frame: FileFrame, rooted: Rooted): number {
    const { schema } = this.#lines;
    const kind: Record<string, StepToken> =
      schema === 'IFC2X3'
        ? { ObjectType: text('ProvisionForVoid') }
        : { PredefinedType: name('PROVISIONFORVOID') };
    const provision = rooted(
      schema === 'IFC4X3' ? 'IfcVirtualElement' : 'IfcBuildingElementProxy',
      'provision',
      { Name: text(tag), Tag: text(tag), ...kind, ...this.#geometry(missing, frame) },
    );
    if (schema !== 'IFC2X3') this.#addStandardSet(missing, provision, rooted);
    if (schema === 'IFC2X3') {
      rooted('IfcRelConnectsElements', 'provision-host', {
        Name: text('ProvisionForVoid'),
        RelatingElement: ref(host),
        RelatedElement: ref(provision),
      });
    } else {
      rooted('IfcRelInterferesElements', 'provision-host', {
        RelatingElement: ref(host),
        RelatedElement: ref(provision),
        InterferenceType: text('ProvisionForVoid'),
        ImpliedOrder: name('T'),
      });
    }
    return provision;
  }

  #addStandardSet(missing: Missing, provision: number, rooted: Rooted): void {
    const is4x3 = this.#lines.schema === 'IFC4X3';
    const { shape, depthMm, systems } = missing;
    const length = (value: number) => typed('IfcPositiveLengthMeasure', this.#values.length(value));
    const label = (value: string) => typed('IfcLabel', text(value));
    const { widthMm, heightMm } = shapeExtentMm(shape);
    const sizes: Record<string, StepToken> =
      shape.type === 'circle'
        ? { Diameter: length(shape.diameterMm) }
        : { Width: length(widthMm), Height: length(heightMm) };
    const form = { circle: 'Round', rectangle: 'Rectangle' }[shape.type as string] ?? 'Undefined';
    const properties = {
      [is4x3 ? 'VoidShape' : 'Shape']: label(form),
      ...sizes,
      Depth: length(depthMm),
      ...(systems.length === 0 ? {} : { System: label(systems.join(', ')) }),
    };
    const ids = Object.entries(properties).map(([property, value]) =>
      this.#lines.add('IfcPropertySingleValue', { Name: text(property), NominalValue: value }),
    );
    const set = rooted('IfcPropertySet', 'provision-set', {
      Name: text(is4x3 ? 'Pset_ProvisionForVoid' : 'Pset_BuildingElementProxyProvisionForVoid'),
      HasProperties: refs(ids),
    });
    rooted('IfcRelDefinesByProperties', 'provision-set-of', {
      RelatedObjects: refs([provision]),
      RelatingPropertyDefinition: ref(set),
    });
  }

  /** A straight body through the host; no geometry where the file has no context for it. */
  #geometry(missing: Missing, frame: FileFrame): Record<string, StepToken> {
    const context = this.#modelContext();
    if (context === null) return {};
    const { axis, right, originMm } = missing.frame;
    // Seen as an installer sees it: x right, y up, z towards the viewer.
    const start = add3(originMm, scale3(axis, missing.depthMm / 2));
    const placement = this.#lines.add('IfcLocalPlacement', {
      RelativePlacement: ref(
        this.#axes(
          toFile(start, frame),
          toFileTurn(scale3(axis, -1), frame),
          toFileTurn(right, frame),
        ),
      ),
    });
    const solid = this.#lines.add('IfcExtrudedAreaSolid', {
      SweptArea: ref(this.#profile(missing.shape)),
      Position: ref(this.#axes([0, 0, 0], [0, 0, 1], [1, 0, 0])),
      ExtrudedDirection: ref(this.#direction([0, 0, 1])),
      Depth: this.#values.length(missing.depthMm),
    });
    const body = this.#lines.add('IfcShapeRepresentation', {
      ContextOfItems: ref(context),
      RepresentationIdentifier: text('Body'),
      RepresentationType: text('SweptSolid'),
      Items: refs([solid]),
    });
    const shape = this.#lines.add('IfcProductDefinitionShape', { Representations: refs([body]) });
    return { ObjectPlacement: ref(placement), Representation: ref(shape) };
  }

  #modelContext(): number | null {
    const contexts = this.#file.recordsOf('IFCGEOMETRICREPRESENTATIONCONTEXT');
    const model = contexts.find(({ values }) => {
      const type = values[1];
      return type?.kind === 'text' && type.text.toLowerCase() === 'model';
    });
    return (model ?? contexts[0])?.id ?? null;
  }

  #profile(shape: Shape): number {
    const area = { ProfileType: name('AREA') };
    const length = (value: number) => this.#values.length(value);
    if (shape.type === 'polygon') {
      const points = shape.pointsMm.map((point) => this.#point2(point));
      const [first] = points;
      const closed = first === undefined ? points : [...points, first];
      const curve = this.#lines.add('IfcPolyline', { Points: refs(closed) });
      return this.#lines.add('IfcArbitraryClosedProfileDef', { ...area, OuterCurve: ref(curve) });
    }
    const centred = { ...area, Position: ref(this.#axes2()) };
    switch (shape.type) {
      case 'circle':
        return this.#lines.add('IfcCircleProfileDef', {
          ...centred,
          Radius: length(shape.diameterMm / 2),
        });
      case 'rectangle':
        return this.#lines.add('IfcRectangleProfileDef', {
          ...centred,
          XDim: length(shape.widthMm),
          YDim: length(shape.heightMm),
        });
      case 'slot':
        return this.#lines.add('IfcRoundedRectangleProfileDef', {
          ...centred,
          XDim: length(shape.lengthMm),
          YDim: length(shape.widthMm),
          RoundingRadius: length(shape.widthMm / 2),
        });
      case 'oval':
        return this.#lines.add('IfcEllipseProfileDef', {
          ...centred,
          SemiAxis1: length(shape.lengthMm / 2),
          SemiAxis2: length(shape.widthMm / 2),
        });
    }
  }

  #axes(at: Vec3, z: Vec3, x: Vec3): number {
    const location = this.#lines.add('IfcCartesianPoint', {
      Coordinates: list(at.map((value) => this.#values.length(value))),
    });
    return this.#lines.add('IfcAxis2Placement3D', {
      Location: ref(location),
      Axis: ref(this.#direction(z)),
      RefDirection: ref(this.#direction(x)),
    });
  }

  #axes2(): number {
    return this.#lines.add('IfcAxis2Placement2D', { Location: ref(this.#point2([0, 0])) });
  }

  #point2(at: Vec2): number {
    return this.#lines.add('IfcCartesianPoint', {
      Coordinates: list(at.map((value) => this.#values.length(value))),
    });
  }

  #direction(ratios: Vec3): number {
    return this.#lines.add('IfcDirection', {
      DirectionRatios: list(ratios.map((value) => real(Number(value.toFixed(12))))),
    });
  }
}

function toFile(pointMm: Vec3, frame: FileFrame): Vec3 {
  return toFileTurn(sub3(pointMm, frame.originMm), frame);
}

function toFileTurn([x, y, z]: Vec3, { turnRad }: FileFrame): Vec3 {
  const cos = Math.cos(turnRad);
  const sin = Math.sin(turnRad);
  return [x * cos + y * sin, -x * sin + y * cos, z];
}
