/** Where a fact was read: the file's key in the project, and the place inside it. */
export interface SourcePlace {
  readonly fileKey: string;
  /** GlobalId, entity handle or another id that the file itself gives. */
  readonly id?: string;
  readonly line?: number;
  readonly sheet?: string;
  readonly row?: number;
}

/** Why a fact is believed. Kept with the fact and shown to people who ask. */
export interface Evidence {
  /** What it supports, in a few words: "size", "reference", "opening", "host". */
  readonly fact: string;
  /** What was seen, as a sentence for people. */
  readonly text: string;
  readonly place: SourcePlace;
  /** Distance from the thing to what was read, where nearness is part of the reason. */
  readonly distanceMm?: number;
}

/** A place as one line of text: "arch #2O2Fr$t4X7Zf8NOew3FLOH", "cables, sheet Power, row 14". */
export function placeText(place: SourcePlace): string {
  const parts = [place.fileKey];
  if (place.id !== undefined) parts.push(`#${place.id}`);
  if (place.sheet !== undefined) parts.push(`sheet ${place.sheet}`);
  if (place.row !== undefined) parts.push(`row ${place.row}`);
  if (place.line !== undefined) parts.push(`line ${place.line}`);
  return parts.join(', ');
}
