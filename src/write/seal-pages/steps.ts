import { sum } from '../../basics/order.ts';
import { sizeText as mm, shapeText } from '../../geometry/shape.ts';
import type { FillerQuantity, Seal } from '../../model/seal.ts';
import { dutyText } from '../shared/phrases.ts';
import type { PageFacts } from './page-facts.ts';

/** What is done at the seal, in order; `title` in a word or two, `text` with this seal's figures. */
export interface Step {
  readonly title: string;
  readonly text: string;
}

/** The steps of one designed seal, from finding it to recording it, each with its own figures. */
export function stepsOf(facts: PageFacts): Step[] {
  return [
    find(facts),
    makeReady(facts),
    measure(facts),
    ...cut(facts),
    clean(facts),
    ...layBodies(facts),
    ...putFillers(facts),
    ...seal(facts),
    ...later(facts),
    record(facts),
  ];
}

function find({ tag, path, area }: PageFacts): Step {
  return {
    title: 'Find',
    text: `${tag}, ${path}, ${area}. Compare host, opening and what passes with this page. If anything differs, stop and ask.`,
  };
}

function makeReady({ seal, penetration }: PageFacts): Step {
  const reach = penetration?.where.heightAboveLevelMm ?? null;
  return {
    title: 'Make ready',
    text: [
      'Permits in hand; cables that are to be moved isolated and proved dead.',
      reach !== null && reach > 2000 ? `Access for ${mm(reach / 1000)} m above the floor.` : '',
      seal.faces > 1 ? 'Access to both sides.' : '',
    ]
      .filter((part) => part !== '')
      .join(' '),
  };
}

function measure({ seal }: PageFacts): Step {
  const size = seal.opening === null ? 'the opening' : shapeText(seal.opening);
  return {
    title: 'Measure',
    text: `The opening was designed as ${size}. Write down what you measure; with another size the design does not hold.`,
  };
}

/** Where nothing is there yet, it is cut first. */
function cut({ seal, penetration }: PageFacts): Step[] {
  const isToCut =
    seal.path === 'annulus' &&
    (seal.openingBasis === 'needed' || penetration?.kind === 'provision');
  if (!isToCut) return [];
  return [
    {
      title: 'Cut',
      text: 'Not cut when this was issued. Cut or core only with the structural engineer’s consent, after reinforcement, tendons and buried services are located.',
    },
  ];
}

function clean({ seal }: PageFacts): Step {
  const substrate = seal.hole?.substrate ?? null;
  return {
    title: 'Clean',
    text: `${substrate === null ? 'The wall of the opening' : `The ${substrate}`} and all that passes, dry and free of dust, grease and loose matter, over at least ${mm(seal.setBackMm)} mm at each face that is sealed.`,
  };
}

function layBodies({ seal, passing }: PageFacts): Step[] {
  const now = passing.filter(({ comesAt }) => comesAt === null);
  if (now.length === 0) return [];
  const gap = seal.arrangement?.separationMm ?? null;
  const edge = seal.arrangement?.edgeMm ?? null;
  const apart =
    gap === null || edge === null
      ? ''
      : `, at least ${mm(gap)} mm between surfaces and ${mm(edge)} mm to the wall`;
  return [
    {
      title: 'Set apart',
      text: `${now.length === 1 ? 'What passes' : `All ${now.length} that pass`}, as the cross-section and the table of positions show${apart}.`,
    },
  ];
}

function putFillers({ seal, passing }: PageFacts): Step[] {
  const split = sum(seal.fillerQuantities.map((one) => one.split));
  const whole = sum(seal.fillerQuantities.map((one) => one.whole));
  if (split + whole === 0) return [];
  const steps: Step[] = [];
  const depth = `Their ends stand back ${mm(seal.setBackMm)} mm from the face, so that the layer of sealant is solid across them.`;
  if (split > 0) {
    steps.push({
      title: 'Tubes on cables',
      text: `${split} split: ${listed(seal.fillerQuantities, 'split')}. ${tubesOf(passing)}`,
    });
  }
  if (whole > 0) {
    steps.push({
      title: 'Fill',
      text: `${whole} whole: ${listed(seal.fillerQuantities, 'whole')}, side by side until nothing moves.`,
    });
  }
  const sets = Math.max(...seal.fillerQuantities.map((one) => one.sets));
  return steps.map((step, at) =>
    at === steps.length - 1
      ? {
          ...step,
          text: `${step.text} ${depth}${sets > 1 ? ` The same again from the other side: ${sets} sets.` : ''}`,
        }
      : step,
  );
}

function listed(quantities: readonly FillerQuantity[], kind: 'whole' | 'split'): string {
  return quantities
    .filter((one) => one[kind] > 0)
    .map((one) => `${one[kind]} × ${one.name}, ${mm(one.lengthMm)} mm long`)
    .join('; ');
}

function tubesOf(passing: PageFacts['passing']): string {
  const bare = passing.filter(({ body }) => body.tube === null).length;
  return bare === 0
    ? 'One on each cable, as the table of positions says.'
    : `${bare} ${bare === 1 ? 'lies' : 'lie'} bare, as the table of positions says.`;
}

function seal({ seal: { sealant, setBackMm, faces, duties } }: PageFacts): Step[] {
  if (sealant === null) return [];
  const asked = duties.map(dutyText).join('; ');
  return [
    {
      title: 'Seal',
      text: `${sealant.name}, a layer ${mm(setBackMm)} mm deep, ${faces === 1 ? 'one face' : 'both faces'}: ${Math.ceil(sealant.perFaceMl)} ml a face, worked in from the deepest point outwards without voids, between and round all that passes.${asked === '' ? '' : ` Asked of it: ${asked}.`}`,
    },
  ];
}

/** Tubes that cables of later stages will take out. */
function later({ seal, passing }: PageFacts): Step[] {
  const [, ...stages] = seal.stages ?? [];
  if (stages.length === 0) return [];
  const coming = passing.filter(({ comesAt }) => comesAt !== null).length;
  return [
    {
      title: 'Keep for later',
      text: `${coming} more to come (${stages.map(({ name }) => name).join(', ')}). Their places are closed by tubes now; leave them where the drawing shows them.`,
    },
  ];
}

function record({ seal }: PageFacts): Step {
  return {
    title: 'Record',
    text: `Photographs before sealing and after, batch and expiry of the sealant, depth at ${seal.faces === 1 ? 'the face' : 'each face'}. Fix the label beside the seal${seal.faces > 1 ? ', one on each side' : ''}; sign below.`,
  };
}

/** Whether the page is one to work from. */
export function isToBuild({ seal, status }: PageFacts): boolean {
  return isDesigned(seal) && status !== 'hold';
}

function isDesigned(seal: Seal): boolean {
  return seal.state === 'designed';
}
