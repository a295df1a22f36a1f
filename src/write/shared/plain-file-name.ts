/**
 * A name for a file after a text of the input, of letters, digits and hyphens only, and different
 * from those used before whatever the case; it is added to them.
 */
export function plainFileName(
  stem: string,
  part: string,
  extension: string,
  used: Set<string>,
): string {
  const plain =
    part
      .replace(/[^\p{L}\p{N}]+/gu, '-')
      .replace(/^-|-$/g, '')
      .slice(0, 60) || 'part';
  let name = `${stem}-${plain}.${extension}`;
  for (let count = 2; used.has(name.toLowerCase()); count += 1) {
    name = `${stem}-${plain}-${count}.${extension}`;
  }
  used.add(name.toLowerCase());
  return name;
}
