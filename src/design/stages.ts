import { shapeAreaMm2 } from '../geometry/shape.ts';
import type { Arrangement, ArrangementProblem, Body } from '../model/arrangement.ts';
import type { Range, Sealant } from '../model/range.ts';
import type { Check, SealStage } from '../model/seal.ts';
import type { SealDraft } from './checks/check-parts.ts';
import { bodyAreaMm2 } from './outline-measures.ts';
import { type Allowances, fillerQuantities, sealantQuantity } from './quantities.ts';
import type { Passing, SealSubject } from './seal-subject.ts';

/** The stage of what is laid now. */
const NOW = 'now';

/** What seals of stages are made with. */
export interface StageParts {
  readonly subject: SealSubject;
  /** The seal as designed for the last stage. */
  readonly seal: SealDraft;
  readonly range: Range;
  readonly sealant: Sealant;
  readonly allowances: Allowances;
  /** The question put for a leak path with its bodies where they stand. */
  readonly problemOf: (subject: SealSubject) => ArrangementProblem;
  readonly arrange: (problem: ArrangementProblem) => Arrangement;
  readonly check: (subject: SealSubject, seal: SealDraft) => readonly Check[];
}

/** What is there at present: all but what comes at later stages. */
export function presentOf(passing: readonly Passing[]): Passing[] {
  return passing.filter(({ comesAt }) => comesAt === null);
}

/**
 * The seal at each stage, the present one first; empty where all is laid at once or where the last
 * stage does not fit. Every body stands where the last stage has it, so that nothing moves when the
 * next cables come; until then tubes stand in their places.
 * @source Engineering rules §4.6: design for the final state, issue a seal per stage.
 */
export function stagesOf(parts: StageParts): SealStage[] {
  const { subject, seal } = parts;
  const later = new Set(subject.passing.flatMap(({ comesAt }) => comesAt ?? []));
  if (later.size === 0 || seal.arrangement?.verdict !== 'fits' || seal.opening === null) return [];
  const names = [NOW, ...[...later].sort(compareStages)];
  return names.map((name, at) => stageOf(parts, name, new Set(names.slice(1, at + 1))));
}

function stageOf(parts: StageParts, name: string, come: ReadonlySet<string>): SealStage {
  const { subject, seal, range, sealant, allowances } = parts;
  const passing = subject.passing.filter(({ comesAt }) => comesAt === null || come.has(comesAt));
  const isLast = passing.length === subject.passing.length;
  const here: SealSubject = { ...subject, passing };
  const arrangement =
    isLast || seal.arrangement === null ? seal.arrangement : standing(parts, here);
  const openingMm2 = seal.opening === null ? 0 : shapeAreaMm2(seal.opening);
  const smallestMm2 = passing.reduce((mm2, item) => mm2 + item.smallestAreaMm2, 0);
  const largestMm2 = passing.reduce((mm2, { body }) => mm2 + bodyAreaMm2(body.outline), 0);
  const freeAreaMm2 = Math.max(0, openingMm2 - smallestMm2);
  const draft: SealDraft = {
    ...seal,
    bodies: passing.map(({ body }) => body),
    arrangement,
    fillers: arrangement?.fillers ?? [],
    fillerQuantities:
      arrangement === null ? [] : fillerQuantities(arrangement, range, { ...subject, ...seal }),
    spare: arrangement?.spare ?? null,
    freeAreaMm2,
    fillRatio: largestMm2 / openingMm2,
    sealant: sealantQuantity(sealant, freeAreaMm2, seal.setBackMm, seal.faces, allowances),
  };
  return {
    name,
    refs: passing.map(({ body }) => body.ref),
    comes: passing.filter(({ comesAt }) => (comesAt ?? NOW) === name).map(({ body }) => body.ref),
    fillers: draft.fillers,
    fillerQuantities: draft.fillerQuantities,
    spare: draft.spare,
    freeAreaMm2,
    fillRatio: largestMm2 / openingMm2,
    sealant: sealantQuantity(sealant, freeAreaMm2, seal.setBackMm, seal.faces, allowances),
    checks: parts.check(here, draft),
  };
}

/** The bodies of a stage where the last stage has them, with tubes round them. */
function standing({ seal, problemOf, arrange }: StageParts, here: SealSubject): Arrangement {
  const items = new Map((seal.arrangement?.items ?? []).map((item) => [item.ref, item]));
  const problem = problemOf(here);
  const bodies = problem.bodies.map((body): Body => {
    const item = items.get(body.ref);
    if (item === undefined) return body;
    const { xMm, yMm, angleRad } = item;
    return { ...body, fixedAt: { xMm, yMm, angleRad } };
  });
  return arrange({ ...problem, bodies });
}

/** "Stage 2" before "Stage 10", and what has no stage of its own last. */
function compareStages(a: string, b: string): number {
  const [left, right] = [stageKey(a), stageKey(b)];
  return left < right ? -1 : left > right ? 1 : 0;
}

function stageKey(name: string): string {
  const padded = name.toLowerCase().replace(/\d+/g, (digits) => digits.padStart(8, '0'));
  return `${name === 'later' ? 1 : 0}${padded}`;
}
