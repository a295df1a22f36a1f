import { groupBy, sum } from '../basics/order.ts';
import { sizeText as mm, shapeText } from '../geometry/shape.ts';
import type { Range } from '../model/range.ts';
import type { Check, Seal } from '../model/seal.ts';
import type { TakeOff } from '../model/take-off.ts';
import { printable, strong } from './terminal.ts';

/** A seal for people: what fits, what it takes, what was checked. */
export function sizeText(seal: Seal, range: Range, takeOff: TakeOff): string {
  const lines = [
    ...arrangementLines(seal),
    ...materialLines(seal),
    ...spareLines(seal),
    ...takeAlongLines(takeOff),
    '',
    strong('Checks'),
    ...seal.checks.map(checkLine),
    ...remedyLines(seal),
    '',
    ...(range.sample
      ? [
          `The range "${range.name}" is a SAMPLE with invented figures: nothing may be built from it.`,
        ]
      : []),
    'Design aid, not a certificate: local code, tested evidence and licensed people decide.',
  ];
  return lines.map(printable).join('\n');
}

function row(name: string, value: string): string {
  return `  ${name.padEnd(26)}${value}`;
}

function arrangementLines({ opening, bodies, arrangement, reason }: Seal): string[] {
  const title = opening === null ? 'Opening unknown' : `Opening ${shapeText(opening)} (mm)`;
  if (arrangement === null) {
    return [strong(title), row('not designed', reason ?? 'no reason was given')];
  }
  const { verdict, proof, separationMm, edgeMm, gapMm, gapBoundMm } = arrangement;
  const bound =
    gapBoundMm === null ? '' : ` (no more than ${gapBoundMm.toFixed(2)} mm is possible)`;
  return [
    strong(`${title}, ${bodies.length} ${bodies.length === 1 ? 'body' : 'bodies'}: ${verdict}`),
    row('why', proof),
    row('asked for', `${mm(separationMm)} mm between, ${mm(edgeMm)} mm to the wall`),
    row('largest common gap found', gapMm === null ? 'none' : `${gapMm.toFixed(2)} mm${bound}`),
  ];
}

function materialLines(seal: Seal): string[] {
  const { sealant, freeAreaMm2, fillRatio } = seal;
  return [
    ...(freeAreaMm2 === null ? [] : [row('free area', `${freeAreaMm2.toFixed(1)} mm²`)]),
    ...(fillRatio === null ? [] : [row('fill', `${(fillRatio * 100).toFixed(1)} %`)]),
    ...seal.fillers.map((filler) =>
      row(
        filler.name,
        `${filler.count} whole, ${filler.split} split (${mm(filler.outsideMm)} outside, ${mm(filler.boreMm)} bore${lengthText(seal, filler.name)})`,
      ),
    ),
    ...(sealant === null
      ? []
      : [
          row(
            'sealant',
            `${sealant.perFaceMl.toFixed(1)} ml a face × ${sealant.faces}, ${sealant.withAllowancesMl.toFixed(1)} ml with allowances`,
          ),
          row(
            'containers',
            sealant.containers
              .map(({ count, sizeMl }) => `${count} × ${mm(sizeMl)} ml`)
              .join(' + '),
          ),
        ]),
  ];
}

function lengthText({ fillerQuantities }: Seal, name: string): string {
  const pieces = fillerQuantities.find((one) => one.name === name);
  if (pieces === undefined) return '';
  return `, ${mm(pieces.lengthMm)} long${pieces.sets > 1 ? `, ${pieces.sets} sets` : ''}`;
}

function spareLines({ spare }: Seal): string[] {
  if (spare === null) return [];
  const through = spare.largestThroughTubeMm;
  return [
    row(
      'empty tubes',
      `${spare.emptyTubes}${through === null ? '' : `, for cables up to ${mm(through)} mm`}`,
    ),
    row(
      'largest extra cable',
      `${mm(spare.largestExtraFixedMm)} mm with nothing moved, ${mm(spare.largestExtraMovableMm)} mm with cables moved`,
    ),
  ];
}

/** Consumables, tools, hours and costs, where the range has norms, rates or prices for them. */
function takeAlongLines({ consumables, tools = [], labour = [], costs = [] }: TakeOff): string[] {
  const amounts = groupBy(costs, ({ currency }) => currency ?? 'currency not given');
  return [
    ...consumables.map(({ name, quantity, unit }) => row(name, `${mm(quantity)} ${unit}`)),
    ...tools.map(({ name, quantity }) => row(name, `${mm(quantity)} to take along`)),
    ...labour.map(({ name, hours }) => row(name, `${hours.toFixed(2)} h`)),
    ...[...amounts].map(([currency, lines]) =>
      row('cost', `${sum(lines.map(({ amount }) => amount)).toFixed(2)} ${currency}`),
    ),
  ];
}

function remedyLines({ remedies = [] }: Seal): string[] {
  if (remedies.length === 0) return [];
  return [
    '',
    strong('What would make it work (computed, nothing is applied)'),
    ...remedies.map(({ settles, text }) => row(settles, text)),
  ];
}

function checkLine(check: Check): string {
  const value =
    check.value === null ? '' : ` ${Number(check.value.toFixed(3))} ${check.unit}`.trimEnd();
  const limit = check.limit === null ? '' : ` of ${Number(check.limit.toFixed(3))}`;
  const missing = check.missing.length === 0 ? '' : ` (needs: ${check.missing.join(', ')})`;
  return row(check.name, `${check.verdict}${value === '' ? '' : `:${value}${limit}`}${missing}`);
}
