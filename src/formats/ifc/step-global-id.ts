const LETTERS = '0123456789ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz_$';

export const GLOBAL_ID_LENGTH = 22;

/** Value of each letter's byte; 255 for what is no letter of a GlobalId. */
const VALUES = Uint8Array.from({ length: 256 }, (_, byte) => {
  const value = LETTERS.indexOf(String.fromCharCode(byte));
  return value === -1 ? 255 : value;
});

/**
 * The 16 bytes of a UUID in the 22 letters of an IFC GlobalId.
 *
 * @source buildingSMART, "IFC GUID": base 64 with 0–9, A–Z, a–z, _ and $; the first letter holds
 * 2 bits, the others 6.
 */
export function ifcGlobalId(uuid: Uint8Array): string {
  const first = uuid[0] ?? 0;
  let text = LETTERS.charAt(first >> 6);
  // 2 bits for the first letter, 6 for each of the 21 others: 128 in all.
  let held = first & 0x3f;
  text += LETTERS.charAt(held);
  for (let at = 1; at < 16; at += 3) {
    held = ((uuid[at] ?? 0) << 16) | ((uuid[at + 1] ?? 0) << 8) | (uuid[at + 2] ?? 0);
    text += LETTERS.charAt((held >> 18) & 63) + LETTERS.charAt((held >> 12) & 63);
    text += LETTERS.charAt((held >> 6) & 63) + LETTERS.charAt(held & 63);
  }
  return text;
}

/** The way back, from the 22 bytes at `start`: fills the 16 bytes; false where they are no GlobalId. */
export function readGlobalId(bytes: Uint8Array, start: number, uuid: Uint8Array): boolean {
  const value = (at: number) => VALUES[bytes[start + at] ?? 0] ?? 255;
  const top = value(0);
  let worst = value(1);
  if (top > 3 || worst > 63) return false;
  uuid[0] = (top << 6) | worst;
  for (let at = 1, letter = 2; at < 16; at += 3, letter += 4) {
    const [a, b, c, d] = [value(letter), value(letter + 1), value(letter + 2), value(letter + 3)];
    worst = a | b | c | d;
    if (worst > 63) return false;
    uuid[at] = (a << 2) | (b >> 4);
    uuid[at + 1] = ((b & 15) << 4) | (c >> 2);
    uuid[at + 2] = ((c & 3) << 6) | d;
  }
  return true;
}
