import type { Penetration } from '../model/penetration.ts';

/**
 * A penetration in words a person finds it by: its mark or name, the level, the grid, the rooms.
 * Ids stay out of sentences; the register gives tags.
 */
export function penetrationText(penetration: Penetration): string {
  const { level, grid, spaces } = penetration.where;
  const rooms = [spaces.near, spaces.far].filter((room) => room !== null).join(' / ');
  const parts = [nameOf(penetration), level ?? '', grid ?? '', rooms];
  return parts.filter((part) => part !== '').join(', ');
}

/** The first text with a digit: a mark tells more than "Opening". */
function nameOf({ references, openings, crossings, hosts, id }: Penetration): string {
  const texts = [
    ...references.map(({ text }) => text),
    ...openings.map(({ name }) => name),
    ...crossings.flatMap((crossing) => crossing.references.map(({ text }) => text)),
    ...hosts.map(({ name }) => `hole in ${name}`),
  ].filter((text) => text.trim() !== '');
  return texts.find((text) => /\d/u.test(text)) ?? texts[0] ?? id;
}
