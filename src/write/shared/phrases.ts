import { sizeText } from '../../geometry/shape.ts';
import type { Section } from '../../model/building.ts';
import type { Crossing, Penetration, Whereabouts } from '../../model/penetration.ts';
import type { Check, Duty, Seal } from '../../model/seal.ts';

/** Cautions that stand wherever a verdict is read. */
export const CAUTION_SHORT =
  'Design aid, not a certificate. Local code, tested evidence and licensed people decide.';

/** Cautions by subject. */
export const CAUTIONS: readonly (readonly [string, string])[] = [
  [
    'Design aid',
    'Not a certificate. Results say whether something is met within the evidence supplied; where evidence is missing they say "not assessed". Local code, tested evidence and licensed people decide.',
  ],
  [
    'Fire and smoke',
    'A seal keeps a rating only as tested: one test record must cover every point of the seal as built.',
  ],
  [
    'Gas, hazardous areas',
    'Zones and their boundaries are set by the person responsible for the plant. Nothing here classifies an area.',
  ],
  [
    'Flood, water pressure',
    'Heads follow from the levels in the settings. Where people depend on a seal to hold back water, an engineer checks it and it is proved on site.',
  ],
  [
    'Live cables',
    'Isolate, prove dead and lock off before cables are moved, cut or sealed round. Treat every unidentified cable as live.',
  ],
  [
    'Confined space',
    'Pits, chambers and ducts may hold gas or lack oxygen. Enter under a permit, with tests, ventilation and rescue arranged.',
  ],
  [
    'Coring and cutting',
    'Into structure only with the structural engineer’s consent, after reinforcement, tendons and buried services are located.',
  ],
];

/** "150 dia" or "300 × 100"; "size unknown". */
export function sectionText(section: Section | null): string {
  if (section === null) return 'size unknown';
  return section.type === 'circle'
    ? `${sizeText(section.diameterMm)} dia`
    : `${sizeText(section.widthMm)} × ${sizeText(section.heightMm)}`;
}

/** Largest side or diameter of a section, mm. */
export function largestSideMm(section: Section | null): number | null {
  if (section === null) return null;
  return section.type === 'circle'
    ? section.diameterMm
    : Math.max(section.widthMm, section.heightMm);
}

/** Services in words, equal ones counted: "2 × duct 110 dia, tray 300 × 60". */
export function servicesText(crossings: readonly Crossing[]): string {
  const counts = new Map<string, number>();
  for (const crossing of crossings) {
    const text = `${crossing.carrierForm ?? crossing.kind} ${sectionText(crossing.section)}`;
    counts.set(text, (counts.get(text) ?? 0) + 1);
  }
  return [...counts].map(([text, count]) => (count > 1 ? `${count} × ${text}` : text)).join('; ');
}

/** "water 3.2 m near side; fire EI 120". */
export function dutyText(duty: Duty): string {
  const parts: string[] = [duty.kind];
  if (duty.headM !== null) parts.push(`${sizeText(duty.headM)} m head`);
  if (duty.side !== null) parts.push(`${duty.side} side`);
  if (duty.rating !== null) parts.push(duty.rating);
  return parts.join(', ');
}

/** The check that matters most: not met with the largest ratio, else met with the largest. */
export function worstCheck(checks: readonly Check[]): Check | null {
  const rank = (check: Check) =>
    check.verdict === 'not met' ? 2 : check.verdict === 'met' ? 1 : 0;
  let worst: Check | null = null;
  for (const check of checks) {
    if (check.verdict === 'not assessed') continue;
    const isWorse =
      worst === null ||
      rank(check) > rank(worst) ||
      (rank(check) === rank(worst) && (check.ratio ?? 0) > (worst.ratio ?? 0));
    if (isWorse) worst = check;
  }
  return worst;
}

/** Which leak path a seal closes, in words. */
export function pathText(seal: Seal, crossings: ReadonlyMap<string, Crossing>): string {
  if (seal.path === 'annulus') return 'annulus';
  const crossing = seal.of === null ? undefined : crossings.get(seal.of);
  return crossing === undefined ? 'bore' : `bore of ${kindAndName(crossing)}`;
}

/** "duct D-04"; a name that says its kind itself stands alone: "Cable tray R-07". */
export function kindAndName(crossing: Crossing): string {
  const kind = crossing.carrierForm ?? crossing.kind;
  const name = nameOf(crossing);
  return name.toLowerCase().includes(kind) ? name : `${kind} ${name}`;
}

/** What a run is called: its first reference, else the id of its first element. */
export function nameOf(crossing: Crossing): string {
  return crossing.references[0]?.text ?? crossing.refs[0]?.id ?? crossing.id;
}

const KIND_WORDS = {
  opening: 'opening',
  provision: 'provision, not cut',
  hole: 'hole in the host',
  unopened: 'nothing provided',
} as const;

export function kindText(penetration: Penetration): string {
  return KIND_WORDS[penetration.kind];
}

/** The space on one side with its zones; null where the model tells of none. */
export function sideText({ spaces, zones }: Whereabouts, side: 'near' | 'far'): string | null {
  const space = spaces[side];
  const inZones = zones?.[side] ?? [];
  return space === null || inZones.length === 0 ? space : `${space} (zone ${inZones.join(', ')})`;
}

/** "1250 mm below ground, 400 mm below water"; null above both, or where no level is given. */
export function depthText({ belowGroundMm, belowWaterMm }: Whereabouts): string | null {
  const parts = [
    ...(belowGroundMm === undefined ? [] : [`${sizeText(belowGroundMm)} mm below ground`]),
    ...(belowWaterMm === undefined ? [] : [`${sizeText(belowWaterMm)} mm below water`]),
  ];
  return parts.length === 0 ? null : parts.join(', ');
}

/**
 * "2350 mm from the left end, 4120 mm from the right, seen from the near side", to the centre; null for
 * slabs and where no end is known.
 */
export function alongWallText({ hosts }: Penetration): string | null {
  const { left, right } = hosts.find(({ kind }) => kind === 'wall')?.toEdgeMm ?? {};
  const parts = [
    ...(left == null ? [] : [`${wholeMm(left)} mm from the left end`]),
    ...(right == null ? [] : [`${wholeMm(right)} mm from the right`]),
  ];
  return parts.length === 0 ? null : `${parts.join(', ')}, seen from the near side`;
}

const wholeMm = (value: number): string => sizeText(Math.round(value));

/** "far face: it lies against the ground"; null where nothing speaks against either face. */
export function outOfReachText({ outOfReach }: Whereabouts): string | null {
  return outOfReach === undefined ? null : `${outOfReach.side} face: ${outOfReach.why}`;
}
