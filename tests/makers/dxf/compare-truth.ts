import type { Findings, Penetration } from '../../../src/model/penetration.ts';

/** One penetration as a person reading the drawing lists it. */
export interface ExpectedPenetration {
  readonly at: readonly [number, number, number];
  readonly thickness: number;
  readonly hosts: readonly number[];
  readonly size: readonly number[] | null;
  readonly refs: readonly string[];
  readonly count: number;
  readonly shape: readonly number[] | null;
  readonly kind: string | null;
  readonly grid: string | null;
  readonly rooms: readonly (string | null)[] | null;
}

/** How far a found centre may lie from the true one. */
const PLACE_MM = 2;

/** Every difference between what is there and what was found, as sentences; empty when all agrees. */
export function differences(
  expected: readonly ExpectedPenetration[],
  { penetrations }: Findings,
): string[] {
  const out: string[] = [];
  const left = new Set(penetrations);
  for (const want of expected) {
    const found = [...left].find((each) => isAt(each, want.at));
    if (found === undefined) {
      out.push(`missed: ${want.at.join(', ')} ${want.refs.join(' ')}`);
      continue;
    }
    left.delete(found);
    out.push(...differencesOfOne(want, found).map((text) => `${want.at.join(', ')}: ${text}`));
  }
  for (const each of left) out.push(`too many: ${each.id} at ${each.frame.originMm.join(', ')}`);
  return out;
}

function isAt({ frame }: Penetration, at: readonly [number, number, number]): boolean {
  return at.every((value, i) => Math.abs((frame.originMm[i] ?? Number.NaN) - value) <= PLACE_MM);
}

function differencesOfOne(want: ExpectedPenetration, found: Penetration): string[] {
  const out: string[] = [];
  const compare = (what: string, is: unknown, should: unknown) => {
    if (JSON.stringify(is) !== JSON.stringify(should)) {
      out.push(`${what} is ${JSON.stringify(is)}, should be ${JSON.stringify(should)}`);
    }
  };
  const round = (value: number) => Math.round(value * 10) / 10;
  compare('thickness', round(found.thicknessMm), round(want.thickness));
  compare(
    'host thickness',
    found.hosts.map(({ thicknessMm }) => round(thicknessMm)).sort(),
    want.hosts.map(round).sort(),
  );
  compare('number of crossings', found.crossings.length, want.count);
  for (const { section } of found.crossings) {
    if (want.size !== null)
      compare('size', section === null ? null : sizes(section), want.size.map(round));
  }
  const texts = [...found.references, ...found.crossings.flatMap(({ references }) => references)];
  compare('references', [...new Set(texts.map(({ text }) => text))].sort(), [...want.refs].sort());
  if (want.shape !== null) {
    compare('shape', found.shape === null ? null : sizes(found.shape), want.shape);
  }
  if (want.grid !== null) compare('grid', found.where.grid, want.grid);
  const { near, far } = found.where.spaces;
  if (want.rooms !== null) compare('rooms', [near, far], want.rooms);
  if (want.kind !== null) compare('kind', found.kind, want.kind);
  return out;
}

function sizes(shape: object): number[] {
  return (Object.values(shape) as unknown[])
    .filter((value): value is number => typeof value === 'number')
    .map((value) => Math.round(value * 10) / 10);
}
