/**
 * An issue topic in another program carries the ids of the queries it asks about as reference links,
 * which programs keep: the way back from an answer.
 */
const PREFIX = 'urn:sealbook:query:';

/** Link for an id of any characters. */
export function linkOfQuery(queryId: string): string {
  return PREFIX + encodeURIComponent(queryId.replace(/\p{Surrogate}/gu, '\ufffd'));
}

/** The id in a link of ours; empty for any other link. */
export function queryOfLink(link: string): string[] {
  if (!link.startsWith(PREFIX)) return [];
  try {
    return [decodeURIComponent(link.slice(PREFIX.length))];
  } catch {
    // Damaged on its way: no id of ours.
    return [];
  }
}
