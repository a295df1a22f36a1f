import type { Shape } from '../geometry/shape.ts';
import { matchesPattern } from '../model/layer-role.ts';
import { lowestPointMm } from '../model/lowest-point.ts';
import type { Penetration } from '../model/penetration.ts';
import { roomNames } from '../model/room-names.ts';
import type { Duty } from '../model/seal.ts';
import type { DutyRule, Settings } from '../model/settings.ts';
import { parseFireRating } from './fire-rating.ts';

/**
 * What the seals of a penetration must resist, and why: the rules of the project file, the host's
 * fire rating, the ground and water levels, and for an external host air and pests where the
 * project file has no rule for them. What is asked for twice stands once, with the first reason.
 */
export function dutiesOf(
  found: Penetration,
  settings: Settings,
  /** The opening that is sealed: the needed one where none is provided. */
  opening: Shape | null = found.shape,
): Duty[] {
  const penetration = { ...found, shape: opening };
  const ruled = new Set(settings.duties.map(({ duty }) => duty));
  return withoutRepeats([
    ...settings.duties
      .filter((rule) => holds(rule.when, penetration, settings))
      .map((rule) => ruledDuty(rule, penetration)),
    ...ratedDuties(penetration),
    ...externalDuties(penetration).filter(({ kind }) => !ruled.has(kind)),
    ...groundDuties(penetration, settings),
  ]);
}

/** One without a side repeats one with a side. */
function withoutRepeats(duties: readonly Duty[]): Duty[] {
  const isRepeat = (duty: Duty, other: Duty) =>
    duty.kind === other.kind &&
    duty.headM === other.headM &&
    duty.rating === other.rating &&
    (duty.side === null || duty.side === other.side);
  return duties.filter(
    (duty, at) =>
      !duties.some(
        (other, otherAt) =>
          otherAt !== at && isRepeat(duty, other) && (otherAt < at || !isRepeat(other, duty)),
      ),
  );
}

/** Whether any host of the penetration is said to be external; null when none says. */
function isExternal(penetration: Penetration): boolean | null {
  const said = penetration.hosts.flatMap(({ isExternal: is }) => (is === null ? [] : [is]));
  return said.length === 0 ? null : said.some((is) => is);
}

/** Whether the hole's lowest point lies below the ground; null when no ground level is given. */
function isBelowGround(penetration: Penetration, settings: Settings): boolean | null {
  const { levelMm } = settings.ground;
  return levelMm === undefined ? null : lowestPointMm(penetration) < levelMm;
}

function holds(when: DutyRule['when'], penetration: Penetration, settings: Settings): boolean {
  const { where, hosts } = penetration;
  if (when.level !== undefined && !fits(when.level, [where.level])) return false;
  if (
    when.host !== undefined &&
    !fits(
      when.host,
      hosts.map(({ name }) => name),
    )
  )
    return false;
  if (when.zone !== undefined && !isInZone(when.zone, penetration, settings)) return false;
  if (when.external !== undefined && (isExternal(penetration) ?? false) !== when.external) {
    return false;
  }
  if (
    when.belowGround !== undefined &&
    (isBelowGround(penetration, settings) ?? false) !== when.belowGround
  ) {
    return false;
  }
  const isRated = hosts.some(({ fireRating }) => hasText(fireRating));
  return when.rated === undefined || when.rated === isRated;
}

function isInZone(name: string, penetration: Penetration, settings: Settings): boolean {
  const { where } = penetration;
  const modelled = [...(where.zones?.near ?? []), ...(where.zones?.far ?? [])];
  if (fits(name, modelled)) return true;
  const rooms = [where.spaces.near, where.spaces.far].flatMap(roomNames);
  return settings.zones
    .filter((zone) => fits(name, [zone.name]))
    .some(
      (zone) =>
        (zone.level === undefined || fits(zone.level, [where.level])) &&
        (zone.space === undefined || fits(zone.space, rooms)),
    );
}

function fits(pattern: string, texts: readonly (string | null)[]): boolean {
  return texts.some((text) => text !== null && matchesPattern(text, pattern));
}

function ruledDuty(rule: DutyRule, penetration: Penetration): Duty {
  const side = rule.side === 'outside' ? penetration.where.outside : (rule.side ?? null);
  const water = rule.waterLevelMm;
  const headM =
    water === undefined
      ? (rule.headM ?? null)
      : Math.max(0, (water - lowestPointMm(penetration)) / 1000);
  return {
    kind: rule.duty,
    headM,
    ...(water === undefined ? {} : { headIs: 'from level' as const, waterLevelMm: water }),
    side,
    rating: rule.rating ?? (rule.duty === 'fire' ? (ratedHost(penetration)?.rating ?? null) : null),
    reason: `rule of the project file${conditionText(rule.when)}`,
  };
}

function conditionText(when: DutyRule['when']): string {
  const parts = Object.entries(when).map(([field, value]) => `${field} ${String(value)}`);
  return parts.length === 0 ? '' : ` (${parts.join(', ')})`;
}

/** The host rated highest, with its rating: what separates is as good as its best layer. */
function ratedHost({ hosts }: Penetration): { name: string; rating: string } | null {
  const rated = hosts.flatMap(({ name, fireRating }) =>
    hasText(fireRating) ? [{ name, rating: fireRating }] : [],
  );
  const minutes = (host: { rating: string }) => parseFireRating(host.rating)?.minutes ?? 0;
  return rated.sort((a, b) => minutes(b) - minutes(a))[0] ?? null;
}

/** "0", "none" and the like say that a host is not rated. */
function hasText(rating: string | null): rating is string {
  return rating !== null && !/^\s*(?:|-|0|none|no|n\/a|nr|not rated|unrated)\s*$/i.test(rating);
}

function ratedDuties(penetration: Penetration): Duty[] {
  const host = ratedHost(penetration);
  if (host === null) return [];
  const { name, rating } = host;
  const reason = `host ${name} is rated ${rating}`.replace('  ', ' ');
  return [
    {
      kind: 'fire',
      headM: null,
      side: null,
      rating,
      reason: reason + weakerText(penetration, rating),
    },
  ];
}

/** Of several layers those rated lower, or not at all: the assembly may hold no longer than they do. */
function weakerText({ hosts }: Penetration, best: string): string {
  const weaker = hosts.filter(({ fireRating }) => fireRating !== best);
  if (weaker.length === 0) return '';
  const each = weaker.map(({ name, kind, fireRating }) => {
    return `${name.trim() === '' ? kind : name} ${hasText(fireRating) ? fireRating : 'not rated'}`;
  });
  return `; weaker layers: ${each.join(', ')}`;
}

function externalDuties(penetration: Penetration): Duty[] {
  if (isExternal(penetration) !== true) return [];
  const side = penetration.where.outside;
  const reason = 'host is external';
  return (['air', 'pests'] as const).map((kind) => ({
    kind,
    headM: null,
    side,
    rating: null,
    reason,
  }));
}

/** Ground and water press on what is outside; an inner wall of the same storey stays dry. */
function groundDuties(penetration: Penetration, settings: Settings): Duty[] {
  const touchesGround =
    isExternal(penetration) === true ||
    penetration.hosts.some(({ kind }) => kind === 'chamber' || kind === 'footing');
  if (!touchesGround) return [];
  return [...outsideWater(penetration, settings), ...insideWater(penetration, settings)];
}

/** Water that stands inside presses the other way; the two are never set off against each other. */
function insideWater(penetration: Penetration, settings: Settings): Duty[] {
  const levelMm = settings.ground.insideWaterLevelMm;
  const { outside } = penetration.where;
  const side = outside === null ? null : outside === 'near' ? 'far' : 'near';
  return levelMm === undefined ? [] : waterBelow(penetration, levelMm, side, ' inside');
}

function outsideWater(penetration: Penetration, settings: Settings): Duty[] {
  const { waterLevelMm } = settings.ground;
  const side = penetration.where.outside;
  if (waterLevelMm !== undefined) return waterBelow(penetration, waterLevelMm, side, '');
  if (isBelowGround(penetration, settings) !== true) return [];
  const reason = 'below ground, water level not given';
  return [{ kind: 'water', headM: null, side, rating: null, reason }];
}

function waterBelow(
  penetration: Penetration,
  waterLevelMm: number,
  side: Duty['side'],
  where: string,
): Duty[] {
  const headM = (waterLevelMm - lowestPointMm(penetration)) / 1000;
  if (headM <= 0) return [];
  const reason = `below the water level${where} at ${Math.round(waterLevelMm)} mm`;
  return [{ kind: 'water', headM, headIs: 'from level', waterLevelMm, side, rating: null, reason }];
}
