import { compareText, groupBy } from '../../basics/order.ts';
import { shapeText } from '../../geometry/shape.ts';
import type { ElementRef } from '../../model/ids.ts';
import type { Issue } from '../../model/issue.ts';
import type { Penetration } from '../../model/penetration.ts';
import type { Check, Seal } from '../../model/seal.ts';
import type { IfcTagEdit, TagField, TagValue } from '../../model/tag-edit.ts';

/** What the edits of an issue are made from, found by penetration. */
interface IssueIndex {
  readonly issue: Issue;
  readonly seals: ReadonlyMap<string, readonly Seal[]>;
  readonly cables: ReadonlyMap<string, readonly string[]>;
  /** Queries that wait for an answer. */
  readonly openQueries: ReadonlyMap<string, number>;
}

/** What an issue puts into the model of the given file key, in order of tag. */
export function ifcTagEdits(issue: Issue, fileKey: string): IfcTagEdit[] {
  const kind = issue.sources.find((source) => source.key === fileKey)?.kind;
  if (kind !== undefined && kind !== 'ifc') return [];
  const index = indexIssue(issue);
  return issue.penetrations.flatMap((penetration) => {
    const tag = issue.tags.get(penetration.id);
    if (tag === undefined) return [];
    const edit = editOf(index, penetration, tag, fileKey);
    return edit.openingIds.length + edit.serviceIds.length + edit.hostIds.length === 0 ? [] : edit;
  });
}

function indexIssue(issue: Issue): IssueIndex {
  const names = new Map(issue.schedule.cables.map(({ id, ref }) => [id, ref]));
  const matches = groupBy(issue.matches.matches, ({ penetrationId }) => penetrationId);
  const asked = issue.queries.filter(({ severity }) => severity !== 'note');
  const open = groupBy(asked, ({ penetrationId }) => penetrationId ?? '');
  return {
    issue,
    seals: groupBy(issue.seals, ({ penetrationId }) => penetrationId),
    cables: new Map(
      [...matches].map(([id, passing]) => [
        id,
        passing.map(({ cableId }) => names.get(cableId) ?? cableId),
      ]),
    ),
    openQueries: new Map([...open].map(([id, queries]) => [id, queries.length])),
  };
}

function editOf(
  index: IssueIndex,
  penetration: Penetration,
  tag: string,
  fileKey: string,
): IfcTagEdit {
  const seals = index.seals.get(penetration.id) ?? [];
  const annulus = seals.find(({ path }) => path === 'annulus');
  const idsIn = (refs: readonly ElementRef[]) => [
    ...new Set(refs.filter((ref) => ref.fileKey === fileKey).map(({ id }) => id)),
  ];
  return {
    tag,
    openingIds: idsIn(penetration.openings.map(({ ref }) => ref)),
    serviceIds: idsIn(penetration.crossings.flatMap(({ refs }) => refs)).sort(compareText),
    hostIds: idsIn(penetration.hosts.map(({ ref }) => ref)),
    fields: fieldsOf(index, penetration, tag, seals),
    quantities: quantitiesOf(seals),
    seal: seals.some(({ state }) => state === 'designed') ? sealText(seals) : null,
    missing: missingOf(penetration, annulus ?? null),
  };
}

/** What to ask for: only where nothing is provided and the design says what is needed. */
function missingOf(penetration: Penetration, annulus: Seal | null): IfcTagEdit['missing'] {
  if (penetration.kind !== 'unopened' || annulus?.opening == null) return null;
  const systems = penetration.crossings.flatMap((crossing) => crossing.systems);
  return {
    shape: annulus.opening,
    frame: penetration.frame,
    depthMm: penetration.thicknessMm,
    systems: [...new Set(systems)].sort(compareText),
  };
}

function fieldsOf(
  { issue, cables, openQueries }: IssueIndex,
  penetration: Penetration,
  tag: string,
  seals: readonly Seal[],
): TagField[] {
  const [main] = seals;
  const fields: (TagField | null)[] = [
    field('Tag', { kind: 'identifier', text: tag }),
    field('Revision', label(issue.settings.issue.revision)),
    field('Status', label(issue.settings.issue.status)),
    field('Kind', label(penetration.kind)),
    field('Level', label(penetration.where.level)),
    field('Grid', label(penetration.where.grid)),
    field('Opening', label(penetration.shape === null ? null : shapeText(penetration.shape))),
    field('OpeningNeeded', label(neededText(penetration, main))),
    field('HostThickness', { kind: 'lengthMm', value: penetration.thicknessMm }),
    field('Seal', { kind: 'text', text: sealText(seals) }),
    ...(main === undefined ? [] : sealFields(main)),
    field('Duties', labels(seals.flatMap(({ duties }) => duties.map(dutyText)))),
    field('WorstCheck', label(worstText(seals.flatMap(({ checks }) => checks)))),
    field('Cables', labels(cables.get(penetration.id) ?? [])),
    field('OpenQueries', { kind: 'count', value: openQueries.get(penetration.id) ?? 0 }),
    field('Note', {
      kind: 'text',
      text: 'Design aid, not a certificate: local code, tested evidence and licensed people decide.',
    }),
  ];
  return fields.filter((each) => each !== null);
}

function sealFields(seal: Seal): (TagField | null)[] {
  if (seal.state !== 'designed') return [];
  const { arrangement, fillerQuantities, sealant } = seal;
  return [
    field('Sealant', label(sealant?.name ?? null)),
    field('SealedFaces', { kind: 'count', value: seal.faces }),
    field('SetBack', { kind: 'lengthMm', value: seal.setBackMm }),
    seal.fillRatio === null ? null : field('FillRatio', { kind: 'ratio', value: seal.fillRatio }),
    arrangement?.gapMm == null
      ? null
      : field('SeparationAchieved', { kind: 'lengthMm', value: arrangement.gapMm }),
    field(
      'Fillers',
      labels(fillerQuantities.map(({ name, whole, split }) => `${whole + split} × ${name}`)),
    ),
  ];
}

function quantitiesOf(seals: readonly Seal[]): TagField[] {
  const designed = seals.filter(({ state }) => state === 'designed');
  if (designed.length === 0) return [];
  const total = (value: (seal: Seal) => number | null | undefined) =>
    designed.reduce((sum, seal) => sum + (value(seal) ?? 0), 0);
  return [
    { name: 'FreeArea', value: { kind: 'areaMm2', value: total((seal) => seal.freeAreaMm2) } },
    { name: 'SealantNet', value: { kind: 'volumeMl', value: total((s) => s.sealant?.netMl) } },
    {
      name: 'SealantWithAllowances',
      value: { kind: 'volumeMl', value: total((seal) => seal.sealant?.withAllowancesMl) },
    },
    {
      name: 'Fillers',
      value: {
        kind: 'count',
        value: total((seal) =>
          seal.fillerQuantities.reduce(
            (sum, each) => sum + (each.whole + each.split) * each.sets,
            0,
          ),
        ),
      },
    },
  ];
}

/** The design in one line: sealant, depth, faces; else why there is none. */
function sealText(seals: readonly Seal[]): string {
  const texts = seals.map((seal) => {
    const where = seal.path === 'annulus' ? 'round the services' : 'inside the duct';
    if (seal.state !== 'designed') return `${where}: no seal (${seal.reason ?? seal.state})`;
    const what = seal.sealant?.name ?? 'sealant';
    const faces = seal.faces === 1 ? 'one face' : `${seal.faces} faces`;
    return `${where}: ${what}, ${seal.setBackMm} mm deep, ${faces}`;
  });
  return texts.length === 0 ? 'no seal designed' : texts.join('; ');
}

function neededText(penetration: Penetration, seal: Seal | undefined): string | null {
  if (penetration.shape !== null || seal?.openingBasis !== 'needed' || seal.opening === null) {
    return null;
  }
  return shapeText(seal.opening);
}

function dutyText({ kind, headM, rating }: Seal['duties'][number]): string {
  const detail = rating ?? (headM === null ? null : `${headM} m head`);
  return detail === null ? kind : `${kind} ${detail}`;
}

function worstText(checks: readonly Check[]): string | null {
  const rank = { 'not met': 0, 'not assessed': 1, met: 2 };
  const [worst] = [...checks].sort(
    (a, b) => rank[a.verdict] - rank[b.verdict] || (b.ratio ?? 0) - (a.ratio ?? 0),
  );
  return worst === undefined ? null : `${worst.name}: ${worst.verdict}`;
}

/** A field, or none where there is nothing to say or no number that a file could hold. */
function field(name: string, value: TagValue | null): TagField | null {
  if (value === null || ('value' in value && !Number.isFinite(value.value))) return null;
  return { name, value };
}

function label(text: string | null): TagValue | null {
  return text === null || text === '' ? null : { kind: 'label', text };
}

function labels(texts: readonly string[]): TagValue | null {
  const known = [...new Set(texts)];
  return known.length === 0 ? null : { kind: 'labels', texts: known };
}
