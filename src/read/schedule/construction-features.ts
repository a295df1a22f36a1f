/** What construction words say; null where they don't. */
export interface ConstructionFeatures {
  readonly conductor: 'Cu' | 'Al' | null;
  readonly insulation: 'XLPE' | 'PVC' | 'EPR' | 'LSZH' | 'mineral' | null;
  readonly armour:
    | 'steel wire'
    | 'aluminium wire'
    | 'steel tape'
    | 'braid'
    | 'some'
    | 'none'
    | null;
  readonly sheath: 'PVC' | 'LSZH' | 'PE' | null;
  /** Codes that stand for a whole construction: `CAT6A`, `THHN`, `N2XY`; sorted. */
  readonly codes: readonly string[];
  /** Rated voltage in kV above 1, where stated. */
  readonly highKv: number | null;
  readonly isOptical: boolean;
  readonly screen: string | null;
}

const LAYER_WORDS =
  /^(?:cu|copper|kupfer|cuivre|al|alu|aluminium|aluminum|xlpe|vpe|pr|pvc|epr|lszh|ls0h|lsoh|lsf|lshf|zh|frnc|swa|awa|sta|dsta|ata|swb|gswb|[fs]?u?tp|armou?red|unarmou?red|mi|pe|mdpe|hdpe|screened|re|rm|sm|se|rmv|thermosetting|single|core|stranded|conductor|style|pair|fib(?:re|er)s?|optical|cable|and|with|red|black|grey|blue|earth|cl|class|kv|v|type)$/iu;

/** No construction is written in more letters; a page of text in a cell is looked at so far. Own choice. */
const LONGEST_TEXT = 2000;

/** Reads construction words such as `Cu/XLPE/SWA/PVC`, `N2XY-J` or `Cat6A U/UTP`. */
export function constructionFeatures(
  written: string,
  voltage: string | null,
): ConstructionFeatures {
  const text = written.slice(0, LONGEST_TEXT);
  const has = (pattern: string) =>
    new RegExp(String.raw`(?<![\p{L}\d])(?:${pattern})(?![\p{L}\d])`, 'iu').test(text);
  const isOptical = has('optical|fib(?:re|er)s?|lwl|loose tube|os[12]|om[1-5]');
  const codes = codesOf(text);
  const screen = /(?<![\p{L}\d])[SFU]{1,2}\/[FU]TP(?![\p{L}\d])|(?<![\p{L}\d])[FSU]TP/iu.exec(text);
  return {
    conductor: conductorOf(has),
    insulation: insulationOf(text, has),
    armour: armourOf(text, has, isOptical),
    sheath: sheathOf(text),
    codes,
    highKv: highKvOf(voltage ?? text),
    isOptical,
    screen: screen?.[0].toLowerCase() ?? null,
  };
}

type Has = (pattern: string) => boolean;

function conductorOf(has: Has): ConstructionFeatures['conductor'] {
  if (has('al|alu|aluminium|aluminum')) return 'Al';
  return has('cu|copper|kupfer|cuivre|cobre|koppar|koper|rame') ? 'Cu' : null;
}

const INSULATION: readonly (readonly [NonNullable<ConstructionFeatures['insulation']>, string])[] =
  [
    ['mineral', 'mi|micc|mims|mineral insulated'],
    ['XLPE', 'xlpe|vpe|pr|pex|thermosetting|xlp'],
    ['EPR', 'epr|hepr|rubber'],
  ];

function insulationOf(text: string, has: Has): ConstructionFeatures['insulation'] {
  for (const [insulation, words] of INSULATION) if (has(words)) return insulation;
  const layers = layersOf(text);
  const inner = layers.filter((layer) => !/^(?:cu|al|copper|alu|aluminium)$/iu.test(layer))[0];
  if (inner !== undefined && layers.length > 1 && /^pvc$/iu.test(inner)) return 'PVC';
  return null;
}

function armourOf(text: string, has: Has, isOptical: boolean): ConstructionFeatures['armour'] {
  if (has('unarmou?red|non[- ]?armou?red|unbewehrt|non armé|sin armar')) return 'none';
  if (has('awa|aluminium wire armou?red?')) return 'aluminium wire';
  if (has('swa|steel wire(?: armou?red?)?|gswa')) return 'steel wire';
  if (has('sta|dsta|steel[- ]tape(?:[- ]armou?red)?')) return 'steel tape';
  if (has('swb|gswb|braid|braided')) return 'braid';
  if (has('armou?red|armé|bewehrt|armado|armerad')) return 'some';
  if (isOptical) return null;
  // All layers are written out, and none of them is an armour.
  const layers = layersOf(text).filter(
    (layer) => !/^(?:cu|al|copper|alu|aluminium)$/iu.test(layer),
  );
  return layers.length >= 2 ? 'none' : null;
}

function sheathOf(text: string): ConstructionFeatures['sheath'] {
  const layers = layersOf(text);
  const outer = layers[layers.length - 1];
  if (outer === undefined || layers.length < 2) return null;
  if (/^pvc$/iu.test(outer)) return 'PVC';
  if (/^(?:lszh|ls0h|lsoh|lsf|lshf|zh)$/iu.test(outer)) return 'LSZH';
  return /^(?:pe|mdpe|hdpe|lldpe)$/iu.test(outer) ? 'PE' : null;
}

/** `Cu/XLPE/SWA/PVC` cut at its strokes; empty for texts without one. */
function layersOf(text: string): string[] {
  const word = text.split(/\s+/u).find((part) => /\p{L}{2,}\/\p{L}{2,}/u.test(part));
  return word === undefined ? [] : word.split('/');
}

function codesOf(text: string): string[] {
  const words = text.split(/[\s,;/]+/u).filter((word) => word !== '');
  const codes = words
    .map((word) => word.replace(/^[()]+|[()]+$/gu, ''))
    .filter((word) => word.length >= 3 && !LAYER_WORDS.test(word))
    .filter((word) => /^[\p{L}\d][\p{L}\d()-]*$/u.test(word) && isCode(word))
    .map((word) => word.toUpperCase().replace(/^CAT[- ]?/u, 'CAT'));
  const category = /(?<![\p{L}\d])cat(?:egory)?[-. ]{0,2}([5-8]A?e?)(?![\p{L}\d])/iu.exec(text);
  if (category?.[1] !== undefined) codes.push(`CAT${category[1].toUpperCase()}`);
  return [...new Set(codes)].sort();
}

/** Capitals and digits mixed, or capitals alone: a word such as "style" is no code. */
function isCode(word: string): boolean {
  return /\d/u.test(word) ? /\p{L}/u.test(word) : /^\p{Lu}{3,}(?:-\p{Lu}{1,2})?$/u.test(word);
}

function highKvOf(text: string): number | null {
  const kv = /(\d{1,3}(?:[.,]\d{1,2})?)(?: ?\(\d{1,3}(?:[.,]\d{1,2})?\))? ?kV/iu.exec(text)?.[1];
  const value = kv === undefined ? 0 : Number(kv.replace(',', '.'));
  return value > 1 ? value : null;
}
