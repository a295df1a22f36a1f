import { leastOf } from '../../basics/extremes.ts';
import { groupBy } from '../../basics/order.ts';
import type { PlacedBody } from '../../model/arrangement.ts';
import type { Cable } from '../../model/cable.ts';
import type { Check } from '../../model/seal.ts';
import {
  isSingleCore,
  powerFromDataMm,
  segregationClassOf,
  separationClassOf,
} from '../cable-kinds.ts';
import type { Passing } from '../seal-subject.ts';
import { DATA_SEPARATION_SOURCE, FIXED_SEPARATION_MM } from '../tables/data-separation.ts';
import { assessed, type CheckInput, judged, notAssessed } from './check-parts.ts';

const FERROUS_RULE = 'BS 7671 521.5.1; IEC 60364-5-52 521.5 (clause from memory)';
/** From this many power cables on their heating in the seal is worth a word; own choice. */
const GROUPED_FROM = 4;

/** Ferrous loops, power beside data, earth conductors, heat. */
export function electricalChecks(input: CheckInput): Check[] {
  return [
    ...ferrousChecks(input),
    ...separationChecks(input),
    ...earthChecks(input),
    ...heatChecks(input),
  ];
}

/** What closes round the cables: the hollow body for a bore, else the host. */
type Ring = 'ferrous' | 'not ferrous' | 'unknown';

/** A single-core cable that the ring closes round, bare or inside a hollow body. */
interface Single {
  readonly ref: string;
  readonly cable: Cable;
}

/**
 * A single-core AC cable in a closed ferrous loop must be passed by all lines and the neutral of
 * its circuit or parallel set. Reinforced concrete counts as unknown: its bars may close round the
 * hole. What closes round a hole closes round the cables inside its conduits as well.
 */
function ferrousChecks(input: CheckInput): Check[] {
  const singles = singlesOf(input.subject.passing);
  if (singles.length === 0) return [];
  const ring = ringOf(input.subject.substrate);
  if (ring === 'not ferrous') return armourChecks(singles);
  const name = 'single-core AC in a ferrous loop';
  if (ring === 'unknown') {
    return [
      notAssessed(name, 'electrical', {
        missing: ['material that closes round the cables (reinforcement as well)'],
        note: `single-core: ${refsOf(singles)}`,
        source: FERROUS_RULE,
      }),
      ...armourChecks(singles),
    ];
  }
  const groups = groupBy(singles, ({ cable }) => cable.circuitRef ?? `row of ${cable.ref}`);
  return [
    ...[...groups.values()].map((group) => loopCheck(name, group, input.circuits)),
    ...armourChecks(singles),
  ];
}

function singlesOf(passing: readonly Passing[]): Single[] {
  return passing
    .flatMap(({ body, cable, inside }): Single[] => [
      ...(cable === null ? [] : [{ ref: body.ref, cable }]),
      ...inside.map((one) => ({ ref: one.ref, cable: one })),
    ])
    .filter(({ cable }) => isSingleCore(cable) && cable.current !== 'DC' && isLive(cable));
}

const ARMOUR_RULE = 'BS 7671 521.5.2, single-core armoured with steel not used on AC (from memory)';

/** Steel wire or tape round one line is a loop of its own, wherever it lies. */
function armourChecks(singles: readonly Single[]): Check[] {
  const armoured = singles.filter(({ cable }) => hasSteelArmour(cable));
  if (armoured.length === 0) return [];
  const name = 'steel armour on single-core AC';
  const note = `single-core with steel armour by its type: ${refsOf(armoured)}`;
  return armoured.some(({ cable }) => cable.current === 'AC')
    ? [judged(name, 'electrical', false, note, ARMOUR_RULE)]
    : [
        notAssessed(name, 'electrical', {
          missing: ['whether the circuit is AC'],
          note,
          source: ARMOUR_RULE,
        }),
      ];
}

function hasSteelArmour({ type, construction }: Cable): boolean {
  const text = `${type ?? ''} ${construction ?? ''}`.slice(0, 200);
  return /\b(?:swa|sta|steel[ -](?:wire|tape))\b/i.test(text);
}

function isLive(cable: Cable): boolean {
  return cable.circuit === null || cable.circuit === 'LV' || cable.circuit === 'HV';
}

function ringOf(material: string | null): Ring {
  if (material === null) return 'unknown';
  const text = material.toLowerCase();
  if (/\b(?:steel|iron|galvani[sz]ed|ferrous)\b/.test(text)) {
    // Austenitic grades are not magnetic, but the word alone does not tell the grade.
    return /non-?ferrous/.test(text)
      ? 'not ferrous'
      : /stainless/.test(text)
        ? 'unknown'
        : 'ferrous';
  }
  return /reinforc|concrete/.test(text) ? 'unknown' : 'not ferrous';
}

function loopCheck(
  name: string,
  group: readonly Single[],
  circuits: CheckInput['circuits'],
): Check {
  const cables = [...new Set(group.map(({ cable }) => cable))];
  const circuitRef = cables[0]?.circuitRef ?? null;
  const refs = refsOf(group);
  if (circuitRef === null || cables.some(({ current }) => current !== 'AC')) {
    return notAssessed(name, 'electrical', {
      missing: circuitRef === null ? ['circuit and phase'] : ['whether the circuit is AC'],
      note: `single-core: ${refs}`,
      source: FERROUS_RULE,
    });
  }
  const all = (circuits.get(circuitRef) ?? cables).filter((cable) => isSingleCore(cable));
  const absent = all.filter((cable) => !cables.includes(cable));
  const note = `circuit ${circuitRef}: ${refs} pass in a closed ferrous loop`;
  const complete = isCompleteSet(cables, all);
  if (complete === null) {
    return notAssessed(name, 'electrical', {
      missing: ['phases of the circuit, its neutral included'],
      note,
      source: FERROUS_RULE,
    });
  }
  const elsewhere = absent.map(({ ref }) => ref).join(', ');
  const text = complete ? `${note} with all its lines` : `${note}, ${elsewhere} elsewhere`;
  return judged(name, 'electrical', complete, text, FERROUS_RULE);
}

/**
 * Whether what passes here is a whole set: each phase that the circuit has at all, equally often.
 * Null where phases are not written and the circuit's cables are not all here, or where the
 * circuit has a single line, so that its return is not known.
 */
function isCompleteSet(here: readonly Cable[], all: readonly Cable[]): boolean | null {
  const phasesOf = (cables: readonly Cable[]) =>
    cables.map(({ phase }) => phase?.trim().toUpperCase());
  const allPhases = phasesOf(all);
  const bodies = here.reduce((count, cable) => count + Math.max(1, cable.bodies), 0);
  if (allPhases.some((phase) => phase === undefined || phase === '')) {
    return here.length === all.length && bodies > 1 ? true : null;
  }
  const wanted = new Set(allPhases);
  if (wanted.size < 2 && bodies < 2) return null;
  const counts = [...wanted].map((phase) => phasesOf(here).filter((one) => one === phase).length);
  return counts.every((count) => count > 0 && count === counts[0]);
}

function refsOf(passing: readonly { readonly ref: string }[]): string {
  return passing.map(({ ref }) => ref).join(', ');
}

/**
 * The nearest power and data cable of the arrangement against the table. A conduit counts as what
 * it carries, from its outside; one of metal parts its cables from the rest, so it is left out.
 * @source EN 50174-2: no distance to a solid metallic containment (S = 0).
 */
function separationChecks({ seal, subject }: CheckInput): Check[] {
  const carried = subject.passing.map((item) => ({ item, cables: cablesOf(item) }));
  const cables = carried.flatMap((one) => one.cables);
  const neededMm = powerFromDataMm(cables);
  if (neededMm === 0) return [];
  const name = 'power from data';
  const items = new Map((seal.arrangement?.items ?? []).map((item) => [item.ref, item]));
  const ofClass = (wanted: string) =>
    carried.flatMap(({ item, cables: inIt }) => {
      const laid = items.get(item.body.ref);
      return laid !== undefined && inIt.some((cable) => separationClassOf(cable) === wanted)
        ? [laid]
        : [];
    });
  const distances = ofClass('power').flatMap((power) =>
    ofClass('data').flatMap((data) => (data === power ? [] : [clearMm(power, data)])),
  );
  // Both in one conduit: its own bore is where they are judged.
  if (distances.length === 0 && items.size > 0) return [];
  const assumed = cables.some(
    (cable) => separationClassOf(cable) === 'data' && segregationClassOf(cable).isAssumed,
  );
  const note = `${assumed ? 'segregation class not written, b assumed; ' : ''}circuits counted as 20 A; without divider some codes ask for ${FIXED_SEPARATION_MM} mm`;
  if (distances.length === 0) {
    return [
      notAssessed(name, 'electrical', {
        unit: 'mm',
        missing: ['an arrangement'],
        note,
        source: DATA_SEPARATION_SOURCE,
      }),
    ];
  }
  return [
    assessed(name, 'electrical', {
      value: leastOf(distances),
      unit: 'mm',
      limit: neededMm,
      limitIs: 'least',
      note,
      source: DATA_SEPARATION_SOURCE,
    }),
  ];
}

function cablesOf({ cable, crossing, inside }: Passing): readonly Cable[] {
  if (cable !== null) return [cable];
  return isMetal(crossing?.material ?? null) ? [] : inside;
}

function isMetal(material: string | null): boolean {
  return /\b(?:steel|iron|galvani[sz]ed|metal|copper|brass|alumini?um)\b/i.test(material ?? '');
}

/** Clear distance of two round bodies; a rectangle counts as the circle round it. */
function clearMm(a: PlacedBody, b: PlacedBody): number {
  return Math.hypot(a.xMm - b.xMm, a.yMm - b.yMm) - radiusMm(a) - radiusMm(b);
}

function radiusMm({ outline }: PlacedBody): number {
  return outline.type === 'circle'
    ? outline.diameterMm / 2
    : Math.hypot(outline.widthMm, outline.heightMm) / 2;
}

function earthChecks({ seal, subject }: CheckInput): Check[] {
  const earths = subject.passing.filter(({ cable }) => cable?.circuit === 'earth');
  const { arrangement } = seal;
  if (earths.length === 0 || arrangement === null) return [];
  const names = earths.map(({ body }) => body.ref).join(', ');
  const isClear = arrangement.verdict === 'fits' && arrangement.edgeMm > 0;
  const note = isClear
    ? `${names} at least ${arrangement.edgeMm} mm off the wall`
    : `${names} not shown to be clear of the wall`;
  return [
    judged(
      'earth conductor off the wall',
      'electrical',
      isClear,
      note,
      'common practice, no source',
    ),
  ];
}

function heatChecks({ seal, subject }: CheckInput): Check[] {
  const power = subject.passing.filter(
    ({ cable }) => cable !== null && separationClassOf(cable) === 'power',
  );
  if (power.length < GROUPED_FROM) return [];
  return [
    notAssessed('heat of grouped cables', 'electrical', {
      missing: ['currents of the cables and their rating when grouped in a seal'],
      note: `caution: ${power.length} power cables side by side, sealed over ${seal.faces} × ${seal.setBackMm} mm`,
      source: 'caution of our own',
    }),
  ];
}
