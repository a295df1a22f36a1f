import type { Seal } from '../../model/seal.ts';
import { dutyText } from '../shared/phrases.ts';
import { type Html, tag, words } from './html.ts';
import type { PageFacts } from './page-facts.ts';
import { isToBuild } from './steps.ts';
import { tagCode } from './tag-code.ts';

/** Labels of one sheet of A4: 3 × 8 of 70 × 37 mm, as sheets of labels are sold. Common practice, no source. */
const LABELS_A_SHEET = 24;
const CODE_MM = 26;

/** Sheets of labels: one a face of every seal that is to be built. */
export function labelSheets(all: readonly PageFacts[]): Html[] {
  const labels = all
    .filter(isToBuild)
    .flatMap((facts) => facesOf(facts.seal).map((face) => label(facts, face)));
  const sheets: Html[] = [];
  for (let at = 0; at < labels.length; at += LABELS_A_SHEET) {
    sheets.push(tag('div', { class: 'labels' }, ...labels.slice(at, at + LABELS_A_SHEET)));
  }
  return sheets;
}

function facesOf({ faces }: Seal): readonly (string | null)[] {
  return faces > 1 ? ['near face', 'far face'] : [null];
}

function label({ tag: name, path, seal, issue }: PageFacts, face: string | null): Html {
  const duties = seal.duties.map(dutyText).join('; ');
  return tag(
    'div',
    { class: 'label' },
    tagCode(name, CODE_MM),
    tag(
      'div',
      {},
      tag('b', {}, words(name)),
      tag('p', {}, words(face === null ? path : `${path}, ${face}`)),
      tag('p', {}, words(duties === '' ? (issue.settings.project.number ?? '') : duties)),
      tag('p', { class: 'keep' }, words('Sealed. Ask before a cable is added.')),
      tag('p', {}, words('Date ________ By ________')),
    ),
  );
}
