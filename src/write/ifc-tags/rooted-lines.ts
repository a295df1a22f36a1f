import type { StepFile } from '../../formats/ifc/step-file.ts';
import {
  name,
  ref,
  refs,
  type StepLines,
  type StepToken,
  text,
} from '../../formats/ifc/step-lines.ts';
import { ownGlobalId } from './own-global-id.ts';

/** Writes records that carry a GlobalId and an owner history. */
export class RootedLines {
  readonly #file: StepFile;
  readonly #lines: StepLines;
  readonly #fileKey: string;
  readonly #pinned: ReadonlyMap<string, number>;
  #history: StepToken | null = null;

  /** @param pinned Numbers under which records of these GlobalIds are written again. */
  constructor(
    file: StepFile,
    lines: StepLines,
    fileKey: string,
    pinned: ReadonlyMap<string, number>,
  ) {
    this.#file = file;
    this.#lines = lines;
    this.#fileKey = fileKey;
    this.#pinned = pinned;
  }

  /** Relates a set of properties or quantities to what carries it. */
  define(key: string, carriers: readonly number[], set: number): void {
    this.add('IfcRelDefinesByProperties', key, {
      RelatedObjects: refs(carriers),
      RelatingPropertyDefinition: ref(set),
    });
  }

  /** Writes a record with a GlobalId that follows from the file's key and `key`; gives its number. */
  add(className: string, key: string, values: Readonly<Record<string, StepToken>>): number {
    this.#history ??= this.#ownerHistory();
    const globalId = ownGlobalId(`${this.#fileKey}/${key}`);
    const all = { GlobalId: text(globalId), OwnerHistory: this.#history, ...values };
    const pinned = this.#pinned.get(globalId);
    if (pinned === undefined) return this.#lines.add(className, all);
    this.#lines.replace(pinned, className, all);
    return pinned;
  }

  /** The file's own; IFC2X3 demands one, so there a file without any gets one from us. */
  #ownerHistory(): StepToken {
    const [known] = this.#file.idsOf('IFCOWNERHISTORY');
    if (known !== undefined) return ref(known);
    if (this.#lines.schema !== 'IFC2X3') return '$';
    const person = this.#lines.add('IfcPerson', { FamilyName: text('not stated') });
    const organization = this.#lines.add('IfcOrganization', { Name: text('not stated') });
    const user = this.#lines.add('IfcPersonAndOrganization', {
      ThePerson: ref(person),
      TheOrganization: ref(organization),
    });
    const application = this.#lines.add('IfcApplication', {
      ApplicationDeveloper: ref(organization),
      Version: text('1'),
      ApplicationFullName: text('sealbook'),
      ApplicationIdentifier: text('sealbook'),
    });
    const history = this.#lines.add('IfcOwnerHistory', {
      OwningUser: ref(user),
      OwningApplication: ref(application),
      ChangeAction: name('ADDED'),
      CreationDate: '0',
    });
    return ref(history);
  }
}
