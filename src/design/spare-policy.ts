import type { Settings } from '../model/settings.ts';
import type { SealSubject } from './seal-subject.ts';

/**
 * Whether later cables are a question of this leak path: where cables pass or may come. Round
 * pipes, ducts and conduits alone nobody draws a cable.
 */
export function mayTakeCables({ path, passing }: Pick<SealSubject, 'path' | 'passing'>): boolean {
  return (
    path === 'bore' ||
    passing.length === 0 ||
    passing.some(
      ({ cable, crossing }) => cable !== null || crossing === null || crossing.kind === 'cable',
    )
  );
}

/** Whether room for later cables is asked of a leak path. */
export function hasSparePolicy(
  subject: Pick<SealSubject, 'path' | 'passing'>,
  { spare }: Pick<Settings['design'], 'spare'>,
): boolean {
  return spare.count > 0 && mayTakeCables(subject);
}
