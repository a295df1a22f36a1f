import { makeQuery, type Query } from '../../basics/query.ts';
import type { TagRefusal } from '../../model/tag-edit.ts';

/** Refusals named in the text of one query. */
const LISTED = 10;

/**
 * What could not be tagged in a file, as one query; null where everything was. Nothing that was
 * asked for may be left out in silence.
 */
export function refusalQuery(
  file: { readonly key: string; readonly name: string },
  refused: readonly TagRefusal[],
): Query | null {
  const [first] = refused;
  if (first === undefined) return null;
  const isWhole = refused.some(({ tag }) => tag === null);
  const listed = refused.slice(0, LISTED).map(refusalText).join('; ');
  const more = refused.length > LISTED ? `; and ${refused.length - LISTED} more` : '';
  return makeQuery('tag-not-written', {
    about: file.key,
    text: isWhole
      ? `${file.name} was not tagged: ${refusalText(refused.find(({ tag }) => tag === null) ?? first)}.`
      : `In ${file.name} some tags could not be written: ${listed}${more}.`,
    why: 'Whoever works in that file does not see the tag there.',
    settles: 'A sound export of the file, or the tag entered by hand.',
    evidence: refused.slice(0, LISTED).map((each) => ({
      fact: 'tag',
      text: refusalText(each),
      place: { fileKey: file.key, ...(each.id === null ? {} : { id: each.id }) },
    })),
  });
}

function refusalText({ tag, id, reason }: TagRefusal): string {
  return [tag, id === null ? null : `(${id})`, tag === null ? reason : `– ${reason}`]
    .filter((part) => part !== null)
    .join(' ');
}
