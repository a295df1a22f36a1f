import { greatestOf } from '../../basics/extremes.ts';
import { groupBy } from '../../basics/order.ts';
import type { TestRecord } from '../../model/range.ts';
import type { Duty } from '../../model/seal.ts';
import type { Passing } from '../seal-subject.ts';
import { atMost, type Point } from './evidence-point.ts';

/** What passes against what passed in the test: cables, other services, bundles, ends of pipes. */
export function passingPoints(
  record: TestRecord,
  passing: readonly Passing[],
  duty: Duty,
): Point[] {
  const services = passing.filter((item) => kindOf(item) !== 'cable');
  const cables = passing.filter((item) => kindOf(item) === 'cable');
  return [
    ...(cables.length > 0
      ? [atMost('largest cable', record.largestCableMm, largestOf(cables), 'mm')]
      : []),
    ...(services.length > 0
      ? [
          servicePoint(record, services),
          atMost('largest service', record.largestServiceMm, largestOf(services), 'mm'),
        ]
      : []),
    ...(duty.kind === 'fire' ? endPoints(record, services) : []),
    ...cableTypePoints(record, cables, duty),
    ...bundlePoints(record, cables),
  ];
}

function kindOf({ cable, crossing }: Passing): string {
  return cable !== null ? 'cable' : (crossing?.kind ?? 'cable');
}

function largestOf(passing: readonly Passing[]): number {
  return greatestOf(passing.map(({ largestSizeMm }) => largestSizeMm));
}

function servicePoint(record: TestRecord, services: readonly Passing[]): Point {
  const name = 'kinds of service';
  const tested: readonly string[] | undefined = record.services;
  if (tested === undefined) return { name, state: 'not stated', text: '' };
  const other = services.map(kindOf).find((kind) => !tested.includes(kind));
  const text = `a ${other ?? ''} passes, tested with ${tested.join(', ')}`;
  return { name, state: other === undefined ? 'covered' : 'outside', text };
}

/**
 * Open ends are the harshest and cover all; any other record asks how the ends are on site.
 * @source EN 1366-3, two letters for the ends of a pipe (from memory); not for cables.
 */
function endPoints(record: TestRecord, services: readonly Passing[]): Point[] {
  const hasEnds = services.some((item) => ['pipe', 'conduit'].includes(kindOf(item)));
  if (!hasEnds || record.pipeEnds === 'U/U') return [];
  const name = 'ends of pipes and conduits';
  const state = record.pipeEnds === undefined ? 'not stated' : 'not known';
  return [{ name, state, text: '' }];
}

function cableTypePoints(record: TestRecord, cables: readonly Passing[], { kind }: Duty): Point[] {
  const tested = record.cableTypes?.map((type) => type.toLowerCase());
  const name = 'cable types';
  if (cables.length === 0) return [];
  if (tested === undefined) {
    return kind === 'fire' ? [{ name, state: 'not stated', text: '' }] : [];
  }
  const types = cables.map(({ cable }) =>
    `${cable?.type ?? ''} ${cable?.construction ?? ''}`.trim().toLowerCase(),
  );
  if (types.some((type) => type === '')) return [{ name, state: 'not known', text: '' }];
  const other = types.find((type) => !tested.some((word) => type.includes(word)));
  const text = `a cable of type "${other ?? ''}", tested: ${tested.join(', ')}`;
  return [{ name, state: other === undefined ? 'covered' : 'outside', text }];
}

/** Circle round a trefoil over one cable. @source 1 + 2/√3, geometry of three equal circles. */
const TREFOIL_RATIO = 1 + 2 / Math.sqrt(3);

function bundlePoints(record: TestRecord, cables: readonly Passing[]): Point[] {
  const kept = cables.filter(({ body }) => (body.bundle?.form ?? 'spread') !== 'spread');
  if (kept.length === 0) return [];
  const bundles = groupBy(kept, ({ body }) => body.bundle?.id ?? '');
  const acrossMm = greatestOf(
    [...bundles.values()].map((bundle) => {
      const isTrefoil = bundle[0]?.body.bundle?.form === 'trefoil';
      return largestOf(bundle) * (isTrefoil ? TREFOIL_RATIO : bundle.length);
    }),
  );
  return [atMost('largest bundle', record.largestBundleMm, acrossMm, 'mm')];
}
