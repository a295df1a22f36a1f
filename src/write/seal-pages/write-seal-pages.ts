import { groupBy } from '../../basics/order.ts';
import type { Issue } from '../../model/issue.ts';
import type { Penetration } from '../../model/penetration.ts';
import type { Seal } from '../../model/seal.ts';
import type { TakeOff } from '../../model/take-off.ts';
import { areaOf, indexIssue } from '../shared/issue-index.ts';
import { CAUTIONS } from '../shared/phrases.ts';
import { plainFileName } from '../shared/plain-file-name.ts';
import { type Html, htmlDocument, tag, textTable, words } from './html.ts';
import { keyPlan } from './key-plan.ts';
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
 * Pages for those who build the seals: for each level a printable file with a page for each seal
 * that is designed or asked about, and one with sheets of labels for those that are to be built.
 * HTML that asks for nothing and runs nothing. `takesOf` gives what one seal alone takes. Nothing
 * for an issue without seals.
 */
export function writeSealPages(issue: Issue, takesOf: (seal: Seal) => TakeOff): SealPagesFile[] {
  const facts = pageFacts(indexIssue(issue), takesOf);
  const used = new Set<string>();
  const pages = [...groupBy(facts, ({ area }) => area)].map(([area, here]) => {
    const inArea = issue.penetrations.filter((each) => areaOf(each) === area);
    return {
      name: plainFileName('seal-pages', area, 'html', used),
      text: pagesOf(issue, area, here, inArea),
    };
  });
  const sheets = labelSheets(facts);
  if (sheets.length === 0) return pages;
  const title = `Labels, ${issue.settings.project.name}`;
  return [...pages, { name: 'seal-labels.html', text: htmlDocument(title, LABEL_STYLE, sheets) }];
}

function pagesOf(
  issue: Issue,
  area: string,
  facts: readonly PageFacts[],
  penetrations: readonly Penetration[],
): string {
  const plan = keyPlan(penetrations);
  const title = `Seal pages, ${area}, ${issue.settings.project.name}`;
  return htmlDocument(title, PAGE_STYLE, [
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
