import { compareText } from '../../basics/order.ts';
import type { Query } from '../../basics/query.ts';
import type { Vec3 } from '../../geometry/vec.ts';
import type { Section } from '../../model/building.ts';
import { idInFile } from '../../model/ids.ts';
import type { Issue } from '../../model/issue.ts';
import type { Crossing, Penetration } from '../../model/penetration.ts';
import type { SealbookResult } from '../../model/result.ts';
import type { Seal } from '../../model/seal.ts';
import { fileName, type IssueIndex, indexIssue, tagOf, tagOrNull } from '../shared/issue-index.ts';
import { ledgerTotals } from '../shared/ledger-table.ts';
import { worstCheck } from '../shared/phrases.ts';
import { rounded, sealJson, shapeJson } from './seal-json.ts';
import { takeOffJson } from './take-off-json.ts';

type PenetrationJson = SealbookResult['penetrations'][number];

/** Stands wherever a verdict is read by a machine. */
export const RESULT_CAUTION =
  'Design aid, not a certificate. Verdicts speak within the evidence supplied; local code, tested evidence and licensed people decide.';

/**
 * The JSON result of an issue. Elements are given by the file's name as in `inputs` and the id the
 * file itself gives them (GlobalId or handle); `id` of penetrations, cables and seals are the
 * project's own ids, which begin with the file's key and outlive its name. Lengths to 0.001 mm.
 */
export function buildResult(issue: Issue): SealbookResult {
  const index = indexIssue(issue);
  const ledger = ledgerTotals(issue);
  return {
    format: 'sealbook-result',
    version: 1,
    project: { ...issue.settings.project },
    issue: {
      revision: issue.settings.issue.revision,
      date: issue.settings.issue.date ?? null,
      purpose: issue.settings.issue.purpose,
      status: issue.settings.issue.status,
    },
    caution: RESULT_CAUTION,
    sample: issue.range.sample,
    inputs: issue.sources.map(({ key, name, kind, schema, sizeBytes, sha256 }) => ({
      file: name,
      kind,
      schema,
      sha256,
      key,
      sizeBytes,
    })),
    penetrations: issue.penetrations.map((each) => penetrationJson(index, each)),
    ledger: {
      services: { ...ledger.services },
      openings: { ...ledger.openings },
      cables: { ...ledger.cables },
    },
    queries: issue.queries.map((query) => queryJson(index, query)),
    ...(issue.requirements === undefined
      ? {}
      : {
          requirements: issue.requirements.map(({ model, requirements, report }) => ({
            model,
            requirements,
            ...report,
            specifications: report.specifications.map((each) => ({ ...each })),
          })),
        }),
    unread: issue.unread.map(({ fileKey, ...content }) => ({
      file: fileName(index, fileKey),
      ...content,
    })),
    assumptions: issue.assumptions.map((assumption) => ({ ...assumption })),
    basis: issue.basis.map((value) => ({ ...value })),
    takeOff: takeOffJson(issue.takeOff),
    changes: (issue.changes ?? []).map((change) => ({ ...change })),
  };
}

/** A result as text: two blanks of indent, keys in the order of the contract, a line feed at the end. */
export function resultText(result: SealbookResult): string {
  return `${JSON.stringify(result, null, 2)}\n`;
}

function penetrationJson(index: IssueIndex, penetration: Penetration): PenetrationJson {
  const seals = index.sealsOf.get(penetration.id) ?? [];
  const needed = seals.find((seal) => seal.openingBasis === 'needed')?.opening ?? null;
  return {
    tag: tagOf(index, penetration.id),
    id: penetration.id,
    kind: penetration.kind,
    centreMm: vector(penetration.frame.originMm, 3),
    axis: vector(penetration.frame.axis, 6),
    level: penetration.where.level,
    thicknessMm: rounded(penetration.thicknessMm, 3),
    hosts: penetration.hosts.map((host) => ({
      file: fileName(index, host.ref.fileKey),
      id: idInFile(host.ref),
      thicknessMm: rounded(host.thicknessMm, 3),
      fireRating: host.fireRating,
      kind: host.kind,
      name: host.name,
    })),
    openings: penetration.openings.map((opening) => ({
      file: fileName(index, opening.ref.fileKey),
      id: idInFile(opening.ref),
      kind: opening.kind,
    })),
    services: penetration.crossings.map((crossing) => serviceJson(index, crossing)),
    shape: penetration.shape === null ? null : shapeJson(penetration.shape),
    neededShape: needed === null ? null : shapeJson(needed),
    cables: cablesJson(index, penetration),
    worst: worstJson(seals),
    seals: seals.map((seal) => sealOf(index, seal)),
  };
}

/** The check that decides for the penetration, and in which seal; null where nothing was checked. */
function worstJson(seals: readonly Seal[]): object | null {
  const check = worstCheck(seals.flatMap(({ checks }) => checks));
  const seal = seals.find(({ checks }) => check !== null && checks.includes(check));
  return check === null || seal === undefined
    ? null
    : { seal: seal.id, check: check.name, verdict: check.verdict, ratio: check.ratio };
}

function serviceJson(index: IssueIndex, crossing: Crossing): PenetrationJson['services'][number] {
  return {
    file: fileName(index, crossing.refs[0]?.fileKey ?? ''),
    ids: crossing.refs.map(idInFile),
    kind: crossing.kind,
    sizeMm: sectionSizes(crossing.section),
    sizeBasis: crossing.sizeBasis,
    boreMm: crossing.boreMm === null ? null : rounded(crossing.boreMm, 3),
    crossing: crossing.id,
    skewRad: rounded(crossing.skewRad, 6),
  };
}

function sectionSizes(section: Section | null): number[] {
  if (section === null) return [];
  return section.type === 'circle'
    ? [rounded(section.diameterMm, 3)]
    : [rounded(section.widthMm, 3), rounded(section.heightMm, 3)];
}

function cablesJson(index: IssueIndex, penetration: Penetration): PenetrationJson['cables'] {
  return (index.matchesOf.get(penetration.id) ?? []).map((match) => ({
    ref: index.cables.get(match.cableId)?.ref ?? match.cableId,
    confidence: rounded(match.confidence, 6),
    reasons: [...match.reasons],
    id: match.cableId,
    crossing: match.crossingId,
  }));
}

/** The seal with `of` as an id that `services[].ids` of its penetration holds. */
function sealOf(index: IssueIndex, seal: Seal): PenetrationJson['seals'][number] {
  const refs = seal.of === null ? [] : (index.crossings.get(seal.of)?.refs ?? []);
  const [lowest] = refs.map(idInFile).sort(compareText);
  return { ...sealJson(seal), of: lowest ?? seal.of, ofCrossing: seal.of };
}

function queryJson(index: IssueIndex, query: Query): SealbookResult['queries'][number] {
  return {
    id: query.id,
    code: query.code,
    severity: query.severity,
    tag: tagOrNull(index, query.penetrationId),
    to: query.to,
    text: query.text,
    why: query.why,
    settles: query.settles,
    ...(query.answer === undefined ? {} : { answer: query.answer }),
    ...(query.candidates === undefined
      ? {}
      : {
          candidates: query.candidates.map(({ penetrationId, confidence }) => ({
            tag: tagOrNull(index, penetrationId),
            confidence: rounded(confidence, 3),
          })),
        }),
    evidence: query.evidence.map(({ fact, text, place, distanceMm }) => {
      const { fileKey, ...where } = place;
      return {
        fact,
        text,
        file: fileName(index, fileKey),
        ...where,
        ...(distanceMm === undefined ? {} : { distanceMm: rounded(distanceMm, 3) }),
      };
    }),
  };
}

function vector(vec: Vec3, places: number): [number, number, number] {
  return [rounded(vec[0], places), rounded(vec[1], places), rounded(vec[2], places)];
}
