const MOST_CHARACTERS = 300;

/** Three and a half cores: three and a neutral of about half the size, in one cable. */
export const HALF_CORE = /(?<![\d.,])3[.,]5 ?(?=c(?:ores?)?(?!\p{L}{2})|x ?\d)/iu;

/** Ways of writing that mean another: pattern, and what it stands for. */
const REWRITES: readonly (readonly [RegExp, string])[] = [
  [/[×✕✖*·]/gu, 'x'],
  // American: "4#12" are four wires, "#10" a gauge, "AWG23" too.
  [/, ?(?=\d{1,2} ?#)/gu, ' + '],
  [/(?<![\d.,])(\d{1,2}) ?# ?(\d{1,2}(?:\/0)?)(?: ?AWG)?/giu, '$1x1c $2 AWG '],
  [/# ?(\d{1,2}(?:\/0)?)(?![\d.])(?: ?AWG)?/giu, '$1 AWG '],
  [/(?<!\d[- ]?)AWG[ -]?(\d{1,2}(?:\/0)?)(?!\d)/giu, ' $1 AWG '],
  [/#/gu, ' '],
  // "3-1/C 500 kcmil": three single conductors.
  [/(?<![\d.,/-])(\d{1,2}) ?- ?1\/c(?!\p{L})/giu, '$1x1c'],
  [/[‐-―−]/gu, '-'],
  [/(?<=\d) ?(?:sq\.? ?mm|mm\.? ?sq|mm\^2|qmm|mmq)(?![\p{L}])/giu, 'mm2'],
  // "2R x 3C x 240": runs.
  [/(?<![\p{L}\d.,])(\d{1,2}) ?r(?:uns?)? ?x ?(?=\d)/giu, '$1 no '],
  [new RegExp(HALF_CORE, 'giu'), '3'],
  // "Cat 6A": the number is its name, it counts nothing.
  [/(?<![\p{L}\d])cat(?:egory)?[-. ]{1,2}(?=[5-8])/giu, 'Cat'],
  [/(\d) ?x ?(?=(?:om[1-5]|os[12]|sm|(?:9|50|62[.,]5)\/125)(?![\p{L}\d]))/giu, '$1 fibres '],
  // A colour, not a conductor among the cores.
  [/(?<![\p{L}\d])(?:g\/y|y\/g|gn\/ye|gnge)(?![\p{L}\d])/giu, 'green-yellow'],
];

/** "2c+E 2.5": the earth is a core of the cable where the size comes after it. */
const EARTH_AS_CORE = /(?<![\d.,])(\d{1,2}) ?c?(?:ores?)? ?\+ ?(?:e|pe|ecc|cpc)(?=(?: ?x)? ?\d)/iu;

/** A designation with its ways of writing made one: x for times, mm2, AWG behind its number. */
export function tidyDesignation(written: string): string {
  const text = written.slice(0, MOST_CHARACTERS).normalize('NFKC');
  return REWRITES.reduce((rest, [pattern, meant]) => rest.replace(pattern, meant), text)
    .replace(EARTH_AS_CORE, (_, cores: string) => `${Number(cores) + 1}c `)
    .replace(/\s+/gu, ' ')
    .trim();
}
