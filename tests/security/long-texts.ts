// Started by regular-expressions.test.ts in a process of its own: prints how many texts went through.
import { referenceKey } from '../../src/basics/reference-key.ts';
import { readLabel } from '../../src/find/drawings/read-label.ts';
import { layerRole } from '../../src/model/layer-role.ts';
import { Settings } from '../../src/model/settings.ts';
import { parseOpening } from '../../src/pipeline/size-words.ts';
import { currentOf, isTotal, statusOf } from '../../src/read/schedule/cable-words.ts';
import { columnsOfHeading, headingUnit } from '../../src/read/schedule/column-names.ts';
import { constructionFeatures } from '../../src/read/schedule/construction-features.ts';
import { readDesignation } from '../../src/read/schedule/designation.ts';
import { readMeasure } from '../../src/read/schedule/read-number.ts';

const LENGTH = 100_000;
const SEEDS = [
  ...['a', '0', ' ', '-', '.', '/', 'x', '"', "'", '(', ')', '()', 'x1', '1x', '1 x ', '4 no. '],
  ...['A-', '$0$', '|', '100 ', '1/2"', '10x', 'NYM-J ', '3x1.5 ', 'AWG ', '\t', '\n', '+', '<b>'],
];

const settings = Settings.parse({});
const readers: readonly ((text: string) => unknown)[] = [
  readLabel,
  (text) => layerRole(text, settings),
  referenceKey,
  quiet(parseOpening),
  statusOf,
  currentOf,
  isTotal,
  columnsOfHeading,
  headingUnit,
  (text) => constructionFeatures(text, null),
  readDesignation,
  (text) => readMeasure({ text, value: null } as never, 'point'),
];

/** What is refused in words has been read as well. */
function quiet(read: (text: string) => unknown): (text: string) => unknown {
  return (text) => {
    try {
      return read(text);
    } catch {
      return null;
    }
  };
}

let count = 0;
for (const seed of SEEDS) {
  const long = seed.repeat(Math.ceil(LENGTH / seed.length));
  for (const text of [long, `${long}!`]) {
    for (const read of readers) {
      read(text);
      count += 1;
    }
  }
}
process.stdout.write(String(count));
