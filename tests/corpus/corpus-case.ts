/** One change to a sound file and what comes of it; see `outcomes.ts` for the words. */
export type TextCase = readonly [name: string, from: string | RegExp, to: string, outcome: string];

/** The sound file with the change; the case is no case where there is nothing to change. */
export function changed(sound: string, [name, from, to]: TextCase): string {
  const isThere = typeof from === 'string' ? sound.includes(from) : sound.search(from) >= 0;
  if (!isThere) throw new Error(`"${name}" changes nothing: what it replaces is not there.`);
  return sound.replace(from, () => to);
}
