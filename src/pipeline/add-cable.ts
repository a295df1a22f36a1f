import { SealbookError } from '../basics/errors.ts';
import type { AsBuiltState } from '../design/extra/extra-input.ts';
import { extraCable } from '../design/extra-cable.ts';
import { shapeExtentMm } from '../geometry/shape.ts';
import { AsBuilt, sealKeyOf } from '../model/as-built.ts';
import type { ExtraCable } from '../model/extra.ts';
import type { Register, RegisterRecord } from '../model/register.ts';
import type { Seal } from '../model/seal.ts';

/** One more cable asked of one penetration of a register. */
export interface CableRequest {
  readonly tag: string;
  readonly ref: string;
  readonly diameterMm: number;
}

/** The answer for each leak path, the easiest way first. */
export interface CableAnswer {
  readonly tag: string;
  readonly ways: readonly { readonly seal: Seal; readonly answer: ExtraCable }[];
}

/** Ease of the ways, easiest first. */
const EASE: readonly ExtraCable['way'][] = [
  'spare tube',
  'tubes out',
  'rearranged',
  'no',
  'refused',
];

/** Does one more cable fit? Throws `usage` for a tag that is not in the register. */
export function askForCable(register: Register, request: CableRequest): CableAnswer {
  const record = recordOf(register, request.tag);
  const ways = record.seals.map((seal) => ({
    seal,
    answer: extraCable({
      seal,
      ref: request.ref,
      diameterMm: request.diameterMm,
      range: register.basis.range,
      design: register.basis.design,
      asBuilt: asBuiltOf(record, seal),
      thicknessMm: record.issued.facts.thicknessMm,
      ...seal.hole,
    }),
  }));
  return {
    tag: record.tag,
    ways: ways.sort((a, b) => EASE.indexOf(a.answer.way) - EASE.indexOf(b.answer.way)),
  };
}

/**
 * The register with the cable in it, by the easiest way that was answered, and a line of history. Throws `usage` when
 * it does not fit: what can't be done is not recorded as done.
 */
export function recordCable(
  register: Register,
  request: CableRequest,
  { ways }: CableAnswer,
): Register {
  const [best] = ways;
  const after = best?.answer.after ?? null;
  if (best === undefined || after === null) {
    throw new SealbookError(
      'usage',
      `The cable does not fit ${request.tag}; nothing was recorded.`,
      {
        todo: 'Ask without --record to see why.',
      },
    );
  }
  const text = historyText(request, best.answer);
  return {
    ...register,
    records: register.records.map((record) =>
      record.tag === request.tag
        ? {
            ...record,
            seals: record.seals.map((seal) => (seal.id === after.id ? after : seal)),
            history: [...record.history, { revision: register.revision, text }],
          }
        : record,
    ),
  };
}

/** One line of history: what came, how, what was cut and filled, and what was taken on trust. */
function historyText(
  request: CableRequest,
  { way, tube, tubesOut, refill, unverified }: ExtraCable,
) {
  const parts = [
    `cable ${request.ref}, ${request.diameterMm} mm, recorded by way of: ${way}`,
    ...(tube === null ? [] : [`tube ${tube.name}`]),
    ...(tubesOut.length === 0 ? [] : [`tubes out: ${tubesOut.length}`]),
    ...(refill === null ? [] : [`sealant ${refill.withAllowancesMl.toFixed(1)} ml`]),
    ...(unverified.length === 0 ? [] : [`unverified: ${unverified.join('; ')}`]),
  ];
  return parts.join('; ');
}

function recordOf(register: Register, tag: string): RegisterRecord {
  const record = register.records.find((each) => each.tag === tag);
  if (record === undefined) {
    throw new SealbookError('usage', `There is no ${tag} in the register.`, {
      todo: 'Take the tag from the schedule or from the label beside the seal.',
    });
  }
  if (record.state === 'retired') {
    throw new SealbookError('usage', `${tag} was retired in revision ${record.retiredIn ?? '?'}.`, {
      todo: 'Take the tag from the newest schedule.',
    });
  }
  return record;
}

type SiteTexts = Readonly<Partial<Record<string, string>>>;

/** The site record of one seal; null where nobody recorded anything. */
function asBuiltOf(record: RegisterRecord, seal: Seal): AsBuiltState | null {
  const texts = siteTextsOf(record, seal);
  if (Object.values(texts).every((text) => (text ?? '').trim() === '')) return null;
  const fillers = [texts['fillersNear'], ...(seal.faces > 1 ? [texts['fillersFar']] : [])];
  return {
    isSealed: yesNo(texts['sealed']),
    isAsDrawn: yesNo(texts['asDrawn']) ?? all([texts['cablesApart'], ...fillers].map(yesNo)),
    depthMm: measuredDepthMm(texts, seal.faces),
    isOpeningAsDesigned: isAsMeasured(seal, texts['openingMm']),
    openDefects: openDefects(texts['inspected'], texts['defects']),
  };
}

/** Fields by name; those of registers before seals were told apart hold for each seal. */
function siteTextsOf({ asBuilt }: RegisterRecord, seal: Seal): SiteTexts {
  const bySeal = AsBuilt.safeParse(asBuilt);
  if (bySeal.success) return bySeal.data[sealKeyOf(seal)]?.fields ?? {};
  return Object.fromEntries(
    Object.entries(asBuilt).flatMap(([field, text]) =>
      typeof text === 'string' ? [[field, text]] : [],
    ),
  );
}

/** Mean depth of the sealed faces; null unless each that counts was measured. */
function measuredDepthMm(texts: SiteTexts, faces: number): number | null {
  const near = millimetres(texts['depthNearMm'] ?? texts['depthMm']);
  const far = millimetres(texts['depthFarMm']);
  if (faces > 1) return near === null || far === null ? null : (near + far) / 2;
  return near ?? far;
}

function millimetres(text: string | undefined): number | null {
  const value = Number(
    (text ?? '')
      .trim()
      .replace(',', '.')
      .replace(/\s{0,3}mm$/i, '') || Number.NaN,
  );
  return Number.isFinite(value) && value > 0 ? value : null;
}

/** Measured sizes differ from those of a drawing by this much without meaning anything; own choice. */
const MEASURED_WITHIN_MM = 2;

/** Whether the opening was measured as designed for; null where it was not, or not readably. */
function isAsMeasured({ opening }: Seal, text: string | undefined): boolean | null {
  const sizes = (text ?? '').split(/[x×]/i).map(millimetres);
  if (opening === null || sizes.some((size) => size === null)) return null;
  const { widthMm, heightMm } = shapeExtentMm(opening);
  const designed = sizes.length === 1 ? [widthMm] : [widthMm, heightMm];
  return designed.every(
    (size, at) => Math.abs(size - (sizes[at] ?? Infinity)) <= MEASURED_WITHIN_MM,
  );
}

function yesNo(text: string | undefined): boolean | null {
  const word = text?.trim().toLowerCase();
  return word === 'yes' ? true : word === 'no' ? false : null;
}

/** False where any is, true where all are. */
function all(answers: readonly (boolean | null)[]): boolean | null {
  if (answers.includes(false)) return false;
  return answers.every((answer) => answer === true) ? true : null;
}

/** A defect is open until an inspection passed the seal. */
function openDefects(inspected: string | undefined, defects: string | undefined): string | null {
  const text = defects?.trim() ?? '';
  const found = text === '' || /^(?:none|no|nil|-|–)$/i.test(text) ? null : text;
  const word = inspected?.trim().toLowerCase();
  if (word === 'to be put right') return found ?? 'to be put right';
  return word === 'passed' ? null : found;
}
