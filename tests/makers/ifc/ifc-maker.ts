/**
 * Writes small building models as STEP text, for tests. It shares nothing with the reader: numbers
 * and records are written straight from the entity tables of the published schemas (IFC2X3 TC1,
 * IFC4 ADD2 TC1, IFC4X3 ADD2). All sizes given to it are millimetres; it writes them in its unit.
 */
export type MakerSchema = 'IFC2X3' | 'IFC4' | 'IFC4X3';
export const MAKER_SCHEMAS: readonly MakerSchema[] = ['IFC2X3', 'IFC4', 'IFC4X3'];
export type Point = readonly [number, number, number];
export type MakerUnit = 'mm' | 'm' | 'inch';

export interface MakerOptions {
  readonly schema: MakerSchema;
  readonly unit?: MakerUnit;
  /** Where the site stands, and how it is turned about z. */
  readonly siteAt?: Point;
  readonly siteTurnDeg?: number;
  /** Added to every record number. */
  readonly firstNumber?: number;
  /** Written last record first. */
  readonly reversed?: boolean;
  readonly mapConversion?: {
    readonly eastings: number;
    readonly northings: number;
    readonly height: number;
    readonly turnDeg: number;
  };
  readonly guidSeed?: number;
}

export type Outline =
  | { readonly circle: number; readonly bore?: number }
  | { readonly rectangle: readonly [number, number]; readonly wall?: number }
  | { readonly tray: readonly [number, number] }
  | { readonly rounded: readonly [width: number, height: number, radius: number] }
  | { readonly polygon: readonly (readonly [number, number])[] }
  | {
      readonly polygonWithHoles: readonly (readonly [number, number])[];
      readonly holes: readonly (readonly (readonly [number, number])[])[];
    };

export type ServiceWord = 'cable' | 'conduit' | 'tray' | 'ladder' | 'trunking' | 'duct' | 'pipe';

export interface Made {
  readonly ref: string;
  readonly guid: string;
}

type PropertyValue = string | number | boolean;
export type Properties = Readonly<Record<string, PropertyValue>>;

interface Names {
  readonly name?: string;
  readonly tag?: string;
  readonly objectType?: string;
  readonly storey?: Made | null;
}

const MM_PER: Record<MakerUnit, number> = { mm: 1, m: 1000, inch: 25.4 };
const GUID_LETTERS = '0123456789ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz_$';

export class IfcMaker {
  readonly schema: MakerSchema;
  private readonly options: MakerOptions;
  private readonly records: string[] = [];
  private next: number;
  private guidCount: number;
  private readonly perUnit: number;
  readonly owner: string;
  readonly context: string;
  readonly axisContext: string;
  readonly project: Made;
  readonly site: Made;
  readonly building: Made;
  private readonly sitePlacement: string;
  readonly placement: string;
  private readonly contained = new Map<string, string[]>();
  private readonly storeys: Made[] = [];

  constructor(options: MakerOptions) {
    this.schema = options.schema;
    this.options = options;
    this.next = (options.firstNumber ?? 0) + 1;
    this.guidCount = (options.guidSeed ?? 0) * 100_000 + 1;
    this.perUnit = MM_PER[options.unit ?? 'mm'];
    const person = this.add('IFCPERSON', '$,$,$,$,$,$,$,$');
    const organization = this.add('IFCORGANIZATION', `$,'Maker',$,$,$`);
    const both = this.add('IFCPERSONANDORGANIZATION', `${person},${organization},$`);
    const application = this.add('IFCAPPLICATION', `${organization},'1','Test maker','maker'`);
    this.owner = this.add('IFCOWNERHISTORY', `${both},${application},$,.ADDED.,$,$,$,0`);
    const units = this.units();
    const world = this.placement3([0, 0, 0]);
    this.context = this.add('IFCGEOMETRICREPRESENTATIONCONTEXT', `$,'Model',3,1.E-05,${world},$`);
    this.axisContext = this.context;
    this.project = this.rooted('IFCPROJECT', `'Test project',$,$,$,$,(${this.context}),${units}`);
    this.mapConversion();
    const turn = ((options.siteTurnDeg ?? 0) * Math.PI) / 180;
    this.sitePlacement = this.add(
      'IFCLOCALPLACEMENT',
      `$,${this.placement3(options.siteAt ?? [0, 0, 0], [0, 0, 1], [Math.cos(turn), Math.sin(turn), 0])}`,
    );
    this.site = this.rooted('IFCSITE', `'Site',$,$,${this.sitePlacement},$,$,.ELEMENT.,$,$,$,$,$`);
    this.placement = this.add(
      'IFCLOCALPLACEMENT',
      `${this.sitePlacement},${this.placement3([0, 0, 0])}`,
    );
    this.building = this.rooted(
      'IFCBUILDING',
      `'Building',$,$,${this.placement},$,$,.ELEMENT.,$,$,$`,
    );
    this.aggregate(this.project, [this.site]);
    this.aggregate(this.site, [this.building]);
  }

  /** A raw record; gives its reference, `#12`. */
  add(type: string, attributes: string): string {
    const ref = `#${this.next}`;
    this.next += 1;
    this.records.push(`${ref}=${type}(${attributes});`);
    return ref;
  }

  /** A rooted record: GlobalId and owner are put before the attributes given. */
  rooted(type: string, attributes: string, guid = this.guid()): Made {
    return { ref: this.add(type, `'${guid}',${this.owner},${attributes}`), guid };
  }

  guid(): string {
    let left = this.guidCount;
    this.guidCount += 1;
    let text = '';
    for (let place = 0; place < 21; place += 1) {
      text = GUID_LETTERS.charAt(left % 64) + text;
      left = Math.floor(left / 64);
    }
    return `0${text}`;
  }

  storey(name: string, elevationMm: number): Made {
    const placement = this.add(
      'IFCLOCALPLACEMENT',
      `${this.placement},${this.placement3([0, 0, elevationMm])}`,
    );
    const made = this.rooted(
      'IFCBUILDINGSTOREY',
      `${this.text(name)},$,$,${placement},$,$,.ELEMENT.,${this.length(elevationMm)}`,
    );
    this.storeys.push(made);
    return made;
  }

  /** A wall by its base line's start, direction, length, thickness (centred) and height. */
  wall(
    parts: Names & {
      readonly at: Point;
      readonly length: number;
      readonly thickness: number;
      readonly height: number;
      readonly turnDeg?: number;
      readonly guid?: string;
    },
  ): Made {
    const turn = ((parts.turnDeg ?? 0) * Math.PI) / 180;
    const x: Point = [Math.cos(turn), Math.sin(turn), 0];
    const middle: Point = [
      parts.at[0] + (x[0] * parts.length) / 2,
      parts.at[1] + (x[1] * parts.length) / 2,
      parts.at[2],
    ];
    const body = this.extruded({ rectangle: [parts.length, parts.thickness] }, parts.height);
    return this.element(
      this.schema === 'IFC2X3' ? 'IFCWALLSTANDARDCASE' : 'IFCWALL',
      { ...parts, at: middle, z: [0, 0, 1], x },
      this.body(body),
      this.schema === 'IFC2X3' ? '' : ',.STANDARD.',
      parts.guid,
    );
  }

  /** A slab by its outline's centre (top of the slab is at[2] + thickness). */
  slab(
    parts: Names & {
      readonly at: Point;
      readonly size: readonly [number, number];
      readonly thickness: number;
      readonly z?: Point;
      readonly x?: Point;
    },
  ): Made {
    return this.element(
      'IFCSLAB',
      { ...parts, z: parts.z ?? [0, 0, 1], x: parts.x ?? [1, 0, 0] },
      this.body(this.extruded({ rectangle: parts.size }, parts.thickness)),
      ',.FLOOR.',
    );
  }

  /** An opening centred on `at`, cut along `axis` over `depth`, and its relation to the host. */
  opening(
    host: Made | null,
    parts: Names & {
      readonly at: Point;
      readonly axis: Point;
      readonly x?: Point;
      readonly outline: Outline;
      readonly depth: number;
      readonly recess?: boolean;
    },
  ): Made {
    const start = along(parts.at, parts.axis, -parts.depth / 2);
    const made = this.element(
      'IFCOPENINGELEMENT',
      { ...parts, storey: null, at: start, z: parts.axis, x: parts.x ?? anyAcross(parts.axis) },
      this.body(this.extruded(parts.outline, parts.depth)),
      this.schema === 'IFC2X3' ? '' : parts.recess === true ? ',.RECESS.' : ',.OPENING.',
    );
    if (host !== null) this.rooted('IFCRELVOIDSELEMENT', `$,$,${host.ref},${made.ref}`);
    return made;
  }

  /** A straight segment from one point to another. */
  segment(
    word: ServiceWord,
    parts: Names & {
      readonly from: Point;
      readonly to: Point;
      readonly outline: Outline;
      readonly x?: Point;
      readonly typeName?: string;
      readonly body?: string;
    },
  ): Made {
    const axis = minus(parts.to, parts.from);
    const length = size(axis);
    const body = parts.body ?? this.extruded(parts.outline, length);
    return this.service(
      word,
      { ...parts, at: parts.from, z: axis, x: parts.x ?? anyAcross(axis) },
      body,
    );
  }

  /** A segment along a polyline with a round section: a swept disk. */
  swept(
    word: ServiceWord,
    parts: Names & {
      readonly points: readonly Point[];
      readonly diameter: number;
      readonly bore?: number;
    },
  ): Made {
    const [first = [0, 0, 0] as Point] = parts.points;
    const points = parts.points.map((point) => this.point(minus(point, first)));
    const line = this.add('IFCPOLYLINE', `(${points.join(',')})`);
    const inner = parts.bore === undefined ? '$' : this.length(parts.bore / 2);
    const disk = this.add(
      'IFCSWEPTDISKSOLID',
      `${line},${this.length(parts.diameter / 2)},${inner},0.,${real(parts.points.length - 1)}`,
    );
    return this.service(
      word,
      { ...parts, at: first, z: [0, 0, 1], x: [1, 0, 0] },
      disk,
      'AdvancedSweptSolid',
    );
  }

  /** A fitting with a straight extruded body. */
  fitting(
    word: ServiceWord,
    parts: Names & {
      readonly from: Point;
      readonly to: Point;
      readonly outline: Outline;
    },
  ): Made {
    const axis = minus(parts.to, parts.from);
    const body = this.extruded(parts.outline, size(axis));
    const frame = { ...parts, at: parts.from, z: axis, x: anyAcross(axis) };
    const kind = word === 'duct' ? 'DUCT' : word === 'pipe' ? 'PIPE' : 'CABLECARRIER';
    if (this.schema !== 'IFC2X3') {
      return this.element(`IFC${kind}FITTING`, frame, this.body(body), ',.BEND.');
    }
    const made = this.element('IFCFLOWFITTING', frame, this.body(body), '');
    this.typed(made, `IFC${kind}FITTINGTYPE`, 'Fitting', '.BEND.');
    return made;
  }

  service(
    word: ServiceWord,
    frame: Names & { readonly at: Point; readonly z: Point; readonly x: Point; typeName?: string },
    item: string,
    representationType = 'SweptSolid',
  ): Made {
    const [base, predefined] = SERVICE_CLASSES[word];
    const body = this.body(item, representationType);
    if (this.schema !== 'IFC2X3') {
      return this.element(`${base}`, frame, body, `,.${predefined}.`);
    }
    const made = this.element('IFCFLOWSEGMENT', frame, body, '');
    this.typed(made, `${base}TYPE`, frame.typeName ?? word, `.${predefined}.`);
    return made;
  }

  /** A request for a void, in the way of the schema. */
  provision(
    parts: Names & {
      readonly at: Point;
      readonly axis: Point;
      readonly x?: Point;
      readonly outline: Outline;
      readonly depth: number;
    },
  ): Made {
    const frame = {
      ...parts,
      at: along(parts.at, parts.axis, -parts.depth / 2),
      z: parts.axis,
      x: parts.x ?? anyAcross(parts.axis),
    };
    const body = this.body(this.extruded(parts.outline, parts.depth));
    if (this.schema === 'IFC2X3') {
      return this.element(
        'IFCBUILDINGELEMENTPROXY',
        { ...frame, objectType: 'ProvisionForVoid' },
        body,
        ',$',
      );
    }
    if (this.schema === 'IFC4') {
      return this.element('IFCBUILDINGELEMENTPROXY', frame, body, ',.PROVISIONFORVOID.');
    }
    return this.element('IFCVIRTUALELEMENT', frame, body, ',.PROVISIONFORVOID.');
  }

  /** Any element with a body placed by axes; `tail` holds attributes after Tag. */
  element(
    type: string,
    frame: Names & { readonly at: Point; readonly z: Point; readonly x: Point },
    shape: string,
    tail: string,
    guid?: string,
  ): Made {
    const placement = this.add(
      'IFCLOCALPLACEMENT',
      `${this.placement},${this.placement3(frame.at, frame.z, frame.x)}`,
    );
    const made = this.rooted(
      type,
      `${this.text(frame.name)},$,${this.text(frame.objectType)},${placement},${shape},${this.text(frame.tag)}${tail}`,
      guid,
    );
    if (frame.storey !== null && type !== 'IFCOPENINGELEMENT') {
      const where = frame.storey ?? this.building;
      this.contained.set(where.ref, [...(this.contained.get(where.ref) ?? []), made.ref]);
    }
    return made;
  }

  typed(made: Made, typeClass: string, name: string, predefined: string, sets = '$'): Made {
    const type = this.rooted(typeClass, `${this.text(name)},$,$,${sets},$,$,$,${predefined}`);
    this.rooted('IFCRELDEFINESBYTYPE', `$,$,(${made.ref}),${type.ref}`);
    return type;
  }

  /** A door or window that fills an opening. */
  filling(opening: Made, type: 'IFCDOOR' | 'IFCWINDOW'): Made {
    const placement = this.add(
      'IFCLOCALPLACEMENT',
      `${this.placement},${this.placement3([0, 0, 0])}`,
    );
    const tail = this.schema === 'IFC2X3' ? '' : ',$,$,$';
    const made = this.rooted(type, `'Filling',$,$,${placement},$,$,$,$${tail}`);
    this.rooted('IFCRELFILLSELEMENT', `$,$,${opening.ref},${made.ref}`);
    this.contained.set(this.building.ref, [
      ...(this.contained.get(this.building.ref) ?? []),
      made.ref,
    ]);
    return made;
  }

  /** Joins elements by a port each. */
  connect(a: Made, b: Made): void {
    const ports = [a, b].map((made) => {
      const tail = this.schema === 'IFC2X3' ? '.SOURCEANDSINK.' : '.SOURCEANDSINK.,$,$';
      const port = this.rooted('IFCDISTRIBUTIONPORT', `'Port',$,$,$,$,${tail}`);
      if (this.schema === 'IFC2X3') {
        this.rooted('IFCRELCONNECTSPORTTOELEMENT', `$,$,${port.ref},${made.ref}`);
      } else this.rooted('IFCRELNESTS', `$,$,${made.ref},(${port.ref})`);
      return port;
    });
    this.rooted('IFCRELCONNECTSPORTS', `$,$,${ports[0]?.ref},${ports[1]?.ref},$`);
  }

  properties(made: readonly Made[], set: string, values: Properties): void {
    const refs = made.map(({ ref }) => ref).join(',');
    this.rooted('IFCRELDEFINESBYPROPERTIES', `$,$,(${refs}),${this.propertySet(set, values)}`);
  }

  propertySet(set: string, values: Properties): string {
    const properties = Object.entries(values).map(([name, value]) =>
      this.add('IFCPROPERTYSINGLEVALUE', `${this.text(name)},$,${this.measure(name, value)},$`),
    );
    return this.rooted('IFCPROPERTYSET', `${this.text(set)},$,(${properties.join(',')})`).ref;
  }

  /** Groups spaces (or zones) into a zone. */
  zone(name: string, members: readonly Made[]): Made {
    const attributes = `${this.text(name)},$,$${this.schema === 'IFC2X3' ? '' : ',$'}`;
    const zone = this.rooted('IFCZONE', attributes);
    const refs = members.map(({ ref }) => ref).join(',');
    this.rooted('IFCRELASSIGNSTOGROUP', `$,$,(${refs}),$,${zone.ref}`);
    return zone;
  }

  /** A zone with a box for a body, of IFC4 and later; refers to spaces besides. */
  spatialZone(name: string, at: Point, sizeMm: Point, members: readonly Made[] = []): Made {
    const zone = this.rooted(
      'IFCSPATIALZONE',
      `${this.text(name)},$,$,${this.boxBody(at, sizeMm)},$,.FIRESAFETY.`,
    );
    if (members.length > 0) {
      const refs = members.map(({ ref }) => ref).join(',');
      this.rooted('IFCRELREFERENCEDINSPATIALSTRUCTURE', `$,$,(${refs}),${zone.ref}`);
    }
    return zone;
  }

  /** Placement and body of a box, as attributes. */
  private boxBody(at: Point, sizeMm: Point): string {
    const centre: Point = [at[0] + sizeMm[0] / 2, at[1] + sizeMm[1] / 2, at[2]];
    const placement = this.add('IFCLOCALPLACEMENT', `${this.placement},${this.placement3(centre)}`);
    return `${placement},${this.body(this.extruded({ rectangle: [sizeMm[0], sizeMm[1]] }, sizeMm[2]))}`;
  }

  system(name: string, members: readonly Made[]): void {
    const system = this.rooted('IFCSYSTEM', `${this.text(name)},$,$`);
    const refs = members.map(({ ref }) => ref).join(',');
    this.rooted('IFCRELASSIGNSTOGROUP', `$,$,(${refs}),$,${system.ref}`);
  }

  /** A box-shaped space. */
  space(name: string, at: Point, sizeMm: Point, storey: Made): Made {
    const made = this.rooted(
      'IFCSPACE',
      `${this.text(name)},$,$,${this.boxBody(at, sizeMm)},$,.ELEMENT.,.INTERNAL.,$`,
    );
    this.aggregate(storey, [made]);
    return made;
  }

  grid(axesX: Readonly<Record<string, number>>, axesY: Readonly<Record<string, number>>): Made {
    const axis = (tag: string, a: Point, b: Point): string => {
      const line = this.add(
        'IFCPOLYLINE',
        `(${this.point2([a[0], a[1]])},${this.point2([b[0], b[1]])})`,
      );
      return this.add('IFCGRIDAXIS', `${this.text(tag)},${line},.T.`);
    };
    const u = Object.entries(axesX).map(([tag, x]) => axis(tag, [x, -20000, 0], [x, 20000, 0]));
    const v = Object.entries(axesY).map(([tag, y]) => axis(tag, [-20000, y, 0], [20000, y, 0]));
    const placement = this.add(
      'IFCLOCALPLACEMENT',
      `${this.placement},${this.placement3([0, 0, 0])}`,
    );
    const tail = this.schema === 'IFC2X3' ? '' : ',$';
    const made = this.rooted(
      'IFCGRID',
      `'Grid',$,$,${placement},$,(${u.join(',')}),(${v.join(',')}),$${tail}`,
    );
    this.contained.set(this.building.ref, [
      ...(this.contained.get(this.building.ref) ?? []),
      made.ref,
    ]);
    return made;
  }

  aggregate(whole: Made, parts: readonly Made[]): void {
    this.rooted('IFCRELAGGREGATES', `$,$,${whole.ref},(${parts.map(({ ref }) => ref).join(',')})`);
  }

  /** An extruded solid standing on the local origin, along local z. */
  extruded(outline: Outline, depth: number): string {
    const position = this.placement3([0, 0, 0]);
    return this.add(
      'IFCEXTRUDEDAREASOLID',
      `${this.profile(outline)},${position},${this.direction([0, 0, 1])},${this.length(depth)}`,
    );
  }

  /** The same solid reached through a map, moved and turned by the map's target. */
  mapped(item: string, at: Point = [0, 0, 0]): string {
    const representation = this.add(
      'IFCSHAPEREPRESENTATION',
      `${this.context},'Body','SweptSolid',(${item})`,
    );
    const map = this.add('IFCREPRESENTATIONMAP', `${this.placement3([0, 0, 0])},${representation}`);
    const target = this.add('IFCCARTESIANTRANSFORMATIONOPERATOR3D', `$,$,${this.point(at)},1.,$`);
    return this.add('IFCMAPPEDITEM', `${map},${target}`);
  }

  /** Faces of a closed solid, as a faceted brep; points in the element's own frame. */
  brep(points: readonly Point[], faces: readonly (readonly number[])[]): string {
    const refs = points.map((point) => this.point(point));
    const made = faces.map((face) => {
      const loop = this.add('IFCPOLYLOOP', `(${face.map((n) => refs[n]).join(',')})`);
      return this.add('IFCFACE', `(${this.add('IFCFACEOUTERBOUND', `${loop},.T.`)})`);
    });
    return this.add('IFCFACETEDBREP', this.add('IFCCLOSEDSHELL', `(${made.join(',')})`));
  }

  /** A box as a faceted brep, from one corner to the other. */
  boxBrep(from: Point, to: Point): string {
    const [a, b, c] = from;
    const [d, e, f] = to;
    return this.brep(
      [
        [a, b, c],
        [d, b, c],
        [d, e, c],
        [a, e, c],
        [a, b, f],
        [d, b, f],
        [d, e, f],
        [a, e, f],
      ],
      [
        [0, 3, 2, 1],
        [4, 5, 6, 7],
        [0, 1, 5, 4],
        [1, 2, 6, 5],
        [2, 3, 7, 6],
        [3, 0, 4, 7],
      ],
    );
  }

  body(item: string, representationType = 'SweptSolid'): string {
    const representation = this.add(
      'IFCSHAPEREPRESENTATION',
      `${this.context},'Body','${representationType}',(${item})`,
    );
    return this.add('IFCPRODUCTDEFINITIONSHAPE', `$,$,(${representation})`);
  }

  profile(outline: Outline): string {
    const position = `${this.add('IFCAXIS2PLACEMENT2D', `${this.point2([0, 0])},$`)}`;
    if ('circle' in outline) {
      if (outline.bore === undefined) {
        return this.add(
          'IFCCIRCLEPROFILEDEF',
          `.AREA.,$,${position},${this.length(outline.circle / 2)}`,
        );
      }
      const wall = (outline.circle - outline.bore) / 2;
      return this.add(
        'IFCCIRCLEHOLLOWPROFILEDEF',
        `.AREA.,$,${position},${this.length(outline.circle / 2)},${this.length(wall)}`,
      );
    }
    if ('rectangle' in outline) {
      const [width, height] = outline.rectangle;
      if (outline.wall !== undefined) {
        return this.add(
          'IFCRECTANGLEHOLLOWPROFILEDEF',
          `.AREA.,$,${position},${this.length(width)},${this.length(height)},${this.length(outline.wall)},$,$`,
        );
      }
      return this.add(
        'IFCRECTANGLEPROFILEDEF',
        `.AREA.,$,${position},${this.length(width)},${this.length(height)}`,
      );
    }
    if ('rounded' in outline) {
      const sizes = outline.rounded.map((value) => this.length(value)).join(',');
      return this.add('IFCROUNDEDRECTANGLEPROFILEDEF', `.AREA.,$,${position},${sizes}`);
    }
    if ('tray' in outline) {
      const [width, height] = outline.tray;
      const x = width / 2;
      const y = height / 2;
      return this.closedProfile([
        [-x, -y],
        [x, -y],
        [x, y],
        [x - 2, y],
        [x - 2, -y + 2],
        [-x + 2, -y + 2],
        [-x + 2, y],
        [-x, y],
      ]);
    }
    if ('polygon' in outline) return this.closedProfile(outline.polygon);
    const outer = this.loop(outline.polygonWithHoles);
    const holes = outline.holes.map((hole) => this.loop(hole)).join(',');
    return this.add('IFCARBITRARYPROFILEDEFWITHVOIDS', `.AREA.,$,${outer},(${holes})`);
  }

  private closedProfile(points: readonly (readonly [number, number])[]): string {
    return this.add('IFCARBITRARYCLOSEDPROFILEDEF', `.AREA.,$,${this.loop(points)}`);
  }

  private loop(points: readonly (readonly [number, number])[]): string {
    const refs = points.map((point) => this.point2(point));
    return this.add('IFCPOLYLINE', `(${[...refs, refs[0]].join(',')})`);
  }

  toText(): string {
    const records = [...this.records];
    let next = this.next;
    const late = (type: string, attributes: string): void => {
      records.push(`#${next}=${type}('${this.guid()}',${this.owner},${attributes});`);
      next += 1;
    };
    if (this.storeys.length > 0) {
      const refs = this.storeys.map(({ ref }) => ref).join(',');
      late('IFCRELAGGREGATES', `$,$,${this.building.ref},(${refs})`);
    }
    for (const [where, refs] of this.contained) {
      late('IFCRELCONTAINEDINSPATIALSTRUCTURE', `$,$,(${refs.join(',')}),${where}`);
    }
    if (this.options.reversed === true) records.reverse();
    return [
      'ISO-10303-21;',
      'HEADER;',
      "FILE_DESCRIPTION((''),'2;1');",
      "FILE_NAME('made.ifc','2026-01-01T00:00:00',(''),(''),'','','');",
      `FILE_SCHEMA(('${this.schema === 'IFC4X3' ? 'IFC4X3_ADD2' : this.schema}'));`,
      'ENDSEC;',
      'DATA;',
      ...records,
      'ENDSEC;',
      'END-ISO-10303-21;',
      '',
    ].join('\n');
  }

  toBytes(): Uint8Array {
    return new TextEncoder().encode(this.toText());
  }

  length(mm: number): string {
    return real(mm / this.perUnit);
  }

  point(point: Point): string {
    return this.add('IFCCARTESIANPOINT', `(${point.map((v) => this.length(v)).join(',')})`);
  }

  point2(point: readonly [number, number]): string {
    return this.add('IFCCARTESIANPOINT', `(${point.map((v) => this.length(v)).join(',')})`);
  }

  direction(direction: Point): string {
    const length = size(direction);
    return this.add('IFCDIRECTION', `(${direction.map((v) => real(v / length)).join(',')})`);
  }

  placement3(at: Point, z?: Point, x?: Point): string {
    const axes =
      z === undefined || x === undefined ? '$,$' : `${this.direction(z)},${this.direction(x)}`;
    return this.add('IFCAXIS2PLACEMENT3D', `${this.point(at)},${axes}`);
  }

  text(text: string | undefined): string {
    if (text === undefined) return '$';
    return `'${text.replaceAll("'", "''")}'`;
  }

  private measure(name: string, value: PropertyValue): string {
    if (typeof value === 'boolean') return `IFCBOOLEAN(${value ? '.T.' : '.F.'})`;
    if (typeof value === 'number') {
      return /diameter|width|height|depth|length|thickness/i.test(name)
        ? `IFCPOSITIVELENGTHMEASURE(${this.length(value)})`
        : `IFCREAL(${real(value)})`;
    }
    return `IFCLABEL(${this.text(value)})`;
  }

  private units(): string {
    const unit = this.options.unit ?? 'mm';
    let length: string;
    if (unit === 'inch') {
      const metre = this.add('IFCSIUNIT', '*,.LENGTHUNIT.,$,.METRE.');
      const factor = this.add('IFCMEASUREWITHUNIT', `IFCLENGTHMEASURE(0.0254),${metre}`);
      const exponents = this.add('IFCDIMENSIONALEXPONENTS', '1,0,0,0,0,0,0');
      length = this.add('IFCCONVERSIONBASEDUNIT', `${exponents},.LENGTHUNIT.,'INCH',${factor}`);
    } else {
      length = this.add('IFCSIUNIT', `*,.LENGTHUNIT.,${unit === 'mm' ? '.MILLI.' : '$'},.METRE.`);
    }
    const angle = this.add('IFCSIUNIT', '*,.PLANEANGLEUNIT.,$,.RADIAN.');
    return this.add('IFCUNITASSIGNMENT', `(${length},${angle})`);
  }

  private mapConversion(): void {
    const conversion = this.options.mapConversion;
    if (conversion === undefined || this.schema === 'IFC2X3') return;
    const crs = this.add('IFCPROJECTEDCRS', `'EPSG:32632',$,$,$,$,$,$`);
    const turn = (conversion.turnDeg * Math.PI) / 180;
    this.add(
      'IFCMAPCONVERSION',
      `${this.context},${crs},${this.length(conversion.eastings)},${this.length(conversion.northings)},${this.length(conversion.height)},${real(Math.cos(turn))},${real(Math.sin(turn))},1.`,
    );
  }
}

const SERVICE_CLASSES: Record<ServiceWord, readonly [string, string]> = {
  cable: ['IFCCABLESEGMENT', 'CABLESEGMENT'],
  conduit: ['IFCCABLECARRIERSEGMENT', 'CONDUITSEGMENT'],
  tray: ['IFCCABLECARRIERSEGMENT', 'CABLETRAYSEGMENT'],
  ladder: ['IFCCABLECARRIERSEGMENT', 'CABLELADDERSEGMENT'],
  trunking: ['IFCCABLECARRIERSEGMENT', 'CABLETRUNKINGSEGMENT'],
  duct: ['IFCDUCTSEGMENT', 'RIGIDSEGMENT'],
  pipe: ['IFCPIPESEGMENT', 'RIGIDSEGMENT'],
};

function real(value: number): string {
  const text = String(Number(value.toPrecision(15)));
  if (text.includes('e')) return text.toUpperCase().replace(/^(-?\d+)E/, '$1.E');
  return text.includes('.') ? text : `${text}.`;
}

function minus(a: Point, b: Point): Point {
  return [a[0] - b[0], a[1] - b[1], a[2] - b[2]];
}

function size(a: Point): number {
  return Math.hypot(...a);
}

function along(from: Point, axis: Point, distance: number): Point {
  const length = size(axis);
  return [
    from[0] + (axis[0] / length) * distance,
    from[1] + (axis[1] / length) * distance,
    from[2] + (axis[2] / length) * distance,
  ];
}

/** A direction across the axis: level where there is one. */
function anyAcross(axis: Point): Point {
  return Math.abs(axis[0]) + Math.abs(axis[1]) < 1e-9 ? [1, 0, 0] : [-axis[1], axis[0], 0];
}
