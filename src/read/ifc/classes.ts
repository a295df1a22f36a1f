import type { CarrierForm, HostKind, ServiceKind } from '../../model/building.ts';
import type { Settings } from '../../model/settings.ts';
import type { ElementFacts } from './element-facts.ts';

/** Classes that are hosts without being named in the settings, in capitals. */
const HOST_CLASSES: ReadonlyMap<string, HostKind> = new Map([
  ['IFCWALL', 'wall'],
  ['IFCWALLSTANDARDCASE', 'wall'],
  ['IFCWALLELEMENTEDCASE', 'wall'],
  ['IFCSLAB', 'slab'],
  ['IFCSLABSTANDARDCASE', 'slab'],
  ['IFCSLABELEMENTEDCASE', 'slab'],
  ['IFCROOF', 'roof'],
  ['IFCFOOTING', 'footing'],
  ['IFCDISTRIBUTIONCHAMBERELEMENT', 'chamber'],
]);

/** Classes whose elements may separate spaces, though by themselves they count as no hosts. */
export const MAY_SEPARATE: readonly string[] = [
  'IFCPLATE',
  'IFCPLATESTANDARDCASE',
  'IFCCOVERING',
  'IFCCURTAINWALL',
  'IFCMEMBER',
  'IFCMEMBERSTANDARDCASE',
  'IFCBUILDINGELEMENTPROXY',
];

interface ServiceClass {
  readonly role: 'segment' | 'fitting';
  readonly kind: ServiceKind | null;
}

/** Classes that are services; a null kind is told from the type, the system or the name. */
const SERVICE_CLASSES: ReadonlyMap<string, ServiceClass> = new Map([
  ['IFCCABLESEGMENT', { role: 'segment', kind: 'cable' }],
  ['IFCCABLEFITTING', { role: 'fitting', kind: 'cable' }],
  ['IFCCABLECARRIERSEGMENT', { role: 'segment', kind: 'carrier' }],
  ['IFCCABLECARRIERFITTING', { role: 'fitting', kind: 'carrier' }],
  ['IFCDUCTSEGMENT', { role: 'segment', kind: 'duct' }],
  ['IFCDUCTFITTING', { role: 'fitting', kind: 'duct' }],
  ['IFCPIPESEGMENT', { role: 'segment', kind: 'pipe' }],
  ['IFCPIPEFITTING', { role: 'fitting', kind: 'pipe' }],
  ['IFCFLOWSEGMENT', { role: 'segment', kind: null }],
  ['IFCFLOWFITTING', { role: 'fitting', kind: null }],
]);

const OPENING_CLASSES: ReadonlySet<string> = new Set([
  'IFCOPENINGELEMENT',
  'IFCOPENINGSTANDARDCASE',
]);

/** Kinds by the class of the type, for IFC2X3 and for generic segments. */
const TYPE_KINDS: ReadonlyMap<string, ServiceKind> = new Map([
  ['IFCCABLESEGMENTTYPE', 'cable'],
  ['IFCCABLEFITTINGTYPE', 'cable'],
  ['IFCCABLECARRIERSEGMENTTYPE', 'carrier'],
  ['IFCCABLECARRIERFITTINGTYPE', 'carrier'],
  ['IFCDUCTSEGMENTTYPE', 'duct'],
  ['IFCDUCTFITTINGTYPE', 'duct'],
  ['IFCPIPESEGMENTTYPE', 'pipe'],
  ['IFCPIPEFITTINGTYPE', 'pipe'],
]);

/** Words that tell a kind, strongest first: "conduit" before "cable" in "cable conduit". */
const KIND_WORDS: readonly (readonly [RegExp, ServiceKind])[] = [
  [/\bconduits?\b/i, 'conduit'],
  [/\b(cable[\s_-]*)?(trays?|ladders?|trunking|baskets?|raceways?|wireways?)\b/i, 'carrier'],
  [/\bcable[\s_-]*carrier/i, 'carrier'],
  [/\b(cables?|wires?|wiring|busbars?)\b/i, 'cable'],
  [
    /\b(ducts?|ductwork|supply[\s_-]*air|return[\s_-]*air|exhaust[\s_-]*air|ventilation)\b/i,
    'duct',
  ],
  [
    /\b(pipes?|pipework|piping|drain(age)?|sprinklers?|domestic|hydronic|sanitary|plumbing)\b/i,
    'pipe',
  ],
];

const CARRIER_WORDS: readonly (readonly [RegExp, CarrierForm])[] = [
  [/ladder/i, 'ladder'],
  [/trunking|raceway|wireway/i, 'trunking'],
  [/tray|basket/i, 'tray'],
];

export interface Classes {
  readonly hosts: ReadonlyMap<string, HostKind>;
  readonly services: ReadonlyMap<string, ServiceClass>;
  readonly openings: ReadonlySet<string>;
  /** Services left out by the settings, still in the ledger. */
  readonly excludedServices: ReadonlySet<string>;
}

/** The classes that count, with the settings' own added and taken away. */
export function classesFor(settings: Settings): Classes {
  const hosts = new Map(HOST_CLASSES);
  for (const name of settings.hosts.classes) {
    const key = name.toUpperCase();
    if (!hosts.has(key)) hosts.set(key, 'other');
  }
  for (const name of settings.hosts.excludeClasses) hosts.delete(name.toUpperCase());
  const services = new Map(SERVICE_CLASSES);
  for (const { class: name, kind } of settings.services.classes) {
    services.set(name.toUpperCase(), {
      role: /FITTING/i.test(name) ? 'fitting' : 'segment',
      kind,
    });
  }
  return {
    hosts,
    services,
    openings: OPENING_CLASSES,
    excludedServices: new Set(settings.services.excludeClasses.map((name) => name.toUpperCase())),
  };
}

export interface ServiceIdentity {
  readonly kind: ServiceKind;
  readonly carrierForm: CarrierForm | null;
  /** What told the kind, for evidence. */
  readonly toldBy: string;
  readonly isGuess: boolean;
}

/**
 * What a service is: by its class, its type's class, its predefined type, then words in its names
 * and systems, and last the form of its section.
 */
export function identifyService(
  known: ServiceKind | null,
  facts: ElementFacts,
  systems: readonly string[],
  isRound: boolean | null,
): ServiceIdentity {
  const typed = TYPE_KINDS.get(facts.typeClass) ?? null;
  const base = known ?? typed;
  const words = [
    facts.predefined ?? '',
    facts.typeName ?? '',
    facts.objectType ?? '',
    facts.name,
    ...systems,
  ];
  if (base === 'carrier') return carrierIdentity(facts, words, isRound);
  if (base !== null) {
    return {
      kind: base,
      carrierForm: null,
      toldBy: known === null ? `its type ${facts.typeClass}` : 'its class',
      isGuess: false,
    };
  }
  for (const text of words) {
    for (const [word, kind] of KIND_WORDS) {
      if (!word.test(text.replaceAll('_', ' '))) continue;
      const carrierForm = kind === 'carrier' ? formIn([text]) : null;
      return { kind, carrierForm, toldBy: `the text "${text}"`, isGuess: false };
    }
  }
  return {
    kind: isRound === false ? 'duct' : 'pipe',
    carrierForm: null,
    toldBy: 'the form of its section only',
    isGuess: true,
  };
}

function carrierIdentity(
  facts: ElementFacts,
  words: readonly string[],
  isRound: boolean | null,
): ServiceIdentity {
  const predefined = facts.predefined ?? '';
  if (predefined.startsWith('CONDUIT')) {
    return { kind: 'conduit', carrierForm: null, toldBy: 'its predefined type', isGuess: false };
  }
  const form = formIn([predefined]);
  if (form !== null) {
    return { kind: 'carrier', carrierForm: form, toldBy: 'its predefined type', isGuess: false };
  }
  const named = formIn(words);
  const isConduit = words.some((word) => /conduit/i.test(word));
  if (isConduit && named === null) {
    return { kind: 'conduit', carrierForm: null, toldBy: 'its name', isGuess: false };
  }
  if (named !== null) {
    return { kind: 'carrier', carrierForm: named, toldBy: 'its name', isGuess: false };
  }
  if (isRound === true) {
    return { kind: 'conduit', carrierForm: null, toldBy: 'its round section', isGuess: true };
  }
  return { kind: 'carrier', carrierForm: null, toldBy: 'its class', isGuess: false };
}

function formIn(words: readonly string[]): CarrierForm | null {
  for (const text of words) {
    for (const [word, form] of CARRIER_WORDS) if (word.test(text)) return form;
  }
  return null;
}

/**
 * Whether an element asks for a void that is not cut: by predefined type, or by convention in its
 * texts. A property set for such provisions says nothing: some programs hang it on every proxy.
 */
export function isProvision(ifcClass: string, facts: ElementFacts): boolean {
  if (ifcClass !== 'IFCBUILDINGELEMENTPROXY' && ifcClass !== 'IFCVIRTUALELEMENT') return false;
  if (facts.predefined === 'PROVISIONFORVOID') return true;
  const texts = [facts.objectType, facts.typeName, facts.name, facts.description];
  return texts.some((text) => text !== null && /provision[\s_-]*for[\s_-]*void/i.test(text));
}
