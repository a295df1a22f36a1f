import { compareText } from '../../basics/order.ts';
import type { StepFile, StepRecord } from '../../formats/ifc/step-file.ts';
import {
  list,
  name,
  ref,
  refs,
  type StepLines,
  type StepToken,
  text,
  typed,
} from '../../formats/ifc/step-lines.ts';
import { isKindOf } from '../../formats/ifc/step-schema.ts';
import type { StepUnits } from '../../formats/ifc/step-units.ts';
import type { IfcTagEdit, TagField, TagRefusal } from '../../model/tag-edit.ts';
import type { FileFrame } from './file-frame.ts';
import { globalIdOf, readHosts, readStoreys } from './file-relations.ts';
import { PENETRATION_SET, QUANTITY_SET, SEAL_TYPE, SERVICE_SET } from './our-marks.ts';
import { ProvisionLines } from './provision-lines.ts';
import { RootedLines } from './rooted-lines.ts';
import { quantityLine, TagValues } from './tag-values.ts';

export interface IfcTagOptions {
  /** Key of the file in the project; part of the ids of what is written. */
  readonly fileKey: string;
  /** Whether each opening gets a seal element that fills it. */
  readonly seals: boolean;
  /** Whether missing openings are asked for as provisions for void. */
  readonly provisions: boolean;
  /** Where the file's own frame lies in the project's; null where that is not known. */
  readonly frame: FileFrame | null;
  /** A classification that seal elements carry. */
  readonly classification?: {
    readonly system: string;
    readonly edition: string;
    readonly code: string;
    readonly title: string;
  };
}

export interface TagLinesInput {
  readonly file: StepFile;
  readonly lines: StepLines;
  readonly units: StepUnits;
  readonly options: IfcTagOptions;
  /** GlobalId to number of former lines of ours that lines of others refer to. */
  readonly pinned: ReadonlyMap<string, number>;
}

/** Records that say where a model lies on the map. */
export const MAP_CLASSES = [
  'IFCMAPCONVERSION',
  'IFCMAPCONVERSIONSCALED',
  'IFCRIGIDOPERATION',
] as const;

/** Writes the lines of all edits of one model. */
export class TagLines {
  readonly refused: TagRefusal[] = [];
  readonly #file: StepFile;
  readonly #lines: StepLines;
  readonly #options: IfcTagOptions;
  readonly #values: TagValues;
  readonly #provisions: ProvisionLines;
  readonly #rooted: RootedLines;
  readonly #tagOfOpening = new Map<string, string>();
  readonly #tagsOfService = new Map<string, string[]>();
  /** Storey to what we put into it. */
  readonly #contents = new Map<number, number[]>();
  readonly #seals: number[] = [];
  #storeys: ReadonlyMap<number, number> | null = null;
  #hosts: ReadonlyMap<number, number> | null = null;

  constructor({ file, lines, units, options, pinned }: TagLinesInput) {
    this.#file = file;
    this.#lines = lines;
    this.#options = options;
    this.#values = new TagValues(units);
    this.#provisions = new ProvisionLines(file, lines, units);
    this.#rooted = new RootedLines(file, lines, options.fileKey, pinned);
  }

  addEdit(edit: IfcTagEdit): void {
    const openings = this.#openingsOf(edit);
    const hosts = edit.hostIds.flatMap((id) => this.#find(edit.tag, id) ?? []);
    this.#noteServices(edit, hosts);
    const carriers = openings.map(({ record }) => record.id);
    carriers.push(...this.#addProvision(edit, hosts));
    const seals = this.#addSeals(edit, openings, hosts);
    if (carriers.length === 0 && seals.length === 0) return;
    const set = this.#propertySet(edit, carriers.length === 0 ? seals : [...carriers, ...seals]);
    if (set !== null) this.#addQuantities(edit, seals.length > 0 ? seals : carriers);
  }

  /** What belongs to no single edit: sets of services, storeys, classification. */
  finish(): void {
    const services = [...this.#tagsOfService].sort(([a], [b]) => compareText(a, b));
    for (const [globalId, tags] of services) this.#addServiceSet(globalId, tags);
    for (const [storey, contents] of this.#contents) {
      const key = `storey/${globalIdOf(this.#file.record(storey))}`;
      this.#rooted.add('IfcRelContainedInSpatialStructure', key, {
        RelatedElements: refs(contents),
        RelatingStructure: ref(storey),
      });
    }
    this.#addClassification();
  }

  /** Openings of an edit that are in the file once, and carry no other tag. */
  #openingsOf(edit: IfcTagEdit) {
    return edit.openingIds.flatMap((globalId) => {
      const record = this.#find(edit.tag, globalId);
      if (record === null) return [];
      const other = this.#tagOfOpening.get(globalId);
      if (other !== undefined) {
        this.#refuse(edit.tag, globalId, `the opening carries the tag ${other} already`);
        return [];
      }
      this.#tagOfOpening.set(globalId, edit.tag);
      return [{ globalId, record }];
    });
  }

  #find(tag: string, globalId: string): StepRecord | null {
    const ids = this.#file.idsOfGlobalId(globalId);
    const [id] = ids;
    if (id === undefined || ids.length > 1) {
      const count = ids.length === 0 ? 'is not in the file' : `is in the file ${ids.length} times`;
      this.#refuse(tag, globalId, `its GlobalId ${count}`);
      return null;
    }
    return this.#file.record(id);
  }

  #refuse(tag: string, id: string, reason: string): void {
    this.refused.push({ tag, id, reason });
  }

  #propertySet(edit: IfcTagEdit, carriers: readonly number[]): number | null {
    const properties = edit.fields.map((field) => this.#property(field));
    if (properties.length === 0) return null;
    const set = this.#rooted.add('IfcPropertySet', `${edit.tag}/set`, {
      Name: text(PENETRATION_SET),
      HasProperties: refs(properties),
    });
    this.#rooted.define(`${edit.tag}/set-of`, carriers, set);
    return set;
  }

  #property({ name: propertyName, value }: TagField): number {
    if (value.kind === 'labels') {
      const labels = value.texts.map((label) => typed('IfcLabel', text(label)));
      return this.#lines.add('IfcPropertyListValue', {
        Name: text(propertyName),
        ListValues: list(labels),
      });
    }
    return this.#lines.add('IfcPropertySingleValue', {
      Name: text(propertyName),
      NominalValue: this.#values.token(value),
    });
  }

  #addQuantities(edit: IfcTagEdit, carriers: readonly number[]): void {
    if (edit.quantities.length === 0) return;
    const quantities = edit.quantities.map((field) => {
      const { className, values } = quantityLine(field, this.#values);
      return this.#lines.add(className, values);
    });
    const set = this.#rooted.add('IfcElementQuantity', `${edit.tag}/quantities`, {
      Name: text(QUANTITY_SET),
      MethodOfMeasurement: text('sealbook: net, and with the allowances named in the basis'),
      Quantities: refs(quantities),
    });
    this.#rooted.define(`${edit.tag}/quantities-of`, carriers, set);
  }

  /** One seal element an opening, or one for the penetration where the hole has no element. */
  #addSeals(
    edit: IfcTagEdit,
    openings: readonly { readonly globalId: string; readonly record: StepRecord }[],
    hosts: readonly StepRecord[],
  ): number[] {
    if (!this.#options.seals || edit.seal === null) return [];
    const fillable = openings.filter(({ record }) => this.#isOpening(record));
    if (fillable.length > 0) {
      return fillable.map(({ globalId, record }) => {
        const seal = this.#sealElement(edit, globalId);
        this.#rooted.add('IfcRelFillsElement', `${edit.tag}/${globalId}/fills`, {
          RelatingOpeningElement: ref(record.id),
          RelatedBuildingElement: ref(seal),
        });
        this.#contain(seal, this.#hostOfOpening(record.id) ?? hosts[0]?.id ?? null);
        return seal;
      });
    }
    const [host] = hosts;
    if (host === undefined) return [];
    const seal = this.#sealElement(edit, 'host');
    this.#rooted.add('IfcRelConnectsElements', `${edit.tag}/connects`, {
      Name: text('Seal'),
      RelatingElement: ref(host.id),
      RelatedElement: ref(seal),
    });
    this.#contain(seal, host.id);
    return [seal];
  }

  #isOpening(record: StepRecord): boolean {
    return isKindOf(this.#lines.schema, record.type, 'IFCOPENINGELEMENT');
  }

  /** @source IFC4X3 ADD2, IfcDiscreteAccessoryTypeEnum.FILLER; before it USERDEFINED with a type. */
  #sealElement(edit: IfcTagEdit, part: string): number {
    const kind: Record<string, StepToken> =
      this.#lines.schema === 'IFC2X3'
        ? {}
        : { PredefinedType: name(this.#lines.schema === 'IFC4' ? 'USERDEFINED' : 'FILLER') };
    const seal = this.#rooted.add('IfcDiscreteAccessory', `${edit.tag}/${part}/seal`, {
      Name: text(edit.tag),
      Description: text(edit.seal ?? ''),
      ObjectType: text(SEAL_TYPE),
      Tag: text(edit.tag),
      ...kind,
    });
    this.#seals.push(seal);
    return seal;
  }

  #addProvision(edit: IfcTagEdit, hosts: readonly StepRecord[]): number[] {
    // Without a host of its own the file has nothing to ask for: the host's file has.
    if (!this.#options.provisions || edit.missing === null || edit.hostIds.length === 0) return [];
    const [host] = hosts;
    const { frame } = this.#options;
    if (host === undefined || frame === null || this.#isPlacedByMap(frame)) {
      const reason =
        host === undefined ? 'its host is not in this file' : 'the place of the file is not known';
      this.refused.push({
        tag: edit.tag,
        id: null,
        reason: `no provision for void written: ${reason}`,
      });
      return [];
    }
    const rooted = (className: string, key: string, values: Record<string, StepToken>) =>
      this.#rooted.add(className, `${edit.tag}/${key}`, values);
    const provision = this.#provisions.add(edit.tag, edit.missing, host.id, frame, rooted);
    this.#contain(provision, host.id);
    return [provision];
  }

  /** A model that is not the first may have been moved by its map conversion. */
  #isPlacedByMap({ isLead }: FileFrame): boolean {
    return !isLead && MAP_CLASSES.some((type) => this.#file.idsOf(type).length > 0);
  }

  /** Remembers which tags a service passes, and relates it to the host. */
  #noteServices(edit: IfcTagEdit, hosts: readonly StepRecord[]): void {
    for (const globalId of edit.serviceIds) {
      const service = this.#find(edit.tag, globalId);
      if (service === null) continue;
      const tags = this.#tagsOfService.get(globalId);
      if (tags === undefined) this.#tagsOfService.set(globalId, [edit.tag]);
      else if (!tags.includes(edit.tag)) tags.push(edit.tag);
      for (const host of hosts) this.#addPassing(edit.tag, globalId, service, host);
    }
  }

  /** @source IFC4 ADD2 TC1, IfcRelInterferesElements; IFC2X3 has only IfcRelConnectsElements. */
  #addPassing(tag: string, globalId: string, service: StepRecord, host: StepRecord): void {
    const is2x3 = this.#lines.schema === 'IFC2X3';
    const kind: Record<string, StepToken> = is2x3
      ? { Name: text('PassesThrough') }
      : { Name: text(tag), InterferenceType: text('PassesThrough'), ImpliedOrder: name('U') };
    this.#rooted.add(
      is2x3 ? 'IfcRelConnectsElements' : 'IfcRelInterferesElements',
      `${tag}/${globalId}/${globalIdOf(host)}/passes`,
      { RelatingElement: ref(service.id), RelatedElement: ref(host.id), ...kind },
    );
  }

  #addServiceSet(globalId: string, tags: readonly string[]): void {
    const [id] = this.#file.idsOfGlobalId(globalId);
    if (id === undefined) return;
    const property = this.#property({
      name: 'Penetrations',
      value: { kind: 'labels', texts: tags },
    });
    const set = this.#rooted.add('IfcPropertySet', `service/${globalId}`, {
      Name: text(SERVICE_SET),
      HasProperties: refs([property]),
    });
    this.#rooted.define(`service/${globalId}/set-of`, [id], set);
  }

  #addClassification(): void {
    const { classification } = this.#options;
    if (classification === undefined || this.#seals.length === 0) return;
    const is2x3 = this.#lines.schema === 'IFC2X3';
    const system = this.#lines.add('IfcClassification', {
      ...(is2x3 ? { Source: text(classification.system) } : {}),
      Edition: text(classification.edition),
      Name: text(classification.system),
    });
    const reference = this.#lines.add('IfcClassificationReference', {
      [is2x3 ? 'ItemReference' : 'Identification']: text(classification.code),
      Name: text(classification.title),
      ReferencedSource: ref(system),
    });
    this.#rooted.add('IfcRelAssociatesClassification', 'classification', {
      RelatedObjects: refs(this.#seals),
      RelatingClassification: ref(reference),
    });
  }

  /** Puts an element into the storey of the given one, where the file tells which that is. */
  #contain(element: number, near: number | null): void {
    this.#storeys ??= readStoreys(this.#file, this.#lines.schema);
    const storey = near === null ? undefined : this.#storeys.get(near);
    // A program that saved our lines may have put the element into a storey by a line of its own.
    if (storey === undefined || this.#storeys.has(element)) return;
    const contents = this.#contents.get(storey);
    if (contents === undefined) this.#contents.set(storey, [element]);
    else contents.push(element);
  }

  #hostOfOpening(opening: number): number | null {
    this.#hosts ??= readHosts(this.#file, this.#lines.schema);
    return this.#hosts.get(opening) ?? null;
  }
}
