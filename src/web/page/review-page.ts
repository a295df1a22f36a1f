import type { NewDecision, ReviewDetails, ReviewState, Trial } from '../../model/review.ts';
import type { Seal } from '../../model/seal.ts';
import { type Backend, Lost } from './backend.ts';
import { detailView, REVIEW_KEYS, type Tab } from './detail-view.ts';
import { button, choice, fill, h, part } from './dom.ts';
import { applied, decidedOf, type Filter, passesDecision, type Sort, shownRows } from './facts.ts';
import { filesView } from './files-view.ts';
import { ListView } from './list-view.ts';
import { queriesView } from './queries-view.ts';
import { closeSolid } from './solid-view.ts';
import { takeOffView } from './take-off-view.ts';
import { type Language, setLanguage, words } from './texts.ts';

type View = 'penetrations' | 'queries' | 'takeOff' | 'files';

/** A while that lets quick typing and quick moves come to rest, ms. */
const REST_MS = 250;

/** The page over an open review: what is shown, what is chosen, and what was decided last. */
export class ReviewPage {
  private readonly backend: Backend;
  private readonly lostText: () => string;
  private readonly list: ListView;
  private state: ReviewState | null = null;
  private details: ReviewDetails | null = null;
  private view: View = 'penetrations';
  private tab: Tab = 'seal';
  private search = '';
  private filter: Filter = 'all';
  private sort: Sort = 'tag';
  private chosen: string | null = null;
  private trial: Trial = {};
  private tried: readonly Seal[] | null = null;
  /** What each decision replaced, the last one last; and what undoing replaced. */
  private readonly undone: NewDecision[][] = [];
  private readonly redone: NewDecision[][] = [];
  /** Decisions wait for the one before, so that each knows the newest version. */
  private turn: Promise<void> = Promise.resolve();

  constructor(backend: Backend, lostText: () => string) {
    this.backend = backend;
    this.lostText = lostText;
    this.list = new ListView((tag) => this.choose(tag));
  }

  async begin(): Promise<void> {
    this.note(words().working);
    this.state = await this.backend.ask({ ask: 'state' });
    part('search').addEventListener('input', (event) => {
      this.search = (event.target as HTMLInputElement).value;
      this.drawList();
      if (this.view === 'queries') this.drawDetail();
    });
    document.addEventListener('keydown', (event) => this.key(event));
    document.body.dataset['open'] = 'yes';
    this.note('');
    this.draw();
  }

  private draw(): void {
    this.drawHead();
    this.drawList();
    this.drawDetail();
  }

  private drawHead(): void {
    const { state } = this;
    if (state === null) return;
    const text = words();
    document.title = `sealbook: ${state.project}`;
    fill(part('project'), `${state.project} · ${text.revision} ${state.revision}`);
    fill(part('caution'), text.caution, state.isSample ? h('b', {}, ` ${text.sample}`) : '');
    const views: readonly (readonly [View, string])[] = [
      ['penetrations', `${text.penetrations} ${state.rows.length}`],
      ['queries', `${text.queries} ${state.queries.length}`],
      ['takeOff', text.takeOff],
      ['files', text.files],
    ];
    const [undo, redo] = [
      button('undo', text.undo, () => this.step(this.undone, this.redone)),
      button('redo', text.redo, () => this.step(this.redone, this.undone)),
    ];
    undo.disabled = this.undone.length === 0;
    redo.disabled = this.redone.length === 0;
    fill(
      part('views'),
      ...views.map(([name, label]) =>
        button(`view-${name}`, label, () => this.show(name), this.view === name),
      ),
      undo,
      redo,
      languageChoice(() => this.draw()),
    );
    this.drawWishes();
  }

  private drawWishes(): void {
    const text = words();
    const box = part('search') as HTMLInputElement;
    box.placeholder = text.search;
    fill(part('search-label'), text.searchLabel);
    fill(
      part('wishes'),
      choice('filter', text.show, entries(text.filters), this.filter, (value) => {
        this.filter = value;
        this.drawList();
      }),
      choice('sort', text.order, entries(text.sorts), this.sort, (value) => {
        this.sort = value;
        this.drawList();
      }),
    );
    part('list').setAttribute('aria-label', text.penetrations);
  }

  private drawList(): void {
    const { state } = this;
    if (state === null) return;
    document.body.dataset['view'] = this.view;
    const { search, filter, sort } = this;
    const rows = shownRows(state, { search, filter, sort });
    fill(part('count'), words().counts(rows.length, state.rows.length));
    if (this.view === 'penetrations') this.list.show(state, rows, this.chosen);
  }

  private drawDetail(): void {
    const { state } = this;
    if (state === null) return;
    closeSolid();
    const place = part('detail');
    switch (this.view) {
      case 'queries':
        fill(place, queriesView(state, this.search, this.decide));
        return;
      case 'takeOff':
        fill(place, h('p', {}, words().working));
        this.backend.ask({ ask: 'takeOff' }).then((takeOff) => {
          if (this.view === 'takeOff') fill(place, takeOffView(takeOff));
        }, this.failed);
        return;
      case 'files':
        fill(
          place,
          filesView(
            this.backend,
            (isWorking) => this.note(isWorking ? words().working : ''),
            this.failed,
          ),
        );
        return;
      case 'penetrations':
        this.drawChosen(state, place);
    }
  }

  private drawChosen(state: ReviewState, place: HTMLElement): void {
    const { details, tab, trial, tried, backend } = this;
    if (details === null) {
      fill(place, h('p', { class: 'small' }, words().choose));
      return;
    }
    const on = {
      tab: (to: Tab) => {
        this.tab = to;
        this.drawDetail();
      },
      choose: (tag: string) => this.choose(tag),
      trial: (next: Trial) => this.tryOut(next),
      decide: this.decide,
      failed: this.failed,
    };
    fill(place, detailView({ state, details, tab, trial, tried, backend, on }));
  }

  private show(view: View): void {
    this.view = view;
    this.draw();
    part('detail').scrollTop = 0;
  }

  private choose(tag: string): void {
    const isOther = tag !== this.chosen;
    this.chosen = tag;
    this.drawList();
    if (isOther) {
      this.trial = {};
      this.tried = null;
      part('detail').scrollTop = 0;
    }
    void this.loadDetails();
  }

  private async loadDetails(): Promise<void> {
    const tag = this.chosen;
    if (tag === null) return;
    try {
      const details = await this.backend.ask({ ask: 'details', tag });
      // Quick keys may have gone on to another row meanwhile.
      if (tag !== this.chosen) return;
      this.details = details;
      this.drawDetail();
    } catch (error) {
      this.failed(error);
    }
  }

  private tryOut(trial: Trial): void {
    this.trial = trial;
    const tag = this.chosen;
    if (tag === null) return;
    if (Object.keys(trial).length === 0) {
      this.tried = null;
      this.drawDetail();
      return;
    }
    this.note(words().working);
    setTimeout(() => {
      if (trial !== this.trial) return;
      this.backend.ask({ ask: 'trial', tag, trial }).then((seals) => {
        if (trial !== this.trial) return;
        this.tried = seals;
        this.note('');
        this.drawDetail();
      }, this.failed);
    }, REST_MS);
  }

  private readonly decide = (decisions: readonly NewDecision[]): void => {
    this.redone.length = 0;
    this.queue(decisions, this.undone);
  };

  /** Undoes or does again: what it replaces goes to the other pile. */
  private step(from: NewDecision[][], to: NewDecision[][]): void {
    const last = from.pop();
    if (last !== undefined) this.queue(last, to);
  }

  private queue(decisions: readonly NewDecision[], replaced: NewDecision[][]): void {
    this.note(words().working);
    this.turn = this.turn.then(() => this.keep(decisions, replaced));
  }

  private async keep(decisions: readonly NewDecision[], replaced: NewDecision[][]): Promise<void> {
    const { state } = this;
    if (state === null) return;
    const before = decisions.map((each) => ({ ...each, value: valueNow(state, each) }));
    try {
      const { version } = state;
      const change = await this.backend.ask({
        ask: 'decide',
        version,
        decisions: [...decisions],
      });
      this.state = applied(state, change);
      if (!change.isRefused) replaced.push(before);
      this.trial = {};
      this.tried = null;
      this.draw();
      this.note(change.isRefused ? words().conflict : words().kept);
      await this.loadDetails();
    } catch (error) {
      this.failed(error, words().failed);
    }
  }

  private readonly failed = (error: unknown, what = words().notAnswered): void => {
    const reason = error instanceof Error ? error.message : String(error);
    this.note(error instanceof Lost ? this.lostText() : `${what} ${reason}`);
  };

  private note(text: string): void {
    fill(part('note'), text);
  }

  /** Letters decide on the chosen penetration, unless they are being written. */
  private key(event: KeyboardEvent): void {
    const value = REVIEW_KEYS[event.key.toLowerCase()];
    const target = event.target as Element;
    const isWriting = target.closest('input, textarea, select') !== null;
    const isPlain = !(event.ctrlKey || event.metaKey || event.altKey);
    const { chosen, view } = this;
    if (
      value === undefined ||
      isWriting ||
      !isPlain ||
      chosen === null ||
      view !== 'penetrations'
    ) {
      return;
    }
    event.preventDefault();
    this.decide([{ about: 'penetration', subject: chosen, field: 'review', tag: null, value }]);
    const next = this.list.neighbour(1);
    if (next !== null) this.choose(next);
  }
}

/** What is decided of the same question now; empty where nothing is. */
function valueNow(state: ReviewState, { about, subject, field, tag }: NewDecision): string {
  const value =
    tag === null
      ? decidedOf(state, about, subject).get(field)
      : passesDecision(state, subject, tag);
  return value ?? '';
}

function entries<K extends string>(texts: Readonly<Record<K, string>>): (readonly [K, string])[] {
  return Object.entries(texts) as [K, string][];
}

function languageChoice(onChange: () => void): HTMLElement {
  const current: Language = document.documentElement.lang === 'de' ? 'de' : 'en';
  return choice(
    'language',
    words().language,
    [
      ['en', 'English'],
      ['de', 'Deutsch'],
    ],
    current,
    (language) => {
      setLanguage(language);
      onChange();
    },
  );
}
