import { shapeAreaMm2 } from '../../geometry/shape.ts';
import type { ArrangementProblem, Body } from '../../model/arrangement.ts';
import type { Check, Remedy } from '../../model/seal.ts';
import { powerFromDataMm } from '../cable-kinds.ts';
import type { CheckInput } from '../checks/check-parts.ts';
import { checkSeal } from '../checks/check-seal.ts';
import { bodyAreaMm2 } from '../outline-measures.ts';
import { grossVolumeMl } from '../quantities.ts';
import { CONDUIT_SIZES } from '../tables/conduit-sizes.ts';
import {
  type Arrange,
  arrangementRemedies,
  fewerRemedy,
  largerRemedy,
} from './arrangement-remedies.ts';
import { smallestThatWorks } from './larger-opening.ts';

/** Layers grow by this, and to no more than this; own choice. */
const DEPTH_STEP_MM = 5;
const DEEPEST_MM = 200;

/**
 * For an arrangement that does not fit and for each check that is not met, the smallest changes
 * of each kind that settle it. Every one was computed: arranged again, or checked again by the
 * same check. Empty where all is well.
 */
export function whatWouldWork(
  input: CheckInput,
  checks: readonly Check[],
  problem: ArrangementProblem,
  arrange: Arrange,
): Remedy[] {
  const { arrangement } = input.seal;
  const remedies =
    arrangement === null || arrangement.verdict === 'fits'
      ? []
      : arrangementRemedies(problem, arrangement, arrange);
  for (const check of checks) {
    if (check.verdict === 'not met') remedies.push(...remediesFor(check, input, problem, arrange));
  }
  return remedies;
}

function remediesFor(
  check: Check,
  input: CheckInput,
  problem: ArrangementProblem,
  arrange: Arrange,
): Remedy[] {
  const settles = check.name;
  switch (check.subject) {
    case 'fire':
    case 'gas':
    case 'air':
      return evidenceRemedies(settles, input);
    case 'water':
      return [...deeperLayer(settles, input), ...wetSide(settles, input)];
    case 'fill':
      return fillRemedies(settles, input, problem.bodies);
    case 'spare':
      return largerRemedy(problem.opening, settles, (opening) => {
        const { verdict, spare } = arrange({ ...problem, opening, effort: 'quick' });
        return verdict === 'fits' && (spare.policyMore ?? 0) >= input.design.spare.count;
      });
    case 'electrical':
      return settles === 'power from data' ? dataApart(settles, input, problem, arrange) : [];
    case 'build':
      return buildRemedies(settles, input, problem, arrange);
    default:
      return [];
  }
}

/** Whether a check is met once the seal is changed. */
function isMetWith(input: CheckInput, settles: string, changed: Partial<CheckInput>): boolean {
  return checkSeal({ ...input, ...changed }).some(
    ({ name, verdict }) => name === settles && verdict === 'met',
  );
}

function deeperLayer(settles: string, input: CheckInput): Remedy[] {
  const { seal, subject, design } = input;
  const first = Math.floor(seal.setBackMm / DEPTH_STEP_MM) * DEPTH_STEP_MM + DEPTH_STEP_MM;
  const count = Math.max(0, Math.floor((DEEPEST_MM - first) / DEPTH_STEP_MM) + 1);
  const depths = Array.from({ length: count }, (_, at) => first + at * DEPTH_STEP_MM);
  const withDepth = (setBackMm: number) => ({ seal: { ...seal, setBackMm } });
  const depthMm = smallestThatWorks(depths, (setBackMm) =>
    isMetWith(input, settles, withDepth(setBackMm)),
  );
  if (depthMm === null) return [];
  const { thicknessMm } = subject;
  if (thicknessMm !== null && seal.faces * depthMm > thicknessMm) return [];
  const ml = grossVolumeMl(seal.freeAreaMm2 ?? 0, depthMm, design) * seal.faces;
  const hostTooThin =
    thicknessMm !== null &&
    isMetWith(input, 'depth of host', {}) &&
    !isMetWith(input, 'depth of host', withDepth(depthMm));
  const caution = hostTooThin ? '; the host is then too thin for its fillers uncut' : '';
  const text = `a layer ${depthMm} mm deep instead of ${seal.setBackMm} mm works; ${Math.ceil(ml)} ml of sealant with allowances${caution}`;
  return [{ settles, kind: 'deeper layer', text, change: { setBackMm: depthMm } }];
}

/** Sealed on the side the water comes from, it is pushed against the fillers. */
function wetSide(settles: string, input: CheckInput): Remedy[] {
  const works = isMetWith(input, settles, { isWetFaceSealed: true });
  const text =
    'works when the sealed face is the one the water comes from, where that face can be reached';
  return works ? [{ settles, kind: 'wet side', text }] : [];
}

function fillRemedies(settles: string, input: CheckInput, bodies: readonly Body[]): Remedy[] {
  const { opening } = input.seal;
  if (opening === null) return [];
  const fillOf = (some: readonly Body[], areaMm2: number) =>
    some.reduce((mm2, { outline }) => mm2 + bodyAreaMm2(outline), 0) / areaMm2;
  const works = (some: readonly Body[], size = opening) => {
    const left = new Set(some.map(({ ref }) => ref));
    const passing = input.subject.passing.filter(({ body }) => left.has(body.ref));
    return isMetWith(input, settles, {
      subject: { ...input.subject, opening: size, passing },
      seal: { ...input.seal, opening: size, fillRatio: fillOf(some, shapeAreaMm2(size)) },
    });
  };
  const next = nextConduits(input).find(({ boreMm }) =>
    works(bodies, { type: 'circle', diameterMm: boreMm }),
  );
  const larger: Remedy[] =
    next === undefined
      ? largerRemedy(opening, settles, (size) => works(bodies, size))
      : [
          {
            settles,
            kind: 'next conduit size',
            text: `${next.family} ${next.nominal}, bore ${next.boreMm} mm, works`,
            change: { opening: { type: 'circle', diameterMm: next.boreMm } },
          },
        ];
  return [...larger, ...fewerRemedy(bodies, settles, (some) => works(some))];
}

/** Larger sizes of the family that the conduit belongs to, as far as its bore tells it. */
function nextConduits({ subject }: CheckInput) {
  const { opening } = subject;
  if (opening?.type !== 'circle') return [];
  const boreMm = opening.diameterMm;
  const family = CONDUIT_SIZES.find((size) => Math.abs(size.boreMm - boreMm) < 0.05)?.family;
  return CONDUIT_SIZES.filter((size) => size.family === family && size.boreMm > boreMm).sort(
    (a, b) => a.boreMm - b.boreMm,
  );
}

/** Data in a hole of its own, where the rest then fits; or a hole large enough for both. */
function dataApart(
  settles: string,
  { subject }: CheckInput,
  problem: ArrangementProblem,
  arrange: Arrange,
): Remedy[] {
  const neededMm = powerFromDataMm(subject.passing.flatMap(({ cable }) => cable ?? []));
  const isData = ({ separationClass }: Body) => separationClass === 'data';
  const data = problem.bodies.filter(isData);
  const rest = problem.bodies.filter((body) => !isData(body));
  const quick: ArrangementProblem = { ...problem, effort: 'quick' };
  const apart = { classes: ['power', 'data'] as const, separationMm: neededMm };
  const remedies = largerRemedy(
    problem.opening,
    settles,
    (opening) => arrange({ ...quick, opening, classSeparations: [apart] }).verdict === 'fits',
  );
  if (rest.length > 0 && arrange({ ...quick, bodies: rest }).verdict === 'fits') {
    const refs = data.map(({ ref }) => ref).join(', ');
    const text = `data cables in a hole of their own, ${neededMm} mm or more away: ${refs}`;
    const without = data.map(({ ref }) => ref);
    remedies.push({ settles, kind: 'data apart', text, change: { without } });
  }
  return remedies;
}

/** A record that is left by depth or faces alone is met by more of them. */
function evidenceRemedies(settles: string, input: CheckInput): Remedy[] {
  const { seal } = input;
  const twoFaces = { seal: { ...seal, faces: 2 } };
  const both: Remedy[] =
    seal.faces === 1 && isMetWith(input, settles, twoFaces)
      ? [{ settles, kind: 'two faces', text: 'works sealed on both faces', change: { faces: 2 } }]
      : [];
  return [...both, ...deeperLayer(settles, input)];
}

function buildRemedies(
  settles: string,
  input: CheckInput,
  problem: ArrangementProblem,
  arrange: Arrange,
): Remedy[] {
  switch (settles) {
    case 'depth of host':
      return oneFace(settles, input);
    case 'gap for a nozzle':
      return widerGap(settles, problem, arrange, input.range.nozzleMm ?? 0);
    case 'cables touching':
      return [
        ...spreadOut(settles, problem, arrange),
        ...widerGap(settles, problem, arrange, LEAST_GAP_MM),
      ];
    default:
      return [];
  }
}

/** Asked for where cables touch: the least gap that is worth drawing; own choice. */
const LEAST_GAP_MM = 1;

/** The opening in which all stand at least this far apart and off the wall. */
function widerGap(
  settles: string,
  problem: ArrangementProblem,
  arrange: Arrange,
  gapMm: number,
): Remedy[] {
  const wider: ArrangementProblem = {
    ...problem,
    effort: 'quick',
    separationMm: Math.max(problem.separationMm, gapMm),
    edgeMm: Math.max(problem.edgeMm, gapMm),
  };
  const { separationMm, edgeMm } = wider;
  const asItIs = { separationMm, edgeMm };
  if (arrange(wider).verdict === 'fits') {
    const text = `with ${gapMm} mm asked for between bodies and to the wall it works in this opening`;
    return [{ settles, kind: 'larger separation', text, change: asItIs }];
  }
  return largerRemedy(
    problem.opening,
    settles,
    (opening) => arrange({ ...wider, opening }).verdict === 'fits',
  ).map((remedy) => ({ ...remedy, change: { ...remedy.change, ...asItIs } }));
}

/** Bundles opened at the seal, where that fits. */
function spreadOut(settles: string, problem: ArrangementProblem, arrange: Arrange): Remedy[] {
  const isKept = ({ bundle }: Body) => (bundle?.form ?? 'spread') !== 'spread';
  if (!problem.bodies.some(isKept)) return [];
  const bodies = problem.bodies.map(
    (body): Body =>
      body.bundle === undefined ? body : { ...body, bundle: { ...body.bundle, form: 'spread' } },
  );
  const gapMm = Math.max(problem.separationMm, LEAST_GAP_MM);
  const found = arrange({ ...problem, bodies, separationMm: gapMm, effort: 'quick' });
  const text = `works with the cables of its bundles spread ${gapMm} mm apart at the seal`;
  return found.verdict === 'fits' ? [{ settles, kind: 'spread at the seal', text }] : [];
}

function oneFace(settles: string, input: CheckInput): Remedy[] {
  const { seal } = input;
  if (seal.faces !== 2 || !isMetWith(input, settles, { seal: { ...seal, faces: 1 } })) return [];
  const text = 'works sealed on one face only, where the duties and their evidence allow it';
  return [{ settles, kind: 'one face', text, change: { faces: 1 } }];
}
