import type { ReviewRow, ReviewState } from '../../model/review.ts';
import { h, part } from './dom.ts';
import { reviewsOf } from './facts.ts';
import { verdictWord, words } from './texts.ts';

/** Height of a row, as in the style sheet. */
const ROW_PX = 58;
/** Rows kept ready above and below what is in sight. */
const SPARE_ROWS = 12;

/**
 * A list of any length: only the rows in sight are in the page. One element has the focus and says
 * which row is meant, as the ARIA practices ask of a listbox.
 */
export class ListView {
  private readonly list = part('list');
  private readonly inner = h('div', { class: 'rows', role: 'presentation' });
  private rows: readonly ReviewRow[] = [];
  private reviews: ReadonlyMap<string, string> = new Map();
  private chosen: string | null = null;
  private readonly onChoose: (tag: string) => void;

  constructor(onChoose: (tag: string) => void) {
    this.onChoose = onChoose;
    this.list.replaceChildren(this.inner);
    this.list.addEventListener('scroll', () => this.draw(), { passive: true });
    new ResizeObserver(() => this.draw()).observe(this.list);
    this.list.addEventListener('keydown', (event) => this.key(event));
    this.list.addEventListener('click', (event) => {
      const row = (event.target as Element).closest('[data-tag]');
      const tag = row?.getAttribute('data-tag');
      if (tag) this.onChoose(tag);
    });
  }

  show(state: ReviewState, rows: readonly ReviewRow[], chosen: string | null): void {
    this.rows = rows;
    this.reviews = reviewsOf(state);
    this.chosen = chosen;
    this.inner.style.height = `${rows.length * ROW_PX}px`;
    this.bringIntoSight();
    this.draw();
  }

  /** The next row in the list, or the one before; none at the ends. */
  neighbour(by: number): string | null {
    const at = this.rows.findIndex(({ tag }) => tag === this.chosen);
    const to = Math.min(this.rows.length - 1, Math.max(0, at + by));
    return this.rows[to]?.tag ?? null;
  }

  private key(event: KeyboardEvent): void {
    const page = Math.max(1, Math.floor(this.list.clientHeight / ROW_PX) - 1);
    const steps: Readonly<Record<string, number>> = {
      ...{ ArrowDown: 1, ArrowUp: -1, PageDown: page, PageUp: -page },
      ...{ Home: -this.rows.length, End: this.rows.length },
    };
    const by = steps[event.key];
    const tag = by === undefined ? null : this.neighbour(by);
    if (tag === null) return;
    event.preventDefault();
    this.onChoose(tag);
  }

  private bringIntoSight(): void {
    const at = this.rows.findIndex(({ tag }) => tag === this.chosen);
    if (at < 0) return;
    const [top, height] = [at * ROW_PX, this.list.clientHeight];
    if (top < this.list.scrollTop) this.list.scrollTop = top;
    else if (top + ROW_PX > this.list.scrollTop + height) {
      this.list.scrollTop = top + ROW_PX - height;
    }
  }

  private draw(): void {
    const from = Math.max(0, Math.floor(this.list.scrollTop / ROW_PX) - SPARE_ROWS);
    const count = Math.ceil(this.list.clientHeight / ROW_PX) + 2 * SPARE_ROWS;
    const chosenAt = this.rows.findIndex(({ tag }) => tag === this.chosen);
    const inSight = this.rows.slice(from, from + count).map((row, at) => this.row(row, from + at));
    // The chosen row stays in the page, since the list says by its id which one is meant.
    const chosen = this.rows[chosenAt];
    if (chosen !== undefined && (chosenAt < from || chosenAt >= from + count)) {
      inSight.push(this.row(chosen, chosenAt));
    }
    this.inner.replaceChildren(...inSight);
    if (chosen === undefined) this.list.removeAttribute('aria-activedescendant');
    else this.list.setAttribute('aria-activedescendant', rowId(chosen.tag));
  }

  private row(row: ReviewRow, at: number): HTMLElement {
    const { queries } = row;
    const review = this.reviews.get(row.tag);
    const asked = queries.stop + queries.ask;
    const text = words();
    const element = h(
      'div',
      {
        role: 'option',
        class: 'row',
        id: rowId(row.tag),
        'data-tag': row.tag,
        'aria-selected': String(row.tag === this.chosen),
        'aria-setsize': String(this.rows.length),
        'aria-posinset': String(at + 1),
      },
      h(
        'span',
        { class: 'row-head' },
        h('b', { dir: 'auto' }, row.tag),
        h('span', { class: `verdict ${row.verdict.replace(' ', '-')}` }, verdictWord(row.verdict)),
        review === undefined
          ? null
          : h('span', { class: 'reviewed' }, text.reviewWords[review] ?? review),
      ),
      h(
        'span',
        { class: 'row-text', dir: 'auto' },
        [row.level, row.where, row.host].filter((each) => each).join(' · '),
      ),
      h(
        'span',
        { class: 'row-text' },
        [
          row.size ?? text.nothingProvided,
          text.servicesAndCables(row.services, row.cables.length),
          ...(asked > 0 ? [text.queriesOpen(asked)] : []),
        ].join(' · '),
      ),
    );
    element.style.top = `${at * ROW_PX}px`;
    return element;
  }
}

function rowId(tag: string): string {
  return `row-${encodeURIComponent(tag)}`;
}
