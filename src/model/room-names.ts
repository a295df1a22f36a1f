/** Parts the lines of a room's stamp in a plan: "PUMP HALL / R.012". */
export const STAMP_LINE = ' / ';

/** What a room is called by: its name as a whole, and each line of its stamp. */
export function roomNames(room: string | null): readonly string[] {
  return room === null ? [] : [...new Set([room, ...room.split(STAMP_LINE)])];
}
