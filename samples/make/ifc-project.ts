import type { V2, V3 } from '../dimensions/types.ts';
import {
  boolean,
  DERIVED,
  enumeration,
  integer,
  list,
  NULL,
  real,
  type Step,
  StepWriter,
  text,
  textOrNull,
  typed,
} from './step-writer.ts';

export type Schema = 'IFC2X3' | 'IFC4' | 'IFC4X3_ADD2';

export interface ProjectOptions {
  readonly schema: Schema;
  readonly fileName: string;
  readonly projectName: string;
  readonly buildingName: string;
  readonly date: string;
  /** Millimetres a length unit of the file: 1 or 1000. */
  readonly unitMm: 1 | 1000;
}

export interface PropertyValue {
  readonly name: string;
  readonly type: string;
  readonly value: string | number | boolean;
}

/** The frame that every model needs, and the parts that architecture and services share. */
export class IfcProject {
  readonly step: StepWriter;
  readonly schema: Schema;
  readonly body: Step;
  readonly axisContext: Step;
  readonly footprintContext: Step;
  readonly owner: Step;
  readonly #project: Step;
  readonly #building: Step;
  readonly #buildingPlacement: Step;
  readonly #unitMm: number;
  readonly #date: string;
  readonly #storeys = new Map<string, { element: Step; placement: Step; elevationMm: number }>();
  readonly #contained = new Map<string, Step[]>();
  readonly #spaces = new Map<string, Step[]>();
  readonly #materials = new Map<string, { material: Step; elements: Step[] }>();

  constructor(options: ProjectOptions) {
    this.schema = options.schema;
    this.#unitMm = options.unitMm;
    this.#date = options.date;
    const step = new StepWriter(options.schema, options.fileName);
    this.step = step;

    this.owner = this.#ownerHistory();
    const world = this.axes([0, 0, 0]);
    const context = step.add('IfcGeometricRepresentationContext', [
      NULL,
      text('Model'),
      integer(3),
      real(1e-5),
      world,
      NULL,
    ]);
    const sub = (identifier: string, view: string): Step =>
      step.add('IfcGeometricRepresentationSubContext', [
        text(identifier),
        text('Model'),
        DERIVED,
        DERIVED,
        DERIVED,
        DERIVED,
        context,
        NULL,
        enumeration(view),
        NULL,
      ]);
    this.body = sub('Body', 'MODEL_VIEW');
    this.axisContext = sub('Axis', 'GRAPH_VIEW');
    this.footprintContext = sub('FootPrint', 'MODEL_VIEW');

    const unit = (type: string, prefix: string | null, name: string): Step =>
      step.add('IfcSIUnit', [
        DERIVED,
        enumeration(type),
        prefix === null ? NULL : enumeration(prefix),
        enumeration(name),
      ]);
    const units = step.add('IfcUnitAssignment', [
      list([
        unit('LENGTHUNIT', options.unitMm === 1 ? 'MILLI' : null, 'METRE'),
        unit('AREAUNIT', null, 'SQUARE_METRE'),
        unit('VOLUMEUNIT', null, 'CUBIC_METRE'),
        unit('PLANEANGLEUNIT', null, 'RADIAN'),
      ]),
    ]);
    this.#project = step.add('IfcProject', [
      step.globalId('project'),
      this.owner,
      text(options.projectName),
      NULL,
      NULL,
      NULL,
      NULL,
      list([context]),
      units,
    ]);
    const sitePlacement = step.add('IfcLocalPlacement', [NULL, this.axes([0, 0, 0])]);
    const site = step.add('IfcSite', [
      step.globalId('site'),
      this.owner,
      text('Site'),
      NULL,
      NULL,
      sitePlacement,
      NULL,
      NULL,
      enumeration('ELEMENT'),
      NULL,
      NULL,
      NULL,
      NULL,
      NULL,
    ]);
    this.#buildingPlacement = step.add('IfcLocalPlacement', [sitePlacement, this.axes([0, 0, 0])]);
    this.#building = step.add('IfcBuilding', [
      step.globalId('building'),
      this.owner,
      text(options.buildingName),
      NULL,
      NULL,
      this.#buildingPlacement,
      NULL,
      NULL,
      enumeration('ELEMENT'),
      NULL,
      NULL,
      NULL,
    ]);
    this.aggregate('project-site', this.#project, [site]);
    this.aggregate('site-building', site, [this.#building]);
  }

  #ownerHistory(): Step {
    const { step } = this;
    const organization = step.add('IfcOrganization', [NULL, text('Sample'), NULL, NULL, NULL]);
    const person = step.add('IfcPerson', [
      text('sample'),
      this.schema === 'IFC2X3' ? text('Sample') : NULL,
      NULL,
      NULL,
      NULL,
      NULL,
      NULL,
      NULL,
    ]);
    const user = step.add('IfcPersonAndOrganization', [person, organization, NULL]);
    const application = step.add('IfcApplication', [
      organization,
      text('1'),
      text('samples/make.ts'),
      text('samples'),
    ]);
    return step.add('IfcOwnerHistory', [
      user,
      application,
      NULL,
      enumeration(this.schema === 'IFC2X3' ? 'ADDED' : 'NOTDEFINED'),
      NULL,
      NULL,
      NULL,
      // Seconds since 1970 of the date in the header; fixed.
      integer(1767225600),
    ]);
  }

  length(valueMm: number): Step {
    return real(valueMm / this.#unitMm);
  }

  point(pointMm: V3): Step {
    return this.step.shared('IfcCartesianPoint', [
      list(pointMm.map((coordinate) => this.length(coordinate))),
    ]);
  }

  point2(pointMm: V2): Step {
    return this.step.shared('IfcCartesianPoint', [
      list(pointMm.map((coordinate) => this.length(coordinate))),
    ]);
  }

  direction(vector: readonly number[]): Step {
    return this.step.shared('IfcDirection', [list(vector.map(real))]);
  }

  /** A frame at a point: z along `axis`, x along `right`. */
  axes(originMm: V3, axis?: V3, right?: V3): Step {
    return this.step.shared('IfcAxis2Placement3D', [
      this.point(originMm),
      axis === undefined ? NULL : this.direction(axis),
      right === undefined ? NULL : this.direction(right),
    ]);
  }

  axes2(originMm: V2 = [0, 0]): Step {
    return this.step.shared('IfcAxis2Placement2D', [this.point2(originMm), NULL]);
  }

  placement(relativeTo: Step, originMm: V3, axis?: V3, right?: V3): Step {
    return this.step.add('IfcLocalPlacement', [relativeTo, this.axes(originMm, axis, right)]);
  }

  storey(mark: string, name: string, elevationMm: number): void {
    const placement = this.placement(this.#buildingPlacement, [0, 0, elevationMm]);
    const element = this.step.add('IfcBuildingStorey', [
      this.step.globalId(`storey ${mark}`),
      this.owner,
      text(name),
      NULL,
      NULL,
      placement,
      NULL,
      NULL,
      enumeration('ELEMENT'),
      this.length(elevationMm),
    ]);
    this.#storeys.set(mark, { element, placement, elevationMm });
  }

  /** Placement of a storey, and its height, so that parts can be placed relative to it. */
  storeyPlacement(mark: string): { readonly placement: Step; readonly elevationMm: number } {
    const storey = this.#storeys.get(mark);
    if (storey === undefined) throw new Error(`No storey ${mark}.`);
    return storey;
  }

  contain(storeyMark: string, element: Step): void {
    this.#contained.set(storeyMark, [...(this.#contained.get(storeyMark) ?? []), element]);
  }

  addSpace(storeyMark: string, space: Step): void {
    this.#spaces.set(storeyMark, [...(this.#spaces.get(storeyMark) ?? []), space]);
  }

  aggregate(name: string, whole: Step, parts: readonly Step[]): void {
    this.relation('IfcRelAggregates', name, [whole, list(parts)]);
  }

  /** A relation object: identity first, then what it relates. */
  relation(type: string, name: string, related: readonly Step[]): Step {
    return this.step.add(type, [
      this.step.globalId(`${type} ${name}`),
      this.owner,
      NULL,
      NULL,
      ...related,
    ]);
  }

  properties(
    elementName: string,
    element: Step,
    set: string,
    values: readonly PropertyValue[],
  ): void {
    const properties = values.map(({ name, type, value }) =>
      this.step.add('IfcPropertySingleValue', [
        text(name),
        NULL,
        typed(type, this.#value(type, value)),
        NULL,
      ]),
    );
    const propertySet = this.step.add('IfcPropertySet', [
      this.step.globalId(`${set} of ${elementName}`),
      this.owner,
      text(set),
      NULL,
      list(properties),
    ]);
    this.relation('IfcRelDefinesByProperties', `${set} of ${elementName}`, [
      list([element]),
      propertySet,
    ]);
  }

  #value(type: string, value: string | number | boolean): Step {
    if (typeof value === 'string') return text(value);
    if (typeof value === 'boolean') return boolean(value);
    if (type === 'IfcInteger') return integer(value);
    return /LengthMeasure$/.test(type) ? this.length(value) : real(value);
  }

  material(name: string, element: Step): void {
    let entry = this.#materials.get(name);
    if (entry === undefined) {
      const attributes = this.schema === 'IFC2X3' ? [text(name)] : [text(name), NULL, NULL];
      entry = { material: this.step.add('IfcMaterial', attributes), elements: [] };
      this.#materials.set(name, entry);
    }
    entry.elements.push(element);
  }

  /** A wall of one layer, centred on its line: what IFC2X3 asks of a standard wall. */
  layeredMaterial(mark: string, name: string, thicknessMm: number, element: Step): void {
    const { step } = this;
    const material = step.shared('IfcMaterial', [text(name)]);
    const layer = step.shared('IfcMaterialLayer', [material, this.length(thicknessMm), NULL]);
    const layers = step.shared('IfcMaterialLayerSet', [list([layer]), text(name)]);
    const usage = step.add('IfcMaterialLayerSetUsage', [
      layers,
      enumeration('AXIS2'),
      enumeration('POSITIVE'),
      this.length(-thicknessMm / 2),
    ]);
    this.relation('IfcRelAssociatesMaterial', `layers of ${mark}`, [list([element]), usage]);
  }

  polyline(pointsMm: readonly V3[]): Step {
    return this.step.add('IfcPolyline', [list(pointsMm.map((point) => this.point(point)))]);
  }

  closedProfile(pointsMm: readonly V2[]): Step {
    const [first] = pointsMm;
    if (first === undefined) throw new Error('A profile needs points.');
    const curve = this.step.add('IfcPolyline', [
      list([...pointsMm, first].map((point) => this.point2(point))),
    ]);
    return this.step.add('IfcArbitraryClosedProfileDef', [enumeration('AREA'), NULL, curve]);
  }

  rectangleProfile(widthMm: number, heightMm: number): Step {
    return this.step.add('IfcRectangleProfileDef', [
      enumeration('AREA'),
      NULL,
      this.axes2(),
      this.length(widthMm),
      this.length(heightMm),
    ]);
  }

  rectangleHollowProfile(widthMm: number, heightMm: number, sheetMm: number): Step {
    return this.step.add('IfcRectangleHollowProfileDef', [
      enumeration('AREA'),
      NULL,
      this.axes2(),
      this.length(widthMm),
      this.length(heightMm),
      this.length(sheetMm),
      NULL,
      NULL,
    ]);
  }

  slotProfile(lengthMm: number, widthMm: number): Step {
    return this.step.add('IfcRoundedRectangleProfileDef', [
      enumeration('AREA'),
      NULL,
      this.axes2(),
      this.length(lengthMm),
      this.length(widthMm),
      this.length(widthMm / 2),
    ]);
  }

  circleProfile(diameterMm: number): Step {
    return this.step.add('IfcCircleProfileDef', [
      enumeration('AREA'),
      NULL,
      this.axes2(),
      this.length(diameterMm / 2),
    ]);
  }

  tubeProfile(outsideMm: number, boreMm: number): Step {
    return this.step.add('IfcCircleHollowProfileDef', [
      enumeration('AREA'),
      NULL,
      this.axes2(),
      this.length(outsideMm / 2),
      this.length((outsideMm - boreMm) / 2),
    ]);
  }

  /** A profile pushed along the local z of `axes`. */
  extrusion(profile: Step, axes: Step, depthMm: number): Step {
    return this.step.add('IfcExtrudedAreaSolid', [
      profile,
      axes,
      this.direction([0, 0, 1]),
      this.length(depthMm),
    ]);
  }

  /** What is seen of an element: its body, and its centre line where there is one. */
  shape(body: { readonly kind: string; readonly item: Step }, axis?: readonly V3[]): Step {
    const representations: Step[] = [];
    if (axis !== undefined) {
      representations.push(
        this.step.add('IfcShapeRepresentation', [
          this.axisContext,
          text('Axis'),
          text('Curve3D'),
          list([this.polyline(axis)]),
        ]),
      );
    }
    representations.push(
      this.step.add('IfcShapeRepresentation', [
        this.body,
        text('Body'),
        text(body.kind),
        list([body.item]),
      ]),
    );
    return this.step.add('IfcProductDefinitionShape', [NULL, NULL, list(representations)]);
  }

  /** The first eight attributes of an element, in every schema. */
  element(
    name: string,
    attributes: {
      readonly name: string;
      readonly description?: string;
      readonly objectType?: string;
      readonly placement: Step;
      readonly shape: Step;
      readonly tag: string | null;
    },
  ): readonly Step[] {
    return [
      this.step.globalId(name),
      this.owner,
      text(attributes.name),
      textOrNull(attributes.description ?? null),
      textOrNull(attributes.objectType ?? null),
      attributes.placement,
      attributes.shape,
      textOrNull(attributes.tag),
    ];
  }

  toText(): string {
    this.aggregate(
      'building-storeys',
      this.#building,
      [...this.#storeys.values()].map((storey) => storey.element),
    );
    for (const [mark, storey] of this.#storeys) {
      const spaces = this.#spaces.get(mark) ?? [];
      if (spaces.length > 0) this.aggregate(`spaces ${mark}`, storey.element, spaces);
      const contained = this.#contained.get(mark) ?? [];
      if (contained.length > 0) {
        this.relation('IfcRelContainedInSpatialStructure', mark, [list(contained), storey.element]);
      }
    }
    for (const [name, { material, elements }] of this.#materials) {
      this.relation('IfcRelAssociatesMaterial', name, [list(elements), material]);
    }
    return this.step.toText(`${this.#date}T08:00:00`);
  }

  get building(): Step {
    return this.#building;
  }
}
