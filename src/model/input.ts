/** A file as the shell hands it to the core: bytes, under the key it has in the project. */
export interface InputFile {
  /** Outlives file names and revisions. */
  readonly key: string;
  /** Name for people; never part of an id. */
  readonly name: string;
  readonly bytes: Uint8Array;
}
