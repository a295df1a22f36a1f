import path from 'node:path';
import { Command } from 'commander';
import { SealbookError } from '../basics/errors.ts';
import { keepRegister, readRegisterFile } from '../files/keep-register.ts';
import { sha256 } from '../files/read-input.ts';
import { shapeText } from '../geometry/shape.ts';
import type { Spare } from '../model/arrangement.ts';
import type { ExtraCable, Refill, TubePlaceMm } from '../model/extra.ts';
import type { Seal } from '../model/seal.ts';
import { REGISTER_NAME } from './run-command.ts';
import { answer, printable, say, strong } from './terminal.ts';

interface ExtraOptions {
  readonly od: string;
  readonly ref: string;
  readonly register: string;
  readonly record?: boolean;
  readonly json?: boolean;
}

/** `sealbook extra TAG --od 12`: does one more cable fit? */
export function extraCommand(): Command {
  return new Command('extra')
    .description('says whether one more cable fits a seal, how, and what to cut and refill')
    .argument('<tag>', 'tag of the penetration')
    .requiredOption('--od <mm>', 'outside diameter of the cable')
    .option('--ref <name>', 'its reference', 'new cable')
    .option('--register <file>', 'the register, or the folder that holds it', '.')
    .option('--record', 'write the cable into the register, with history')
    .option('--json', 'print the same facts as JSON')
    .action(extra);
}

async function extra(tag: string, options: ExtraOptions): Promise<void> {
  const { askForCable, recordCable } = await import('../pipeline/add-cable.ts');
  const { openRegister, registerBytes } = await import('../pipeline/open-register.ts');
  const { parseLength } = await import('../pipeline/size-words.ts');
  const file = /\.jsonl$/i.test(options.register)
    ? options.register
    : path.join(options.register, REGISTER_NAME);
  const asRead = await readRegisterFile(file);
  if (asRead === null) {
    throw new SealbookError('input-missing', `There is no register ${file}.`, {
      where: { file },
      todo: 'Name the register or its folder with --register.',
    });
  }
  const register = await openRegister({ key: 'register', name: file, bytes: asRead }, sha256);
  const request = { tag, ref: options.ref, diameterMm: parseLength('--od', options.od) };
  const found = askForCable(register, request);
  answer(
    options.json
      ? JSON.stringify({ caution: CAUTION, sample: register.basis.range.sample, ...found }, null, 2)
      : [
          strong(`${found.tag}: one more cable of ${request.diameterMm} mm`),
          ...found.ways.flatMap(wayLines),
          '',
          ...(register.basis.range.sample ? [SAMPLE] : []),
          CAUTION,
        ]
          .map(printable)
          .join('\n'),
  );
  if (options.record) {
    const bytes = await registerBytes(recordCable(register, request, found), sha256);
    await keepRegister(file, asRead, bytes);
    say(`Recorded in ${file}.`);
  }
}

const CAUTION =
  'Design aid, not a certificate. Prove cables dead before cutting; local code, tested evidence and licensed people decide.';

const SAMPLE =
  'The seals rest on a SAMPLE range with invented figures: nothing may be built from it.';

const WAYS: Readonly<Record<ExtraCable['way'], string>> = {
  'spare tube': 'yes, through an empty tube',
  'tubes out': 'yes, with tubes taken out and nothing else moved',
  rearranged: 'yes, with the seal opened and its cables moved',
  no: 'no',
  refused: 'no answer',
};

function wayLines({
  seal,
  answer: found,
}: {
  readonly seal: Seal;
  readonly answer: ExtraCable;
}): string[] {
  const { tube, tubesOut, newTube, refill, spareBefore, spareAfter, reasons, unverified } = found;
  const lines: [string, string | null][] = [
    ['why', reasons.length === 0 ? null : reasons.join(' ')],
    ['tube', tube === null ? null : tubeText(tube)],
    ['tubes out', found.way === 'rearranged' ? `all ${tubesOut.length}` : tubesOutText(tubesOut)],
    ['its own tube', found.way === 'tubes out' ? (newTube ?? 'none') : newTube],
    ['cut', refill === null ? null : cutText(refill)],
    [
      'refill',
      refill === null
        ? null
        : `${refill.withAllowancesMl.toFixed(1)} ml with allowances (net ${refill.netMl.toFixed(1)}): ${refill.containers.map(({ count, sizeMl }) => `${count} × ${sizeMl} ml`).join(' + ')}`,
    ],
    ['spare before', spareBefore === null ? null : `${spareBefore.emptyTubes} empty tubes`],
    ['spare after', spareAfter === null ? null : spareText(spareAfter)],
    ['checks', checksText(found)],
    ['unverified', unverified.length === 0 ? null : unverified.join('; ')],
  ];
  const opening = seal.opening === null ? 'size unknown' : shapeText(seal.opening);
  const path = seal.path === 'annulus' ? 'round what passes' : 'inside the bore';
  return [
    '',
    `  ${path} (${opening}): ${WAYS[found.way]}`,
    ...lines
      .filter(([, text]) => text !== null)
      .map(([name, text]) => `    ${name.padEnd(14)}${text}`),
  ];
}

function cutText({ cutAreaMm2, cutDiameterMm, faces }: Refill): string {
  const hole = cutDiameterMm === null ? '' : `a round hole of ${cutDiameterMm.toFixed(1)} mm, `;
  return `${hole}${cutAreaMm2.toFixed(0)} mm² of the layer on ${faces === 1 ? 'one face' : `${faces} faces`}`;
}

function spareText({ emptyTubes, largestThroughTubeMm, largestExtraFixedMm }: Spare): string {
  const through =
    largestThroughTubeMm === null ? '' : `, for cables up to ${largestThroughTubeMm.toFixed(1)} mm`;
  return `${emptyTubes} empty tubes${through}; ${largestExtraFixedMm.toFixed(1)} mm with tubes out`;
}

/** Checks that the cable changes, and those that are not met with it in. */
function checksText({ checksBefore, checksAfter }: ExtraCable): string | null {
  if (checksAfter.length === 0) return null;
  const before = new Map(checksBefore.map(({ name, verdict }) => [name, verdict]));
  const told = checksAfter.filter(
    ({ name, verdict }) => verdict === 'not met' || (before.get(name) ?? verdict) !== verdict,
  );
  if (told.length === 0) return 'all verdicts as before, none is not met';
  return told
    .map(({ name, verdict }) => `${name}: ${before.get(name) ?? 'not checked'} → ${verdict}`)
    .join('; ');
}

function tubesOutText(tubes: readonly TubePlaceMm[]): string | null {
  return tubes.length === 0 ? null : tubes.map(tubeText).join('; ');
}

function tubeText({ name, xMm, yMm }: TubePlaceMm): string {
  return `${name} at ${xMm.toFixed(0)}, ${yMm.toFixed(0)} mm from the centre`;
}
