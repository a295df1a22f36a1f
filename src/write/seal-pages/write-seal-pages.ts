import { groupBy } from '../../basics/order.ts';
import type { Issue } from '../../model/issue.ts';
import type { Seal } from '../../model/seal.ts';
import type { TakeOff } from '../../model/take-off.ts';
import { areaOf, indexIssue } from '../shared/issue-index.ts';
import { CAUTIONS } from '../shared/phrases.ts';
import { plainFileName } from '../shared/plain-file-name.ts';
import { type Html, htmlDocument, tag, textTable, words } from './html.ts';
import { type KeyPlan, keyPlan } from './key-plan.ts';
import { labelSheets } from './labels.ts';
import { type PageFacts, pageFacts } from './page-facts.ts';
import { LABEL_STYLE, PAGE_STYLE } from './page-style.ts';
import { sealPage } from './seal-page.ts';
import { isToBuild } from './steps.ts';

export interface SealPagesFile {
  readonly name: string;
  readonly text: string;
}

/**
 * Pages for those who build the seals: for each level a printable file (several where there are many)
 * with a page for each seal that is designed or asked about, and one with sheets of labels for those
 * that are to be built.
 * HTML that asks for nothing and runs nothing. `takesOf` gives what one seal alone takes. Nothing
 * for an issue without seals.
 */
export function writeSealPages(issue: Issue, takesOf: (seal: Seal) => TakeOff): SealPagesFile[] {
  const facts = pageFacts(indexIssue(issue), takesOf);
  const used = new Set<string>();
  const pages = [...groupBy(facts, ({ area }) => area)].flatMap(([area, here]) => {
    const plan = keyPlan(issue.penetrations.filter((each) => areaOf(each) === area));
    return chunks(here, MOST_IN_FILE).map((part, at, parts) => {
      const name = parts.length === 1 ? area : `${area}, part ${at + 1} of ${parts.length}`;
      return {
        name: plainFileName('seal-pages', at === 0 ? area : name, 'html', used),
        text: pagesOf(issue, name, part, plan),
      };
    });
  });
  const title = `Labels, ${issue.settings.project.name}`;
  const labels = chunks(labelSheets(facts), MOST_IN_FILE).map((sheets, at) => ({
    name: at === 0 ? 'seal-labels.html' : `seal-labels-${at + 1}.html`,
    text: htmlDocument(title, LABEL_STYLE, sheets),
  }));
  return [...pages, ...labels];
}

/** Pages of one file; more are slow to open and to print. Own choice. */
const MOST_IN_FILE = 400;

function chunks<T>(items: readonly T[], most: number): T[][] {
  const count = Math.ceil(items.length / most);
  return Array.from({ length: count }, (_, at) => items.slice(at * most, (at + 1) * most));
}

function pagesOf(issue: Issue, area: string, facts: readonly PageFacts[], plan: KeyPlan): string {
  const title = `Seal pages, ${area}, ${issue.settings.project.name}`;
  return htmlDocument(title, PAGE_STYLE, [
    plan.shared,
    contents(issue, area, facts),
    ...facts.map((each) => sealPage(each, plan)),
  ]);
}

function contents({ settings, range }: Issue, area: string, facts: readonly PageFacts[]): Html {
  const { project, issue } = settings;
  const head = [
    project.number,
    project.name,
    `revision ${issue.revision}`,
    issue.date,
    issue.purpose,
  ].filter((part) => part !== undefined && part !== '');
  const rows = facts.map((each) => [
    each.tag,
    each.path,
    each.penetration?.where.grid ?? '',
    each.drawing ?? '',
    isToBuild(each) ? '' : each.status === 'hold' ? 'on hold' : 'not designed',
  ]);
  return tag(
    'article',
    {},
    tag('h1', {}, words(`Seal pages, ${area}`)),
    tag('p', {}, words(head.join(' · '))),
    ...(range.sample
      ? [tag('p', { class: 'stop' }, words('Made with a sample range: not for use.'))]
      : []),
    tag(
      'section',
      { class: 'cautions' },
      ...CAUTIONS.map(([subject, text]) =>
        tag('p', {}, tag('b', {}, words(`${subject}. `)), words(text)),
      ),
    ),
    tag(
      'section',
      {},
      textTable(['Tag', 'Path', 'Grid', 'Drawing', 'State'], rows, 'list contents'),
    ),
  );
}
