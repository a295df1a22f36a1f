import type { NewDecision, ReviewDetails, ReviewState, Trial } from '../../model/review.ts';
import { button, choice, field, h } from './dom.ts';
import { words } from './texts.ts';

/** A trial as it is being put together, and how its next step is told. */
export interface TrialForm {
  readonly state: ReviewState;
  readonly details: ReviewDetails;
  readonly trial: Trial;
  readonly onTrial: (trial: Trial) => void;
  readonly onDrop: () => void;
  readonly onDecide: (decisions: readonly NewDecision[]) => void;
}

/** The form that changes sizes and cables of one penetration, live. */
export function trialView(form: TrialForm): HTMLElement {
  const text = words();
  const isBegun = Object.keys(form.trial).length > 0;
  return h(
    'details',
    { class: 'trial', open: isBegun },
    h('summary', {}, text.trial),
    h('p', { class: 'small' }, text.trialNote),
    h('div', { class: 'fields' }, ...sizeFields(form)),
    fillerFields(form),
    cableFields(form),
    addFields(form),
    form.trial.more === undefined &&
      form.trial.places === undefined &&
      form.trial.withoutFillers === undefined
      ? null
      : h('p', { class: 'small' }, text.trialPlaces),
    isBegun
      ? h(
          'p',
          { class: 'actions' },
          button('trial-decide', text.decideTrial, () => form.onDecide(decisionsOf(form))),
          button('trial-drop', text.dropTrial, form.onDrop),
        )
      : null,
  );
}

type NumberKey = 'separationMm' | 'edgeMm' | 'setBackMm';

function sizeFields(form: TrialForm): HTMLElement[] {
  const { trial, onTrial, state } = form;
  const text = words();
  const opening = field('trial-opening', text.opening, trial.opening ?? '', {
    hint: text.openingHint,
  });
  opening.box.addEventListener('change', () => {
    onTrial(withValue(trial, 'opening', opening.box.value.trim() || undefined));
  });
  const number = (key: NumberKey, label: string) => {
    const { row, box } = field(`trial-${key}`, label, String(trial[key] ?? ''), {
      type: 'number',
      hint: text.asIs,
    });
    box.addEventListener('change', () => onTrial(withValue(trial, key, numberOf(box))));
    return row;
  };
  return [
    opening.row,
    number('separationMm', text.separation),
    number('edgeMm', text.edge),
    number('setBackMm', text.setBack),
    choice(
      'trial-faces',
      text.faces,
      [
        ['', text.asIs],
        ['1', '1'],
        ['2', '2'],
      ],
      trial.faces === undefined ? '' : (String(trial.faces) as '1' | '2'),
      (value) =>
        onTrial(withValue(trial, 'faces', value === '' ? undefined : value === '1' ? 1 : 2)),
    ),
    choice(
      'trial-sealant',
      text.sealant,
      [['', text.asIs], ...state.sealants.map((name) => [name, name] as const)],
      trial.sealant ?? '',
      (value) => onTrial(withValue(trial, 'sealant', value || undefined)),
    ),
  ];
}

/** A box to tick for what is left out; none left out is as it is. */
function leaveOut(
  id: string,
  name: string,
  without: readonly string[],
  onChange: (without: string[] | undefined) => void,
): HTMLElement {
  const tick = h('input', { type: 'checkbox', id, checked: without.includes(name) });
  tick.addEventListener('change', () => {
    const next = tick.checked ? [...without, name] : without.filter((each) => each !== name);
    onChange(next.length > 0 ? next : undefined);
  });
  return h('label', { for: id, class: 'tick' }, tick, ` ${words().leaveOut} ${name}`);
}

function fillerFields({ state, trial, onTrial }: TrialForm): HTMLElement {
  return h(
    'div',
    { class: 'fields' },
    ...state.fillers.map((name, at) =>
      leaveOut(`trial-filler-${at}`, name, trial.withoutFillers ?? [], (without) =>
        onTrial(withValue(trial, 'withoutFillers', without)),
      ),
    ),
  );
}

function cableFields({ details, trial, onTrial }: TrialForm): HTMLElement {
  const text = words();
  const { cables } = details.facts;
  const rows = cables.map(({ ref }, at) => {
    const { row, box } = field(
      `trial-diameter-${at}`,
      `${ref}: ${text.diameter}`,
      String(trial.diametersMm?.[ref] ?? ''),
      { type: 'number', hint: text.asIs },
    );
    box.addEventListener('change', () => {
      const value = numberOf(box);
      const { [ref]: _before, ...others } = trial.diametersMm ?? {};
      const diametersMm = value === undefined ? others : { ...others, [ref]: value };
      onTrial(
        withValue(
          trial,
          'diametersMm',
          Object.keys(diametersMm).length > 0 ? diametersMm : undefined,
        ),
      );
    });
    row.append(
      leaveOut(`trial-without-${at}`, ref, trial.without ?? [], (without) =>
        onTrial(withValue(trial, 'without', without)),
      ),
    );
    return row;
  });
  return h('div', { class: 'fields' }, ...rows);
}

function addFields({ trial, onTrial }: TrialForm): HTMLElement {
  const text = words();
  const reference = field('trial-ref', `${text.addCable}: ${text.reference}`, '');
  const diameter = field('trial-add-diameter', text.diameter, '', { type: 'number' });
  return h(
    'form',
    {
      class: 'fields',
      submit: (event) => {
        event.preventDefault();
        const [ref, diameterMm] = [reference.box.value.trim(), numberOf(diameter.box)];
        if (ref === '' || diameterMm === undefined || diameterMm <= 0) return;
        onTrial({ ...trial, more: [...(trial.more ?? []), { ref, diameterMm }] });
      },
    },
    reference.row,
    diameter.row,
    h('button', { id: 'trial-add', type: 'submit' }, text.add),
    ...(trial.more ?? []).map(({ ref, diameterMm }) =>
      h('span', { class: 'chip' }, `+ ${ref} ${diameterMm} mm`),
    ),
  );
}

function numberOf(box: HTMLInputElement): number | undefined {
  const value = box.valueAsNumber;
  return Number.isFinite(value) ? value : undefined;
}

function withValue<K extends keyof Trial>(trial: Trial, key: K, value: Trial[K]): Trial {
  const { [key]: _before, ...others } = trial;
  return value === undefined ? others : { ...others, [key]: value };
}

/** What of a trial can be decided: sizes of the seal, diameters, and cables that do not pass. */
function decisionsOf({ details: { tag }, trial }: TrialForm): NewDecision[] {
  const { opening, separationMm, edgeMm, setBackMm, faces, sealant, diametersMm, without } = trial;
  const ofSeal = Object.entries({ opening, separationMm, edgeMm, setBackMm, faces, sealant });
  return [
    ...ofSeal.flatMap(([field, value]) =>
      value === undefined
        ? []
        : [{ about: 'penetration' as const, subject: tag, field, tag: null, value: String(value) }],
    ),
    ...Object.entries(diametersMm ?? {}).map(([ref, value]) => ({
      ...{ about: 'cable' as const, subject: ref, field: 'diameterMm' },
      ...{ tag: null, value: String(value) },
    })),
    ...(without ?? []).map((ref) => ({
      ...{ about: 'cable' as const, subject: ref, field: 'passes' },
      ...{ tag, value: 'no' },
    })),
  ];
}
