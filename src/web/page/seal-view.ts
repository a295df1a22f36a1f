import type { Check, Seal } from '../../model/seal.ts';
import type { Backend } from './backend.ts';
import { h, table } from './dom.ts';
import { figure } from './facts.ts';
import { type Places, sealDrawing } from './seal-drawing.ts';
import { verdictWord, words } from './texts.ts';

/** One seal: its cross-section, what it takes, and its checks. */
export function sealView(
  seal: Seal,
  backend: Backend,
  isTrial: boolean,
  onMoved: (seal: Seal, places: Places) => void,
): HTMLElement {
  const { annulus, bore, remedies } = words();
  return h(
    'section',
    { class: 'seal-part' },
    h('h3', {}, `${seal.path === 'annulus' ? annulus : bore} · ${seal.state}`),
    seal.reason === null ? null : h('p', { class: 'reason' }, seal.reason),
    h(
      'div',
      { class: 'beside' },
      sealDrawing(seal, (places) => onMoved(seal, places)),
      quantities(seal),
    ),
    checksTable(seal.checks),
    ...((seal.remedies ?? []).length === 0
      ? []
      : [
          h('h4', {}, remedies),
          h('ul', {}, ...(seal.remedies ?? []).map(({ text }) => h('li', {}, text))),
        ]),
    // A trial has no drawing that was issued.
    isTrial ? null : paperDrawing(seal, backend),
  );
}

/** The drawing of the workbook, fetched when it is opened. */
function paperDrawing(seal: Seal, backend: Backend): HTMLElement {
  const { paper } = words();
  const place = h('div', { class: 'paper' });
  const details = h('details', {}, h('summary', {}, paper), place);
  details.addEventListener('toggle', () => {
    if (!details.open || place.childElementCount > 0) return;
    void backend.ask({ ask: 'section', seal: seal.id }).then((markup) => {
      if (markup === null) return;
      const address = URL.createObjectURL(new Blob([markup], { type: 'image/svg+xml' }));
      const image = h('img', { src: address, alt: `${paper}: ${seal.id}` });
      image.addEventListener('load', () => URL.revokeObjectURL(address));
      place.replaceChildren(image);
    });
  });
  return details;
}

function quantities(seal: Seal): HTMLElement {
  const { sealant, fillers, fillerText, spare, perFace, spareText } = words();
  const lines: [string, string][] = [];
  if (seal.sealant !== null) {
    const { name, perFaceMl, faces, withAllowancesMl } = seal.sealant;
    const amount = perFace(figure(perFaceMl), faces, figure(withAllowancesMl));
    lines.push([sealant, `${name}: ${amount}`]);
  }
  if (seal.fillerQuantities.length > 0) {
    const texts = seal.fillerQuantities.map(
      ({ name, whole, split, sets }) => `${name}: ${fillerText(whole, split, sets)}`,
    );
    lines.push([fillers, texts.join('; ')]);
  }
  if (seal.spare !== null) {
    const { emptyTubes, largestThroughTubeMm, largestExtraFixedMm } = seal.spare;
    lines.push([
      spare,
      spareText(
        emptyTubes,
        largestThroughTubeMm === null ? '–' : figure(largestThroughTubeMm),
        figure(largestExtraFixedMm),
      ),
    ]);
  }
  return h('dl', {}, ...lines.flatMap(([term, text]) => [h('dt', {}, term), h('dd', {}, text)]));
}

/** Unit of checks whose value is a share. */
const RATIO = '0–1';

/** Checks with what decides them: value against limit, what is missing, and the source. */
function checksTable(checks: readonly Check[]): HTMLElement {
  const { check, verdict, value, limit, notes, missing, none } = words();
  if (checks.length === 0) return h('p', { class: 'small' }, none);
  const amount = (number: number | null, unit: string) =>
    number === null ? '' : `${figure(number)} ${unit === RATIO ? '' : unit}`.trim();
  return table(
    [check, verdict, value, limit, notes],
    checks.map((each) => [
      each.name,
      h('span', { class: `verdict ${each.verdict.replace(' ', '-')}` }, verdictWord(each.verdict)),
      amount(each.value, each.unit),
      amount(each.limit, each.unit),
      [
        each.missing.length === 0 ? '' : `${missing}: ${each.missing.join('; ')}`,
        each.note ?? '',
        each.source,
      ]
        .filter((text) => text !== '')
        .join(' · '),
    ]),
  );
}
