const LETTERS = '0123456789ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz_$';

/**
 * A UUID in the 22 letters of an IFC GlobalId.
 *
 * @source buildingSMART, "IFC GUID": base 64 with 0–9, A–Z, a–z, _ and $; the first letter holds
 * 2 bits, the others 6.
 */
export function ifcGlobalId(uuid: string): string {
  let number = BigInt(`0x${uuid.replaceAll('-', '')}`);
  let text = '';
  for (let i = 0; i < 22; i++) {
    text = (LETTERS[Number(number & 63n)] ?? '') + text;
    number >>= 6n;
  }
  return text;
}
