import type { NewDecision, ReviewDetails, ReviewState } from '../../model/review.ts';
import { button, h, table } from './dom.ts';
import { passesDecision } from './facts.ts';
import { words } from './texts.ts';

/** Why the tool believes what it says: each cable with its reasons, and what was read where. */
export function reasonsView(
  state: ReviewState,
  { tag, facts, evidence }: ReviewDetails,
  decide: (decisions: readonly NewDecision[]) => void,
): HTMLElement {
  const text = words();
  const say = (ref: string, value: string) =>
    decide([{ about: 'cable', subject: ref, field: 'passes', tag, value }]);
  const cables = facts.cables.map(({ ref, confidence, reasons }, at) => {
    const decided = passesDecision(state, ref, tag);
    return h(
      'li',
      {},
      h('b', { dir: 'auto' }, ref),
      ` ${Math.round(confidence * 100)} % · ${reasons.join(' ')} `,
      button(`passes-${at}`, text.passes, () => say(ref, 'yes'), decided === 'yes'),
      button(`passes-not-${at}`, text.passesNot, () => say(ref, 'no'), decided === 'no'),
    );
  });
  return h(
    'section',
    {},
    h('h3', {}, text.cables),
    cables.length === 0 ? h('p', {}, text.none) : h('ul', { class: 'cables' }, ...cables),
    h('h3', {}, text.evidence),
    table(
      [text.fact, text.seen, text.place],
      evidence.map(({ fact, text: seen, place }) => [fact, seen, place]),
    ),
  );
}

/** What happened to a penetration, revision by revision. */
export function historyView({ history }: ReviewDetails): HTMLElement {
  const text = words();
  return history.length === 0
    ? h('p', {}, text.none)
    : table(
        [text.revision, text.tabs.history],
        history.map((each) => [each.revision, each.text]),
      );
}
