import type { BasisValue } from '../model/issue.ts';
import type { Range } from '../model/range.ts';
import type { Assumption, Settings } from '../model/settings.ts';

/** What each part of the settings is used for, in the words of the Basis sheet. */
const USED_FOR: Readonly<Record<string, string>> = {
  files: 'reading',
  hosts: 'reading',
  services: 'reading',
  find: 'finding penetrations',
  match: 'matching cables',
  ground: 'duties',
  range: 'fillers and sealant',
  design: 'seal design',
  tags: 'tag numbers',
};

const UNIT_ENDINGS: readonly (readonly [ending: string, unit: string])[] = [
  ['Mm', 'mm'],
  ['Ratio', 'ratio 0–1'],
  ['Deg', '°'],
];

/** Every setting that shapes the design, given or assumed, and every value of the range, with its source. */
export function listBasis(
  settings: Settings,
  assumptions: readonly Assumption[],
  range: Range,
): BasisValue[] {
  const assumed = new Set(assumptions.map((assumption) => assumption.path));
  const given = flatten(['design'], settings.design)
    .concat(
      flatten(['find'], settings.find),
      flatten(['match'], settings.match),
      flatten(['ground'], settings.ground),
    )
    .filter(({ path }) => !assumed.has(path))
    .map(({ path, value }) => basisValue(path, value, 'project file'));
  const guessed = assumptions.map(({ path, value, source }) => basisValue(path, value, source));
  return [...given, ...guessed, ...rangeBasis(range)];
}

function basisValue(path: string, value: string, source: string): BasisValue {
  const unit = UNIT_ENDINGS.find(([ending]) => path.endsWith(ending))?.[1] ?? '';
  const usedFor = USED_FOR[path.split('.')[0] ?? ''] ?? '';
  return { setting: path, value, unit, source, usedFor };
}

function flatten(path: readonly string[], value: object): { path: string; value: string }[] {
  return Object.entries(value).flatMap(([key, child]: [string, unknown]) =>
    typeof child === 'object' && child !== null
      ? flatten([...path, key], child)
      : [{ path: [...path, key].join('.'), value: String(child) }],
  );
}

function rangeBasis(range: Range): BasisValue[] {
  const mark = range.sample ? ' (SAMPLE: invented, not to be built from)' : '';
  const row = (setting: string, value: string, unit: string, source: string): BasisValue => ({
    setting: `range: ${setting}${mark}`,
    value,
    unit,
    source,
    usedFor: 'fillers and sealant',
  });
  return [
    row(
      'packing allowance',
      String(range.packingAllowanceRatio),
      'ratio 0–1',
      `range ${range.name}`,
    ),
    row(
      'clearance of a cable in a tube',
      String(range.tubeClearanceMm),
      'mm',
      `range ${range.name}`,
    ),
    ...range.fillers.map((filler) =>
      row(
        filler.name,
        `${filler.outsideMm} / ${filler.boreMm} × ${filler.lengthMm}`,
        'mm',
        filler.source,
      ),
    ),
    ...range.sealants.map((sealant) =>
      row(
        sealant.name,
        sealant.containers.map((container) => container.sizeMl).join(', '),
        'ml',
        sealant.source,
      ),
    ),
  ];
}
