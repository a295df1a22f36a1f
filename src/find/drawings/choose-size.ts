import { distance2, type Vec2 } from '../../geometry/vec.ts';
import type { Section, ServiceKind, SizeBasis } from '../../model/building.ts';
import type { SizeChoice } from './crossing-draft.ts';
import { type Label, labelEvidence } from './labels.ts';
import type { LabelSize } from './read-label.ts';

/** Labels as good as each other: distances within this ratio. */
const AS_NEAR_RATIO = 1.5;
/** A drawn width and a written one agree within this. */
const SAME_SIZE_RATIO = 0.03;

/**
 * The size of what passes at a place: attributes first, then leaders and texts by nearness, then
 * what is drawn. A second reading that is as good and says another size is the rival.
 */
export function chooseSize(
  labels: readonly Label[],
  place: Vec2,
  kind: ServiceKind,
  drawnWidthMm: number | null,
): SizeChoice {
  const nearest = [...labels].sort((a, b) => rank(a, place) - rank(b, place));
  const sized = nearest.flatMap((label) =>
    label.reading.sizes.slice(0, 1).map((size) => ({ label, size })),
  );
  const [first] = sized;
  const counted = nearest.find((label) => label.reading.count !== null);
  const count = Math.max(1, first?.label.reading.count ?? counted?.reading.count ?? 1);
  if (first === undefined) {
    const section = sectionOfWidth(drawnWidthMm, kind);
    return {
      section,
      basis: section === null ? 'unknown' : 'outside',
      evidence: [],
      rival: null,
      count,
      label: null,
    };
  }
  const others = sized.filter(
    ({ label, size }) =>
      label !== first.label &&
      isAsGood(label, first.label, place) &&
      !isSameSize(size.section, first.size.section),
  );
  const [other] = others;
  return {
    section: first.size.section,
    basis: basisFor(first.size, kind),
    evidence: [labelEvidence(first.label, 'size')],
    rival: other === undefined ? null : { section: other.size.section, label: other.label },
    count,
    label: first.label,
  };
}

/** An attribute and a text beside the same crossing should agree, whichever is nearer. */
const BESIDE_MM = 1500;

function isAsGood(label: Label, first: Label, place: Vec2): boolean {
  const isOtherKind = (label.from === 'attribute') !== (first.from === 'attribute');
  if (isOtherKind) return distance2(label.placeMm, place) <= BESIDE_MM;
  return rank(label, place) <= rank(first, place) * AS_NEAR_RATIO + 1;
}

/** Attributes and leaders name what they stand at; a text is as good as it is near. */
function rank(label: Label, place: Vec2): number {
  const distance = distance2(label.placeMm, place);
  return label.from === 'text' ? distance + label.distanceMm : distance * 0.5;
}

function basisFor(size: LabelSize, kind: ServiceKind): SizeBasis {
  if (size.basis !== 'unknown') return size.basis;
  // A cable's or tray's size is its outside; a duct's or pipe's names its series.
  return kind === 'cable' || kind === 'carrier' || size.section.type === 'rectangle'
    ? 'outside'
    : 'nominal';
}

function sectionOfWidth(widthMm: number | null, kind: ServiceKind): Section | null {
  if (widthMm === null) return null;
  // Two edges of a round body are its diameter; a tray's height does not show in a plan.
  return kind === 'carrier' || kind === 'duct' ? null : { type: 'circle', diameterMm: widthMm };
}

export function isSameSize(a: Section, b: Section): boolean {
  const near = (x: number, y: number) => Math.abs(x - y) <= SAME_SIZE_RATIO * Math.max(x, y);
  if (a.type === 'circle' && b.type === 'circle') return near(a.diameterMm, b.diameterMm);
  if (a.type === 'rectangle' && b.type === 'rectangle') {
    return near(a.widthMm, b.widthMm) && near(a.heightMm, b.heightMm);
  }
  return false;
}

/** Half the size across the axis in the plane of the drawing, mm. */
export function halfWidthMm(section: Section | null): number {
  if (section === null) return 0;
  return (section.type === 'circle' ? section.diameterMm : section.widthMm) / 2;
}
