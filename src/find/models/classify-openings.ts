import { shapeExtentMm } from '../../geometry/shape.ts';
import type { OpeningOutcome } from '../../model/penetration.ts';
import type { Settings } from '../../model/settings.ts';
import type { HostBody } from './host-body.ts';
import type { OpeningBody } from './opening-body.ts';

export interface OpeningClass {
  readonly outcome: OpeningOutcome;
  readonly reason: string | null;
  /** Whether it makes or joins a penetration. */
  readonly takesPart: boolean;
  /** Whether a service that passes it is left out, since it is no hole to be sealed. */
  readonly swallows: boolean;
}

/** What an opening is: a hole to be sealed, or a niche, a shaft, a door. */
export function classifyOpening(
  opening: OpeningBody,
  hosts: readonly HostBody[],
  settings: Settings,
): OpeningClass {
  const { fillingClasses, name, hostIds, voidedClasses = [] } = opening.opening;
  if (fillingClasses.some((filling) => /door|window/i.test(filling))) {
    return no('doorsWindows', `It is filled by ${fillingClasses.join(', ')}.`, true);
  }
  if (hostIds.length === 0 && voidedClasses.length > 0) {
    return no('excluded', `It voids ${voidedClasses.join(', ')}, which is no host.`, false);
  }
  if (opening.spans.length === 0) {
    const reason =
      hostIds.length === 0
        ? 'It lies in no host.'
        : 'It does not meet the host it voids, or that host has no usable body or is too thin.';
    return no('noHost', reason, false);
  }
  if (!opening.spans.some(({ isThrough }) => isThrough)) {
    const deep = Math.round(opening.toMm - opening.fromMm);
    if (settings.find.sealRecesses) return yes();
    return no('recess', `It does not go through its host (${deep} mm deep): a recess.`, false);
  }
  if (isShaft(opening, hosts, settings, name) && !settings.find.sealShafts) {
    return no('shaft', 'A void of a stair, lift or riser by its size or name: a shaft.', true);
  }
  return yes();
}

function isShaft(
  opening: OpeningBody,
  hosts: readonly HostBody[],
  settings: Settings,
  name: string,
): boolean {
  const isInSlab = opening.spans.some(({ host }) => {
    const kind = hosts[host]?.host.kind;
    return kind === 'slab' || kind === 'roof';
  });
  if (!isInSlab || opening.shape === null) return false;
  const { widthMm, heightMm } = shapeExtentMm(opening.shape);
  const isLarge = widthMm > settings.find.shaftFromMm && heightMm > settings.find.shaftFromMm;
  return isLarge || /\b(stairs?|staircase|lift|elevator|shaft)\b/i.test(name);
}

function yes(): OpeningClass {
  return { outcome: 'inPenetration', reason: null, takesPart: true, swallows: false };
}

function no(outcome: OpeningOutcome, reason: string, swallows: boolean): OpeningClass {
  return { outcome, reason, takesPart: false, swallows };
}
