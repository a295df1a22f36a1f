import { SealbookError } from '../basics/errors.ts';
import { extraCable } from '../design/extra-cable.ts';
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
      asBuilt: asBuiltOf(record),
      thicknessMm: record.issued.facts.thicknessMm,
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
  const text = `cable ${request.ref}, ${request.diameterMm} mm, recorded by way of: ${best.answer.way}`;
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

/** Site records are not read back yet in this version: everything is then unverified. */
function asBuiltOf(record: RegisterRecord) {
  const { asBuilt } = record;
  if (Object.keys(asBuilt).length === 0) return null;
  const yesNo = (value: string | undefined) => (value === undefined ? null : value === 'yes');
  const depthMm = Number(asBuilt['depthMm']);
  return {
    isSealed: yesNo(asBuilt['sealed']),
    isAsDrawn: yesNo(asBuilt['asDrawn']),
    depthMm: Number.isFinite(depthMm) ? depthMm : null,
    openDefects: asBuilt['defects'] ?? null,
  };
}
