import { unzipSync, zipSync } from 'fflate';
import { below, lines, mutateText, pick, type Random, toBytes, toText, xmlTags } from './mutate.ts';

/** An archive with its entries changed and packed again; now and then the packed bytes themselves. */
export function mutateZip(archive: Uint8Array, random: Random): Uint8Array {
  if (random() < 0.1) return toBytes(mutateText(toText(archive), [lines], random));
  const entries = Object.entries(unzipSync(archive));
  const count = 1 + below(random, 3);
  for (let n = 0; n < count && entries.length > 0; n += 1) changeEntries(entries, random);
  // A name may have become longer than the format can hold.
  const holdable = entries.filter(([name]) => name.length < 10_000);
  return zipSync(Object.fromEntries(holdable), { level: 1 });
}

function changeEntries(entries: [string, Uint8Array][], random: Random): void {
  const texts = entries.filter(([name]) => /\.(xml|rels|bcf|bcfv|bcfp|version)$/.test(name));
  const entry = pick(random, random() < 0.9 && texts.length > 0 ? texts : entries);
  const at = entries.indexOf(entry);
  const roll = random();
  if (roll < 0.08) entries.splice(at, 1);
  else if (roll < 0.12) entry[0] = mutateText(entry[0], [lines], random);
  else if (roll < 0.16) entry[1] = pick(random, entries)[1];
  else if (roll < 0.2) entries.push([`${entry[0].replace(/[^/]*$/, '')}x`, entry[1]]);
  else entry[1] = toBytes(mutateText(toText(entry[1]), [xmlTags], random));
}
