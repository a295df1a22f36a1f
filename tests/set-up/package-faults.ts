import { strFromU8, unzipSync } from 'fflate';

/**
 * What is wrong with a workbook's package: parts without a content type, relations without a
 * target, parts that nothing refers to. Empty for a sound one.
 * @source ECMA-376 part 2: 10.1.2 (content types), 9.3 (relationships).
 */
export function packageFaults(bytes: Uint8Array): string[] {
  const parts = unzipSync(bytes);
  const names = Object.keys(parts);
  const read = (name: string) => strFromU8(parts[name] ?? new Uint8Array());
  const types = read('[Content_Types].xml');
  const faults: string[] = [];
  for (const name of names.filter((each) => each !== '[Content_Types].xml')) {
    const extension = name.slice(name.lastIndexOf('.') + 1);
    const isTyped =
      types.includes(`PartName="/${name}"`) || types.includes(`Extension="${extension}"`);
    if (!isTyped) faults.push(`${name} has no content type`);
  }
  const referred = new Set<string>();
  for (const name of names.filter((each) => each.endsWith('.rels'))) {
    const base = name.replace(/_rels\/[^/]+$/, '');
    for (const [, target = ''] of read(name).matchAll(/Target="([^"]+)"/g)) {
      const place = new URL(target, `file:///${base}`).href.slice('file:///'.length);
      referred.add(place);
      if (!names.includes(place)) faults.push(`${name} leads to ${place}, which is not there`);
    }
  }
  for (const name of names) {
    if (name.endsWith('.rels') || name === '[Content_Types].xml') continue;
    if (!referred.has(name)) faults.push(`nothing leads to ${name}`);
  }
  return faults;
}
