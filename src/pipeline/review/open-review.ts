import { SealbookError } from '../../basics/errors.ts';
import { placeText } from '../../basics/evidence.ts';
import { arrange } from '../../design/arrange/arrange.ts';
import { arrangeOnce } from '../../design/arrange-once.ts';
import { drawSection } from '../../draw/draw-section.ts';
import type { Decision } from '../../model/decision.ts';
import type {
  NewDecision,
  ReviewAnswers,
  ReviewChange,
  ReviewDetails,
  ReviewFile,
  ReviewQuestion,
  ReviewState,
  SpareAnswer,
} from '../../model/review.ts';
import { takeOffJson } from '../../write/result/take-off-json.ts';
import { askForCable } from '../add-cable.ts';
import { openRegister } from '../open-register.ts';
import type { Platform } from '../platform.ts';
import { type RunInput, type RunOutput, runProject } from '../run-project.ts';
import { planDrawing, planNames, plansShowing } from './review-plans.ts';
import { reviewRows } from './review-rows.ts';
import { reviewScene } from './review-scene.ts';
import { tryChange } from './try-change.ts';

/** A project that is open for review: it answers questions and takes decisions, one after the other. */
export interface Review {
  readonly answer: <Q extends ReviewQuestion>(question: Q) => Promise<ReviewAnswers[Q['ask']]>;
}

export interface ReviewInput extends Omit<RunInput, 'finds' | 'arrange' | 'decisions'> {
  /** Name under which the register is handed over with the other files. */
  readonly registerName: string;
}

/** Keeps a register; throws where it can't be kept, and then nothing counts as decided. */
export type KeepRegister = (register: Uint8Array) => Promise<void>;

const FROM = 'review page';

/**
 * Works a project out and keeps it open. What was read and found stays, and equal arrangements are
 * worked out once, so that a decision costs only what it changes. `keep` is called with the register
 * after each change, before the change counts.
 */
export async function openReview(
  input: ReviewInput,
  platform: Platform,
  keep: KeepRegister,
): Promise<Review> {
  const session = new Session(input, platform, keep);
  await session.begin();
  // One after the other: two tabs can't decide at once.
  let turn: Promise<unknown> = Promise.resolve();
  return {
    answer: (question) => {
      const answered = turn.then(() => session.answer(question));
      turn = answered.catch(() => undefined);
      return answered as Promise<ReviewAnswers[(typeof question)['ask']]>;
    },
  };
}

class Session {
  private readonly input: ReviewInput;
  private readonly platform: Platform;
  private readonly keep: KeepRegister;
  private readonly arrange = arrangeOnce(arrange);
  private output: RunOutput | null = null;
  private state: ReviewState | null = null;

  constructor(input: ReviewInput, platform: Platform, keep: KeepRegister) {
    this.input = input;
    this.platform = platform;
    this.keep = keep;
  }

  async begin(): Promise<void> {
    await this.work([], 1);
  }

  async answer(question: ReviewQuestion): Promise<ReviewAnswers[keyof ReviewAnswers]> {
    switch (question.ask) {
      case 'state':
        return this.now().state;
      case 'decide':
        return this.decide(question.version, question.decisions);
      case 'details':
        return this.details(question.tag);
      case 'section':
        return this.section(question.seal);
      case 'plan':
        return planDrawing(this.planSources(), question.name);
      case 'scene':
        return reviewScene(this.now().output.issue, this.building(), question.tag);
      case 'trial':
        return tryChange(this.now().output.issue, question.tag, question.trial, this.arrange);
      case 'spare':
        return this.spare(question);
      case 'takeOff':
        return takeOffJson(this.now().output.issue.takeOff);
      case 'files':
        return this.files();
    }
  }

  private now(): { readonly output: RunOutput; readonly state: ReviewState } {
    const { output, state } = this;
    if (output === null || state === null) throw new TypeError('The review has not begun.');
    return { output, state };
  }

  private async work(decisions: readonly Decision[], version: number): Promise<void> {
    const { settings } = this.input;
    const output = await this.run(decisions, withoutOutputs(settings));
    await this.keep(output.register);
    this.output = output;
    this.state = {
      version,
      project: settings.project.name,
      revision: settings.issue.revision,
      isSample: output.issue.range.sample,
      rows: reviewRows(output.issue, output.result),
      queries: output.result.queries,
      decisions: output.issue.decisions ?? [],
      plans: planNames(this.planSources()),
      sealants: output.issue.range.sealants.map(({ name }) => name),
      fillers: output.issue.range.fillers.map(({ name }) => name),
    };
  }

  private run(decisions: readonly Decision[], settings: RunInput['settings']): Promise<RunOutput> {
    const { input, output } = this;
    return runProject(
      {
        ...input,
        settings,
        decisions,
        arrange: this.arrange,
        ...(output === null
          ? {}
          : { finds: output.finds, register: this.registerFile(output.register) }),
      },
      this.platform,
    );
  }

  private registerFile(bytes: Uint8Array) {
    return { key: 'register', name: this.input.registerName, bytes };
  }

  private async decide(version: number, decisions: readonly NewDecision[]): Promise<ReviewChange> {
    const { state } = this.now();
    // Decided on what is no longer so: the page shows what is, and asks again.
    if (version !== state.version) return changeOf(null, state);
    const { revision } = state;
    await this.work(
      decisions.map((each) => ({ ...each, against: null, revision, from: FROM })),
      state.version + 1,
    );
    return changeOf(state, this.now().state);
  }

  private details(tag: string): ReviewDetails | null {
    const { issue, result } = this.now().output;
    const facts = result.penetrations.find((each) => each.tag === tag);
    const penetration = issue.penetrations.find(({ id }) => id === facts?.id);
    if (facts === undefined || penetration === undefined) return null;
    const names = new Map(issue.sources.map(({ key, name }) => [key, name]));
    const evidence = [
      ...penetration.evidence,
      ...penetration.references.map((reference) => reference.evidence),
      ...penetration.crossings.flatMap((crossing) => crossing.evidence),
    ];
    return {
      tag,
      facts,
      seals: issue.seals.filter((seal) => seal.penetrationId === penetration.id),
      evidence: evidence.map(({ fact, text, place }) => ({
        fact,
        text,
        place: placeText({ ...place, fileKey: names.get(place.fileKey) ?? place.fileKey }),
      })),
      history: issue.records?.get(tag)?.history ?? [],
      plans: plansShowing(this.planSources(), penetration),
    };
  }

  private section(sealId: string): string | null {
    const { issue } = this.now().output;
    const seal = issue.seals.find(({ id }) => id === sealId);
    if (seal === undefined) return null;
    const penetration = issue.penetrations.find(({ id }) => id === seal.penetrationId);
    const tag = issue.tags.get(seal.penetrationId) ?? seal.penetrationId;
    return drawSection(seal, {
      tag,
      tags: [tag],
      ...(penetration === undefined ? {} : { penetration }),
    });
  }

  private async spare({
    tag,
    ref,
    diameterMm,
  }: Extract<ReviewQuestion, { ask: 'spare' }>): Promise<SpareAnswer> {
    const register = await openRegister(
      this.registerFile(this.now().output.register),
      this.platform.sha256,
    );
    const { ways } = askForCable(register, { tag, ref, diameterMm });
    return {
      tag,
      ways: ways.map(({ seal, answer: { way, reasons, unverified, checksAfter } }) => ({
        sealId: seal.id,
        path: seal.path,
        answer: { way, reasons, unverified, checksAfter },
      })),
    };
  }

  /** All outputs the project asks for, as a run would write them now. */
  private async files(): Promise<readonly ReviewFile[]> {
    const { files, register } = await this.run([], this.input.settings);
    return [...files, { name: this.input.registerName, bytes: register }];
  }

  private building() {
    return this.now().output.finds.read.result.building;
  }

  private planSources() {
    const { output } = this;
    if (output === null) throw new TypeError('The review has not begun.');
    const { building, drawings } = output.finds.read.result;
    return { building, drawings, issue: output.issue };
  }
}

/** What is other than before; all of it where the page knew an older state. */
function changeOf(before: ReviewState | null, after: ReviewState): ReviewChange {
  const known = new Set(before?.rows.map((row) => JSON.stringify(row)));
  const isSame = JSON.stringify(before?.queries) === JSON.stringify(after.queries);
  return {
    isRefused: before === null,
    version: after.version,
    decisions: after.decisions,
    rows: after.rows.filter((row) => !known.has(JSON.stringify(row))),
    order: after.rows.map(({ tag }) => tag),
    queries: isSame ? null : after.queries,
  };
}

/** The page shows the issue; its files are made when they are asked for. */
function withoutOutputs(settings: RunInput['settings']): RunInput['settings'] {
  const off = { workbook: false, sealPages: false, taggedModels: false, taggedDrawings: false };
  return { ...settings, outputs: { ...settings.outputs, ...off, bcf: false, tables: false } };
}

/** The words of an error for the page: what is wrong and what to do. */
export function reviewErrorText(error: unknown): string {
  if (!(error instanceof SealbookError)) {
    const detail = error instanceof Error ? error.message : String(error);
    return `A fault of sealbook's own, not of your files: ${detail}`;
  }
  return [error.message, error.todo ?? ''].filter((part) => part !== '').join(' ');
}
