import { isRecord } from '../../basics/is-record.ts';
import type { Assumption, Settings } from '../../model/settings.ts';

/** Where a default comes from, for those that shape a seal. Others are choices of this tool. */
const DEFAULT_SOURCES: Readonly<Record<string, string>> = {
  'design.setBackMm': 'assumed: common practice, no source',
  'design.wasteRatio': 'assumed: common practice, no source',
  'design.overfillMm': 'assumed: common practice, no source',
  'design.fillCode': 'assumed: NEC chapter 9 table 1, where it applies',
};

/** Parts of the project file that are the user's own lists: nothing is assumed about them. */
const NOT_ASSUMED = new Set(['files', 'project', 'issue', 'outputs', 'limits', 'zones', 'duties']);

/** Every value of the settings that the file did not give, in the order of the settings. */
export function listAssumptions(settings: Settings, given: unknown): Assumption[] {
  return Object.entries(settings)
    .filter(([key]) => !NOT_ASSUMED.has(key))
    .flatMap(([key, value]) => leaves([key], value, member(given, key)));
}

function leaves(path: readonly string[], value: unknown, given: unknown): Assumption[] {
  if (given !== undefined && !isRecord(value)) return [];
  if (isRecord(value)) {
    return Object.entries(value).flatMap(([key, child]) =>
      leaves([...path, key], child, member(given, key)),
    );
  }
  if (value === undefined || (Array.isArray(value) && value.length === 0)) return [];
  const name = path.join('.');
  return [
    {
      path: name,
      value: String(value),
      source: DEFAULT_SOURCES[name] ?? 'assumed: default of this tool',
    },
  ];
}

function member(value: unknown, key: string): unknown {
  return isRecord(value) && Object.hasOwn(value, key) ? value[key] : undefined;
}
