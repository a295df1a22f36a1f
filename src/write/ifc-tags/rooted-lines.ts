import { stableUuid } from '../../basics/stable-uuid.ts';
import type { StepFile } from '../../formats/ifc/step-file.ts';
import { ifcGlobalId } from '../../formats/ifc/step-global-id.ts';
import {
  name,
  ref,
  refs,
  type StepLines,
  type StepToken,
  text,
} from '../../formats/ifc/step-lines.ts';

/** Writes records that carry a GlobalId and an owner history. */
export class RootedLines {
  readonly #file: StepFile;
  readonly #lines: StepLines;
  readonly #fileKey: string;
  #history: StepToken | null = null;

  constructor(file: StepFile, lines: StepLines, fileKey: string) {
    this.#file = file;
    this.#lines = lines;
    this.#fileKey = fileKey;
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
    return this.#lines.add(className, {
      GlobalId: text(ifcGlobalId(stableUuid(`${this.#fileKey}/${key}`))),
      OwnerHistory: this.#history,
      ...values,
    });
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
