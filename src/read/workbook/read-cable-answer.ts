/** One thing said of where a cable runs. */
export interface CableAnswer {
  readonly field: 'passes' | 'passesNothing';
  /** Null for `passesNothing`. */
  readonly tag: string | null;
  readonly value: 'yes' | 'no';
}

const NOTHING = /^(?:it\s+)?(?:passes\s+)?(?:nothing|none|no penetration)$/i;
const NOT = /^(?:(?:passes|does)\s+)?not(?:\s+pass)?\s+(.+)$/i;
const PASSES = /^(?:passes|through|yes)\s+(.+)$/i;

/**
 * An answer in words: "yes" and "no" of the row's own tag, "passes TAG", "not TAG", "nothing";
 * several parted by semicolons or commas, where a tag alone goes on with the word before. `tagIn`
 * gives a tag as the register writes it. Null where a part makes no sense.
 */
export function readCableAnswer(
  text: string,
  ownTag: string | null,
  tagIn: (text: string) => string | null,
): readonly CableAnswer[] | null {
  const answers: CableAnswer[] = [];
  let last: 'yes' | 'no' | null = null;
  for (const part of text.split(/[;,\n]/).map((each) => each.trim())) {
    if (part === '') continue;
    const read = readPart(part, ownTag, tagIn, last);
    if (read === null) return null;
    answers.push(read);
    last = read.field === 'passes' ? read.value : null;
  }
  return isConsistent(answers) ? answers : null;
}

function readPart(
  part: string,
  ownTag: string | null,
  tagIn: (text: string) => string | null,
  last: 'yes' | 'no' | null,
): CableAnswer | null {
  const own = /^(?:(yes|y|true)|no|n|false)$/i.exec(part);
  if (own !== null) {
    const value = own[1] === undefined ? 'no' : 'yes';
    return ownTag === null ? null : { field: 'passes', tag: ownTag, value };
  }
  if (NOTHING.test(part)) return { field: 'passesNothing', tag: null, value: 'yes' };
  const not = NOT.exec(part)?.[1];
  if (not !== undefined) return { field: 'passes', tag: tagIn(not) ?? not, value: 'no' };
  const passes = PASSES.exec(part)?.[1];
  if (passes !== undefined) return { field: 'passes', tag: tagIn(passes) ?? passes, value: 'yes' };
  const tag = tagIn(part);
  return tag === null ? null : { field: 'passes', tag, value: last ?? 'yes' };
}

/** "nothing" beside a tag it passes, or yes and no of one tag, is no answer. */
function isConsistent(answers: readonly CableAnswer[]): boolean {
  const passes = answers.filter(({ value, tag }) => value === 'yes' && tag !== null);
  if (passes.length > 0 && answers.some(({ tag }) => tag === null)) return false;
  return passes.every(
    ({ tag }) => !answers.some((other) => other.tag === tag && other.value === 'no'),
  );
}
