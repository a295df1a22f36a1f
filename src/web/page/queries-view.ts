import type { NewDecision, ReviewQuery, ReviewState } from '../../model/review.ts';
import { button, h } from './dom.ts';
import { decidedOf } from './facts.ts';
import { words } from './texts.ts';

type Decide = (decisions: readonly NewDecision[]) => void;

/** Queries shown at once; more come when asked for. */
const AT_ONCE = 60;
const ORDER = { stop: 0, ask: 1, note: 2 };

/** All queries that hold the words of the search, the gravest first. */
export function queriesView(state: ReviewState, search: string, decide: Decide): HTMLElement {
  const wanted = search.toLowerCase().split(/\s+/);
  const found = state.queries
    .filter(({ text, code, tag }) => {
      const content = `${tag ?? ''} ${code} ${text}`.toLowerCase();
      return wanted.every((word) => content.includes(word));
    })
    .sort((a, b) => ORDER[a.severity] - ORDER[b.severity]);
  const place = h('section', {}, h('h2', {}, `${words().queries} ${found.length}`));
  const show = (from: number) => {
    place.append(
      ...found.slice(from, from + AT_ONCE).map((each) => queryCard(state, each, decide)),
    );
    const left = found.length - from - AT_ONCE;
    if (left <= 0) return;
    const more = button(`queries-${from}`, words().more(Math.min(left, AT_ONCE)), () => {
      more.remove();
      show(from + AT_ONCE);
    });
    place.append(more);
  };
  show(0);
  return place;
}

/** One query with a box for its answer; candidates can be put in by a press. */
export function queryCard(state: ReviewState, query: ReviewQuery, decide: Decide): HTMLElement {
  const text = words();
  const decided = decidedOf(state, 'query', query.id).get('answer');
  const key = encodeURIComponent(query.id);
  const box = h(
    'textarea',
    { id: `answer-${key}`, rows: '2', 'aria-label': `${text.answer}: ${query.text.slice(0, 120)}` },
    decided ?? '',
  );
  const choices = (query.candidates ?? []).flatMap(({ tag, confidence }, at) =>
    tag === null
      ? []
      : [
          button(`take-${key}-${at}`, `${tag} (${Math.round(confidence * 100)} %)`, () => {
            box.value = `passes ${tag}`;
          }),
        ],
  );
  return h(
    'article',
    { class: `query ${query.severity}` },
    h(
      'h3',
      { dir: 'auto' },
      [
        text.severities[query.severity] ?? query.severity,
        ...(query.tag === null ? [] : [query.tag]),
        query.code,
        ...(decided === undefined ? [] : [`(${text.answered})`]),
      ].join(' · '),
    ),
    h('p', { dir: 'auto' }, query.text),
    h('p', { class: 'small' }, `${text.why}: ${query.why}`),
    h('p', { class: 'small' }, `${text.settles}: ${query.settles}`),
    choices.length === 0 ? null : h('p', { class: 'actions' }, ...choices),
    h(
      'p',
      { class: 'actions' },
      box,
      button(`save-${key}`, text.saveAnswer, () =>
        decide([
          {
            about: 'query',
            subject: query.id,
            field: 'answer',
            tag: null,
            value: box.value.trim(),
          },
        ]),
      ),
    ),
  );
}
