import type { Settings } from '../model/settings.ts';
import type { SealSubject } from './seal-subject.ts';

/**
 * Whether room for later cables is asked of a leak path: where cables pass or may come. Round
 * pipes, ducts and conduits alone nobody draws a cable.
 */
export function hasSparePolicy(
  { path, passing }: Pick<SealSubject, 'path' | 'passing'>,
  { spare }: Pick<Settings['design'], 'spare'>,
): boolean {
  const isForCables =
    path === 'bore' ||
    passing.length === 0 ||
    passing.some(
      ({ cable, crossing }) => cable !== null || crossing === null || crossing.kind === 'cable',
    );
  return spare.count > 0 && isForCables;
}
