/** What came back about our queries from a BCF archive. */
export interface BcfAnswers {
  /** Version of the archive, as written. */
  readonly version: string;
  /** One a query of ours, sorted by query id. */
  readonly answers: readonly BcfAnswer[];
  /** Topics of others: counted and named, never changed. */
  readonly others: readonly { readonly guid: string; readonly title: string }[];
}

export interface BcfAnswer {
  readonly queryId: string;
  readonly topicGuid: string;
  readonly title: string;
  /** `open`: nobody answered · `answered`: there are comments, or work has begun · `closed`. */
  readonly state: 'open' | 'answered' | 'closed';
  /** As the archive writes it. */
  readonly status: string | null;
  readonly assignedTo: string | null;
  /** In order of date. */
  readonly comments: readonly BcfAnswerComment[];
}

export interface BcfAnswerComment {
  readonly author: string;
  readonly date: string | null;
  readonly text: string;
}
