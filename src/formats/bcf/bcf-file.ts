/**
 * The content of a BCF archive (BIM Collaboration Format), 2.1 and 3.0 alike.
 *
 * @source buildingSMART BCF-XML 2.1 and 3.0: markup.xsd, visinfo.xsd, extensions.xsd.
 */

export type BcfPoint = readonly [number, number, number];

export interface BcfFile {
  /** `2.1`, `3.0`; as written. */
  readonly version: string;
  readonly project: { readonly id: string; readonly name: string | null } | null;
  readonly words: BcfWords;
  readonly topics: readonly BcfTopic[];
  /** What the archive holds against its standard. */
  readonly problems: readonly BcfProblem[];
}

/** Words that topics may use; empty lists where the archive names none (always in 2.1). */
export interface BcfWords {
  readonly types: readonly string[];
  readonly statuses: readonly string[];
  readonly priorities: readonly string[];
  readonly labels: readonly string[];
  readonly users: readonly string[];
}

export interface BcfProblem {
  /** Entry of the archive. */
  readonly entry: string;
  readonly text: string;
}

export interface BcfTopic {
  /** Lower case. */
  readonly guid: string;
  /** Folder in the archive; the same as the guid in a sound one. */
  readonly folder: string;
  readonly type: string | null;
  readonly status: string | null;
  readonly title: string;
  readonly priority: string | null;
  readonly labels: readonly string[];
  readonly links: readonly string[];
  readonly createdOn: string | null;
  readonly createdBy: string | null;
  readonly modifiedOn: string | null;
  readonly modifiedBy: string | null;
  readonly assignedTo: string | null;
  readonly description: string | null;
  /** Models that the viewpoints point into. */
  readonly files: readonly string[];
  readonly comments: readonly BcfComment[];
  readonly viewpoints: readonly BcfViewpoint[];
}

export interface BcfComment {
  readonly guid: string;
  readonly date: string | null;
  readonly author: string | null;
  readonly text: string;
  readonly viewpointGuid: string | null;
  readonly modifiedOn: string | null;
  readonly modifiedBy: string | null;
}

export interface BcfCamera {
  /** World metres. */
  readonly at: BcfPoint;
  readonly direction: BcfPoint;
  readonly up: BcfPoint;
  /** Vertical, degrees; null for an orthogonal camera. */
  readonly fieldOfViewDeg: number | null;
  /** Height of the view, metres; null for a perspective camera. */
  readonly viewHeightM: number | null;
  /** Width over height; null in 2.1, which has none. */
  readonly aspectRatio: number | null;
}

export interface BcfViewpoint {
  readonly guid: string;
  readonly index: number | null;
  readonly camera: BcfCamera | null;
  /** GlobalIds of selected components. */
  readonly selected: readonly string[];
  readonly defaultVisibility: boolean;
  /** GlobalIds that differ from the default. */
  readonly exceptions: readonly string[];
  readonly openingsVisible: boolean;
  /** PNG or JPEG bytes; null where there is none. */
  readonly snapshot: Uint8Array | null;
  /** Entries as they were read, which hold more than is told here; absent for a new viewpoint. */
  readonly source?: {
    readonly view: BcfPart | null;
    readonly picture: BcfPart | null;
  };
}

/** A file in the folder of a topic. */
export interface BcfPart {
  readonly name: string;
  readonly bytes: Uint8Array;
}
