const LETTERS = '0123456789ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz_$';

/**
 * A UUID in the 22 letters of an IFC GlobalId.
 *
 * @source buildingSMART, "IFC GUID": base 64 with 0–9, A–Z, a–z, _ and $; the first letter holds
 * 2 bits, the others 6.
 */
export function ifcGlobalId(uuid: string): string {
  const digits = uuid.replaceAll('-', '');
  const number = (from: number, to: number) => Number.parseInt(digits.slice(from, to), 16);
  // 2 bits for the first letter, 6 for each of the 21 others: 128 in all.
  let text = LETTERS[number(0, 1) >> 2] ?? '';
  let held = number(0, 1) & 3;
  let bits = 2;
  for (let at = 1; at < 32; at++) {
    held = (held << 4) | number(at, at + 1);
    bits += 4;
    if (bits < 6) continue;
    bits -= 6;
    text += LETTERS[held >> bits] ?? '';
    held &= (1 << bits) - 1;
  }
  return text;
}
