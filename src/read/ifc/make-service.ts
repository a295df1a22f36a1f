import type { Evidence } from '../../basics/evidence.ts';
import type { Reference, Section, Service, ServiceKind, SizeBasis } from '../../model/building.ts';
import { identifyService } from './classes.ts';
import { type ElementFacts, propertyLengthMm } from './element-facts.ts';
import type { ServiceForm } from './service-form.ts';
import type { ModelUnits } from './units.ts';
import { textOf } from './values.ts';

/** What one service is made from. */
export interface ServiceParts {
  readonly id: string;
  readonly fileKey: string;
  readonly ifcClass: string;
  readonly role: 'segment' | 'fitting';
  readonly knownKind: ServiceKind | null;
  readonly facts: ElementFacts;
  readonly form: ServiceForm;
  readonly mesh: Service['mesh'];
  readonly systems: readonly string[];
  readonly storeyId: string | null;
  readonly material: string | null;
  readonly units: ModelUnits;
  readonly elementKey: string;
}

export const OUTSIDE_NAMES = [
  'OverallDiameter',
  'OuterDiameter',
  'OutsideDiameter',
  'Outside Diameter',
];
const BORE_NAMES = ['InnerDiameter', 'InsideDiameter', 'Inside Diameter'];
export const NOMINAL_NAMES = [
  'NominalDiameter',
  'NominalWidthOrDiameter',
  'NominalDiameterOrWidth',
];
const REFERENCE_NAMES = [
  'Reference',
  'Mark',
  'Tag',
  'CableReference',
  'Cable Reference',
  'CircuitReference',
  'Circuit Number',
  'CircuitNumber',
  'Route',
  'Service Reference',
  'AssetIdentifier',
];

/** One service of the building from what was read of it. */
export function makeService(parts: ServiceParts): Service {
  const { facts, form } = parts;
  const place = { fileKey: parts.fileKey, id: facts.globalId };
  const round = form.section === null ? null : form.section.type === 'circle';
  const identity = identifyService(parts.knownKind, facts, parts.systems, round);
  const size = chooseSize(form, facts, parts.units);
  const evidence: Evidence[] = [
    {
      fact: 'service',
      text: `${parts.ifcClass}: ${identity.kind}, told by ${identity.toldBy}.`,
      place,
    },
  ];
  if (size.section !== null) evidence.push({ fact: 'size', text: size.text, place });
  return {
    id: parts.id,
    ref: { fileKey: parts.fileKey, id: parts.elementKey },
    kind: identity.kind,
    role: parts.role,
    carrierForm: identity.carrierForm,
    ifcClass: parts.ifcClass,
    name: facts.name,
    tag: facts.tag,
    storeyId: parts.storeyId,
    axisMm: form.axisMm,
    upDirection: form.upDirection,
    section: size.section,
    sizeBasis: size.basis,
    boreMm: size.boreMm,
    material: parts.material,
    mesh: parts.mesh,
    references: referencesOf(facts, parts.fileKey),
    systems: parts.systems,
    evidence,
  };
}

interface ChosenSize {
  readonly section: Section | null;
  readonly basis: SizeBasis;
  readonly boreMm: number | null;
  readonly text: string;
}

/** The body's own outline first; a property only where there is none. */
function chooseSize(form: ServiceForm, facts: ElementFacts, units: ModelUnits): ChosenSize {
  const outside = propertyLengthMm(facts, OUTSIDE_NAMES, units);
  const bore = propertyLengthMm(facts, BORE_NAMES, units);
  const nominal = propertyLengthMm(facts, NOMINAL_NAMES, units);
  const boreMm = form.boreMm ?? bore?.valueMm ?? null;
  if (form.section !== null) {
    return { section: form.section, basis: 'outside', boreMm, text: `Outside from ${form.how}.` };
  }
  const circle = (diameterMm: number): Section => ({ type: 'circle', diameterMm });
  if (outside !== null) {
    const text = `Outside from the property ${outside.name}.`;
    return { section: circle(outside.valueMm), basis: 'outside', boreMm, text };
  }
  if (nominal !== null) {
    const text = `Only a nominal size, from the property ${nominal.name}.`;
    return { section: circle(nominal.valueMm), basis: 'nominal', boreMm, text };
  }
  return { section: null, basis: 'unknown', boreMm, text: '' };
}

/** Texts that may name an element in the schedule or on site. */
export function referencesOf(facts: ElementFacts, fileKey: string): readonly Reference[] {
  const references: Reference[] = [];
  const seen = new Set<string>();
  const add = (text: string | null, what: string): void => {
    const clean = text?.trim() ?? '';
    if (clean === '' || clean.length > 200 || seen.has(clean)) return;
    seen.add(clean);
    references.push({
      text: clean,
      evidence: {
        fact: 'reference',
        text: `${what} reads "${clean}".`,
        place: { fileKey, id: facts.globalId },
      },
    });
  };
  add(facts.name, 'Its name');
  add(facts.tag, 'Its tag');
  add(facts.description, 'Its description');
  for (const name of REFERENCE_NAMES) {
    for (const property of facts.properties) {
      if (property.onType || property.name.toLowerCase() !== name.toLowerCase()) continue;
      add(textOf(property.value), `The property ${property.set}.${property.name}`);
    }
  }
  return references;
}
