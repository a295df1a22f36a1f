import type { Joint } from '../../model/building.ts';
import { elementId } from '../../model/ids.ts';
import { type Reading, refFor } from './reading.ts';

/** Joints between services, through other elements (dampers, valves, boxes) too. */
export function readJoints(
  reading: Reading,
  services: readonly { readonly id: number }[],
): readonly Joint[] {
  const { relations } = reading;
  const isService = new Set(services.map(({ id }) => id));
  const neighbours = new Map<number, Set<number>>();
  const joints = new Map<string, Joint>();
  const add = (a: number, b: number): void => {
    if (a === b) return;
    const ids = [elementId(refFor(reading, a)), elementId(refFor(reading, b))].sort();
    const [first, second] = ids;
    if (first !== undefined && second !== undefined) {
      joints.set(`${first} ${second}`, { serviceIds: [first, second] });
    }
  };
  const join = (a: number | undefined, b: number | undefined): void => {
    if (a === undefined || b === undefined) return;
    if (isService.has(a) && isService.has(b)) {
      add(a, b);
      return;
    }
    for (const [via, end] of [
      [a, b],
      [b, a],
    ] as const) {
      if (isService.has(via) || !isService.has(end)) continue;
      neighbours.set(via, (neighbours.get(via) ?? new Set()).add(end));
    }
  };
  for (const [a, b] of relations.connectedPorts) {
    join(relations.elementOfPort.get(a), relations.elementOfPort.get(b));
  }
  for (const [a, b] of relations.connectedElements) join(a, b);
  for (const ends of neighbours.values()) {
    // Boards and machines join many services that are no run.
    if (ends.size !== 2) continue;
    const [a, b] = [...ends];
    if (a !== undefined && b !== undefined) add(a, b);
  }
  return [...joints].sort(([a], [b]) => (a < b ? -1 : 1)).map(([, joint]) => joint);
}
