import type { Query } from '../../basics/query.ts';
import type { PlacedBody } from '../../model/arrangement.ts';
import { sealKeyOf } from '../../model/as-built.ts';
import type { Cable } from '../../model/cable.ts';
import type { Issue } from '../../model/issue.ts';
import type { Penetration } from '../../model/penetration.ts';
import type { Seal } from '../../model/seal.ts';
import type { TakeOff } from '../../model/take-off.ts';
import { areaOf, type IssueIndex, NOTHING_DECIDED, tagOf } from '../shared/issue-index.ts';
import { pathText } from '../shared/phrases.ts';

/** What passes the seal, where it lies, and when it comes. */
export interface Passing {
  readonly body: PlacedBody;
  readonly cable: Cable | null;
  /** Null where it passes from the first stage on. */
  readonly comesAt: string | null;
}

/** One seal with all that its page and its labels say. */
export interface PageFacts {
  readonly seal: Seal;
  readonly tag: string;
  readonly path: string;
  /** Its name within the penetration, as the site record has it. */
  readonly key: string;
  readonly area: string;
  readonly penetration: Penetration | null;
  readonly drawing: string | null;
  readonly passing: readonly Passing[];
  readonly queries: readonly Query[];
  /** What this seal alone takes. */
  readonly takes: TakeOff;
  /** "hold" where people set it so, else the status of the issue. */
  readonly status: string;
  readonly remarks: string | null;
  readonly issue: Issue;
}

/** Every seal that is designed or asked about, in order of tag. */
export function pageFacts(index: IssueIndex, takesOf: (seal: Seal) => TakeOff): PageFacts[] {
  const cablesByRef = new Map(index.issue.schedule.cables.map((cable) => [cable.ref, cable]));
  return index.issue.seals
    .filter(({ state }) => state !== 'none')
    .map((seal) => {
      const tag = tagOf(index, seal.penetrationId);
      const decided = index.decisionsOf.get(tag) ?? NOTHING_DECIDED;
      return {
        seal,
        tag,
        key: sealKeyOf(seal),
        path: pathText(seal, index.crossings),
        area: areaOf(index.penetrations.get(seal.penetrationId)),
        penetration: index.penetrations.get(seal.penetrationId) ?? null,
        drawing: seal.opening === null ? null : (index.drawingOf.get(seal.typeKey)?.number ?? null),
        passing: passingOf(seal, cablesByRef),
        queries: index.queriesOf.get(seal.penetrationId) ?? [],
        takes: takesOf(seal),
        status:
          decided.get('review') === 'hold'
            ? 'hold'
            : (decided.get('status') ?? index.issue.settings.issue.status),
        remarks: decided.get('remarks') ?? null,
        issue: index.issue,
      };
    });
}

function passingOf(seal: Seal, cables: ReadonlyMap<string, Cable>): Passing[] {
  const stageOf = new Map(
    (seal.stages ?? [])
      .slice(1)
      .flatMap(({ name, comes }) => comes.map((ref): [string, string] => [ref, name])),
  );
  return (seal.arrangement?.items ?? []).map((body) => ({
    body,
    cable: cables.get(body.ref) ?? cables.get(body.ref.replace(/\/\d+$/, '')) ?? null,
    comesAt: stageOf.get(body.ref) ?? null,
  }));
}
