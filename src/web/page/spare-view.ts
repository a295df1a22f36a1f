import type { SpareAnswer } from '../../model/review.ts';
import type { Backend } from './backend.ts';
import { field, fill, h } from './dom.ts';
import { words } from './texts.ts';

/** Asks whether one more cable fits the seals as built. */
export function spareView(tag: string, backend: Backend, failed: (error: unknown) => void) {
  const text = words();
  const reference = field('spare-ref', text.reference, '');
  const diameter = field('spare-diameter', text.diameter, '', { type: 'number' });
  const answer = h('div', { role: 'status' });
  return h(
    'details',
    { class: 'trial' },
    h('summary', {}, text.askSpare),
    h(
      'form',
      {
        class: 'fields',
        submit: (event) => {
          event.preventDefault();
          const diameterMm = diameter.box.valueAsNumber;
          if (!(diameterMm > 0)) return;
          const ref = reference.box.value.trim() || '+';
          backend
            .ask({ ask: 'spare', tag, ref, diameterMm })
            .then((given) => fill(answer, ...waysOf(given)), failed);
        },
      },
      reference.row,
      diameter.row,
      h('button', { id: 'spare-ask', type: 'submit' }, text.ask),
    ),
    answer,
  );
}

function waysOf({ ways }: SpareAnswer): HTMLElement[] {
  const text = words();
  if (ways.length === 0) return [h('p', {}, text.none)];
  return ways.map(({ path, answer: { way, reasons, unverified } }) =>
    h(
      'section',
      {},
      h(
        'p',
        {},
        h('b', {}, `${path === 'annulus' ? text.annulus : text.bore}: ${text.ways[way] ?? way}`),
      ),
      ...reasons.map((reason) => h('p', { class: 'small' }, reason)),
      unverified.length === 0
        ? null
        : h('p', { class: 'small' }, `${text.unverified}: ${unverified.join('; ')}`),
    ),
  );
}
