import type { ModelRecords } from './records.ts';
import { refOf, refsOf } from './values.ts';

/**
 * Records of shapes that hold themselves, or whose parts, each counted as often as it is used, are
 * more than `most`. A geometry engine makes every part anew: thirty records, each naming the next one
 * twice, are a thousand million bodies.
 */
export function endlessShapes(step: ModelRecords, most: number): readonly number[] {
  const sizes = new Map<number, number>();
  const starts = Object.keys(PARTS).flatMap((type) => step.idsOf(type));
  for (const start of starts) measure(step, start, sizes);
  return starts.filter((id) => (sizes.get(id) ?? 0) > most);
}

/** Which attribute holds the parts, by type. Records of other types end the count. */
const PARTS: Readonly<Record<string, readonly number[]>> = {
  IFCBOOLEANRESULT: [1, 2],
  IFCBOOLEANCLIPPINGRESULT: [1, 2],
  IFCCSGSOLID: [0],
  IFCMAPPEDITEM: [0],
  IFCREPRESENTATIONMAP: [1],
  IFCSHAPEREPRESENTATION: [3],
  IFCCOMPOSITEPROFILEDEF: [2],
  IFCDERIVEDPROFILEDEF: [2],
  IFCMIRROREDPROFILEDEF: [2],
  IFCCOMPOSITECURVE: [0],
  IFC2DCOMPOSITECURVE: [0],
  IFCCOMPOSITECURVEONSURFACE: [0],
  IFCCOMPOSITECURVESEGMENT: [2],
  IFCREPARAMETRISEDCOMPOSITECURVESEGMENT: [2],
  IFCTRIMMEDCURVE: [0],
  IFCOFFSETCURVE2D: [0],
  IFCOFFSETCURVE3D: [0],
};

/**
 * Sizes of a record and all below it: 1 and those of its parts, infinite in a ring. Without recursion,
 * since a chain may be as long as the file.
 */
function measure(step: ModelRecords, start: number, sizes: Map<number, number>): void {
  const open: { readonly id: number; readonly parts: readonly number[]; next: number }[] = [];
  const enter = (id: number): void => {
    // Met again before it is known, it is part of itself.
    sizes.set(id, Number.POSITIVE_INFINITY);
    open.push({ id, parts: partsOf(step, id), next: 0 });
  };
  if (!sizes.has(start)) enter(start);
  for (let top = open[open.length - 1]; top !== undefined; top = open[open.length - 1]) {
    const part = top.parts[top.next];
    top.next += 1;
    if (part === undefined) {
      sizes.set(
        top.id,
        top.parts.reduce((sum, each) => sum + (sizes.get(each) ?? 1), 1),
      );
      open.pop();
    } else if (!sizes.has(part) && PARTS[step.typeOf(part)] !== undefined) enter(part);
  }
}

function partsOf(step: ModelRecords, id: number): readonly number[] {
  const attributes = step.attributes(id);
  return (PARTS[step.typeOf(id)] ?? []).flatMap((at) => {
    const one = refOf(attributes[at]);
    return one === null ? refsOf(attributes[at]) : [one];
  });
}
