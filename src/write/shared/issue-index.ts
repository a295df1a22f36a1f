import { compareText, groupBy } from '../../basics/order.ts';
import type { Query } from '../../basics/query.ts';
import type { Cable, CableMatch } from '../../model/cable.ts';
import type { Decision } from '../../model/decision.ts';
import type { Issue } from '../../model/issue.ts';
import type { Crossing, Penetration } from '../../model/penetration.ts';
import type { Seal } from '../../model/seal.ts';

/** One drawing: seals that are built the same, under one number. */
export interface SealDrawing {
  /** "D-001"; counted in order of the first tag that uses it. */
  readonly number: string;
  readonly typeKey: string;
  /** The seal that is drawn. */
  readonly seal: Seal;
  readonly penetration: Penetration | null;
  /** Tags that share it, in order, each once. */
  readonly tags: readonly string[];
}

/** An issue with what the writers look up, looked up once. */
export interface IssueIndex {
  readonly issue: Issue;
  readonly penetrations: ReadonlyMap<string, Penetration>;
  readonly crossings: ReadonlyMap<string, Crossing>;
  readonly cables: ReadonlyMap<string, Cable>;
  readonly sealsOf: ReadonlyMap<string, readonly Seal[]>;
  readonly matchesOf: ReadonlyMap<string, readonly CableMatch[]>;
  readonly queriesOf: ReadonlyMap<string, readonly Query[]>;
  readonly drawings: readonly SealDrawing[];
  readonly drawingOf: ReadonlyMap<string, SealDrawing>;
  readonly fileNames: ReadonlyMap<string, string>;
  /** What people decided of each penetration: by tag, then by field. */
  readonly decisionsOf: ReadonlyMap<string, ReadonlyMap<string, string>>;
}

/** Looks an issue up by penetration, crossing, cable, file and seal type. */
export function indexIssue(issue: Issue): IssueIndex {
  const penetrations = new Map(issue.penetrations.map((item) => [item.id, item]));
  const drawings = listDrawings(issue, penetrations);
  return {
    issue,
    penetrations,
    crossings: new Map(
      issue.penetrations.flatMap((item) =>
        item.crossings.map((crossing): [string, Crossing] => [crossing.id, crossing]),
      ),
    ),
    cables: new Map(issue.schedule.cables.map((cable) => [cable.id, cable])),
    sealsOf: groupBy(issue.seals, (seal) => seal.penetrationId),
    matchesOf: groupBy(issue.matches.matches, (match) => match.penetrationId),
    queriesOf: groupBy(
      issue.queries.filter((query) => query.penetrationId !== null),
      (query) => query.penetrationId ?? '',
    ),
    drawings,
    drawingOf: new Map(drawings.map((drawing) => [drawing.typeKey, drawing])),
    fileNames: new Map(issue.sources.map((source) => [source.key, source.name])),
    decisionsOf: decidedOf(issue.decisions ?? [], 'penetration'),
  };
}

export const NOTHING_DECIDED: ReadonlyMap<string, string> = new Map();

/** What people decided of the things of a kind: by subject, then by field. */
export function decidedOf(
  decisions: readonly Decision[],
  about: Decision['about'],
): ReadonlyMap<string, ReadonlyMap<string, string>> {
  const ofSubject = groupBy(
    decisions.filter((decision) => decision.about === about),
    ({ subject }) => subject,
  );
  return new Map(
    [...ofSubject].map(([subject, here]) => [
      subject,
      new Map(here.map(({ field, value }): [string, string] => [field, value])),
    ]),
  );
}

/** Tag of a penetration; its id where the register gave it none, so that nothing goes nameless. */
export function tagOf(index: IssueIndex, penetrationId: string): string {
  return index.issue.tags.get(penetrationId) ?? penetrationId;
}

/** Tag of a penetration of this issue; null for none, or one that another took the place of. */
export function tagOrNull(index: IssueIndex, penetrationId: string | null): string | null {
  return penetrationId === null ? null : (index.issue.tags.get(penetrationId) ?? null);
}

/** A file's name as the inputs list it; the key where the file was not listed. */
export function fileName(index: IssueIndex, fileKey: string): string {
  return index.fileNames.get(fileKey) ?? fileKey;
}

/** Area that materials are counted by: the level. */
export function areaOf(penetration: Penetration | null | undefined): string {
  return penetration?.where.level ?? 'no level';
}

/** Whether there is an outline to draw. */
function isDrawn(seal: Seal): boolean {
  return seal.opening !== null;
}

function listDrawings(
  issue: Issue,
  penetrations: ReadonlyMap<string, Penetration>,
): readonly SealDrawing[] {
  const groups = groupBy(issue.seals.filter(isDrawn), (seal) => seal.typeKey);
  const drawings: SealDrawing[] = [];
  for (const [typeKey, seals] of groups) {
    const [seal] = seals;
    if (seal === undefined) continue;
    const tags = new Set(
      seals.map((item) => issue.tags.get(item.penetrationId) ?? item.penetrationId),
    );
    drawings.push({
      number: `D-${String(drawings.length + 1).padStart(3, '0')}`,
      typeKey,
      seal,
      penetration: penetrations.get(seal.penetrationId) ?? null,
      tags: [...tags].sort(compareText),
    });
  }
  return drawings;
}
