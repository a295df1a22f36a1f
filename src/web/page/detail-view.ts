import type { NewDecision, ReviewDetails, ReviewState, Trial } from '../../model/review.ts';
import type { Seal } from '../../model/seal.ts';
import type { Backend } from './backend.ts';
import { button, field, h } from './dom.ts';
import { decidedOf } from './facts.ts';
import { placeView } from './place-view.ts';
import { queryCard } from './queries-view.ts';
import { historyView, reasonsView } from './reasons-view.ts';
import { sealView } from './seal-view.ts';
import { solidView } from './solid-view.ts';
import { spareView } from './spare-view.ts';
import { words } from './texts.ts';
import { trialView } from './trial-view.ts';

export type Tab = 'seal' | 'place' | 'solid' | 'reasons' | 'history';
const TABS: readonly Tab[] = ['seal', 'place', 'solid', 'reasons', 'history'];

export interface DetailInput {
  readonly state: ReviewState;
  readonly details: ReviewDetails;
  readonly tab: Tab;
  readonly trial: Trial;
  /** Seals of the trial; null where nothing is tried. */
  readonly tried: readonly Seal[] | null;
  readonly backend: Backend;
  readonly on: {
    readonly tab: (tab: Tab) => void;
    readonly choose: (tag: string) => void;
    readonly trial: (trial: Trial) => void;
    readonly decide: (decisions: readonly NewDecision[]) => void;
    readonly failed: (error: unknown) => void;
  };
}

/** All that is known of one penetration, and what can be decided of it. */
export function detailView(input: DetailInput): HTMLElement {
  const { details, state, tab, on } = input;
  const { tag, facts } = details;
  const row = state.rows.find((each) => each.tag === tag);
  return h(
    'article',
    { 'aria-labelledby': 'detail-tag' },
    h('h2', { id: 'detail-tag', dir: 'auto' }, tag),
    h(
      'p',
      { class: 'where', dir: 'auto' },
      [facts.kind, row?.size ?? '', row?.level ?? '', row?.where ?? '', row?.host ?? '']
        .filter((each) => each !== '')
        .join(' · '),
    ),
    decisionBar(input),
    h(
      'div',
      {
        role: 'tablist',
        class: 'tabs',
        keydown: (event) => moveTab(event as KeyboardEvent, tab, on.tab),
      },
      ...TABS.map((each) => tabButton(each, tab, on.tab)),
    ),
    h(
      'div',
      { role: 'tabpanel', id: 'tab-panel', 'aria-labelledby': `tab-${tab}`, tabindex: '-1' },
      tabContent(input),
    ),
  );
}

function tabButton(each: Tab, chosen: Tab, choose: (tab: Tab) => void): HTMLElement {
  const isChosen = each === chosen;
  return h(
    'button',
    {
      id: `tab-${each}`,
      type: 'button',
      role: 'tab',
      'aria-selected': String(isChosen),
      'aria-controls': 'tab-panel',
      tabindex: isChosen ? '0' : '-1',
      click: () => choose(each),
    },
    words().tabs[each],
  );
}

function moveTab(event: KeyboardEvent, chosen: Tab, choose: (tab: Tab) => void): void {
  const by = event.key === 'ArrowRight' ? 1 : event.key === 'ArrowLeft' ? -1 : 0;
  const next = TABS[(TABS.indexOf(chosen) + by + TABS.length) % TABS.length];
  if (by === 0 || next === undefined) return;
  event.preventDefault();
  document.getElementById(`tab-${next}`)?.focus();
  choose(next);
}

function tabContent(input: DetailInput): HTMLElement {
  const { details, state, tab, backend, on } = input;
  switch (tab) {
    case 'seal':
      return sealTab(input);
    case 'place':
      return placeView(details, backend, on.choose, on.failed);
    case 'solid':
      return solidView(details.tag, backend, on.failed);
    case 'reasons':
      return reasonsView(state, details, on.decide);
    case 'history':
      return historyView(details);
  }
}

function sealTab(input: DetailInput): HTMLElement {
  const { details, state, trial, tried, backend, on } = input;
  const isTrial = tried !== null;
  const seals = tried ?? details.seals;
  const queries = state.queries.filter(({ tag }) => tag === details.tag);
  return h(
    'section',
    {},
    isTrial ? h('p', { class: 'banner' }, words().trialNote) : null,
    ...seals.map((seal) =>
      sealView(seal, backend, isTrial, ({ id }, places) =>
        on.trial({
          ...trial,
          places: {
            seal: id,
            items: [...places].map(([ref, [xMm, yMm]]) => ({ ref, xMm, yMm })),
          },
        }),
      ),
    ),
    seals.some(({ arrangement }) => (arrangement?.items.length ?? 0) > 0)
      ? h('p', { class: 'small' }, words().dragHint)
      : null,
    trialView({
      state,
      details,
      trial,
      onTrial: on.trial,
      onDrop: () => on.trial({}),
      onDecide: on.decide,
    }),
    spareView(details.tag, backend, on.failed),
    ...(queries.length === 0 ? [] : [h('h3', {}, words().queries)]),
    ...queries.map((query) => queryCard(state, query, on.decide)),
  );
}

/** The decision of a key: A accepts, H holds, X excludes. */
export const REVIEW_KEYS: Readonly<Record<string, string>> = {
  a: 'accept',
  h: 'hold',
  x: 'exclude',
};

function decisionBar({ state, details: { tag }, on }: DetailInput): HTMLElement {
  const { accept, hold, exclude, takeBack, remarks, keep } = words();
  const decided = decidedOf(state, 'penetration', tag);
  const review = decided.get('review') ?? '';
  const say = (name: string, value: string) =>
    on.decide([{ about: 'penetration', subject: tag, field: name, tag: null, value }]);
  const reviewButton = (value: string, text: string) =>
    button(`review-${value}`, text, () => say('review', value), review === value);
  const remark = field('remarks', remarks, decided.get('remarks') ?? '');
  return h(
    'div',
    { class: 'decide' },
    reviewButton('accept', accept),
    reviewButton('hold', hold),
    reviewButton('exclude', exclude),
    review === '' ? null : button('review-back', takeBack, () => say('review', '')),
    remark.row,
    button('remarks-keep', keep, () => say('remarks', remark.box.value.trim())),
  );
}
