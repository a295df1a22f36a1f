import Flatbush from 'flatbush';
import type { Evidence } from '../../basics/evidence.ts';
import { sizeText } from '../../geometry/shape.ts';
import type { Vec2 } from '../../geometry/vec.ts';
import type { DrawnLeader, DrawnSymbol, DrawnText } from '../../model/drawing.ts';
import type { ElementRef } from '../../model/ids.ts';
import { speaksOfOpenings } from '../../model/layer-role.ts';
import { type LabelTarget, SegmentIndex, textDistance } from './label-index.ts';
import { type LabelReading, readLabel } from './read-label.ts';
import { type Claim, shareOut, tellsSize } from './share-labels.ts';

/** No service is smaller than this in millimetres or larger in inches. Our own choice. */
const MOST_INCHES = 48;

function inInches(reading: LabelReading): LabelReading {
  const sizes = reading.sizes.map((size) => {
    const hasUnit = /["″”']|IN\b|INCH|MM|CM|\dM\b/i.test(size.text);
    const { section } = size;
    const largest =
      section.type === 'circle' ? section.diameterMm : Math.max(section.widthMm, section.heightMm);
    if (hasUnit || largest > MOST_INCHES) return size;
    return {
      ...size,
      section:
        section.type === 'circle'
          ? { ...section, diameterMm: section.diameterMm * 25.4 }
          : { ...section, widthMm: section.widthMm * 25.4, heightMm: section.heightMm * 25.4 },
    };
  });
  return { ...reading, sizes };
}

/** A text, attribute or leader that says something of a service or an opening. */
export interface Label {
  readonly reading: LabelReading;
  readonly text: string;
  readonly ref: ElementRef;
  readonly from: 'attribute' | 'leader' | 'text';
  readonly placeMm: Vec2;
  /** From the text to what it names. */
  readonly distanceMm: number;
}

export function labelEvidence(label: Label, fact: string): Evidence {
  const source = { attribute: 'attribute', leader: 'leader', text: 'text' }[label.from];
  return {
    fact,
    text:
      label.from === 'text'
        ? `${source} "${oneLine(label.text)}", ${sizeText(label.distanceMm)} mm away`
        : `${source} "${oneLine(label.text)}"`,
    place: { fileKey: label.ref.fileKey, id: label.ref.id },
    distanceMm: label.distanceMm,
  };
}

const oneLine = (text: string): string => text.replace(/\s+/g, ' ').trim();

const saysSomething = (reading: LabelReading): boolean =>
  reading.count !== null ||
  reading.sizes.length > 0 ||
  reading.references.length > 0 ||
  reading.height !== null;

/** What may name targets. */
export interface LabelSources {
  readonly texts: readonly DrawnText[];
  readonly leaders: readonly DrawnLeader[];
  /** Blocks with attributes that stand beside what they name. */
  readonly tags: readonly DrawnSymbol[];
  /** Reads a text; see `labelReader`. */
  readonly read: (text: string) => LabelReading;
}

/**
 * `readLabel` that reads no text twice: labels are looked at before and after edges are paired.
 * In a drawing in inches or feet a small number without a unit is in inches.
 */
export function labelReader(isImperial: boolean): (text: string) => LabelReading {
  const known = new Map<string, LabelReading>();
  return (text) => {
    const reading = known.get(text) ?? (isImperial ? inInches(readLabel(text)) : readLabel(text));
    known.set(text, reading);
    return reading;
  };
}

/** How far a tag may stand from what it names. */
const TAG_REACH_MM = 300;

/** Labels of each target, in the order of `targets`; a text belongs to one target only. */
export function labelsOf(
  targets: readonly LabelTarget[],
  { texts, leaders, tags, read }: LabelSources,
  reachMm: number,
): Label[][] {
  const owned: Label[][] = targets.map(() => []);
  if (targets.length === 0) return owned;
  const index = new SegmentIndex(targets);
  for (const tag of tags) {
    const label = tagLabel(tag);
    const target = label === null ? null : index.nearest(label.placeMm, TAG_REACH_MM);
    if (label !== null && target !== null) {
      owned[target.at]?.push({ ...label, distanceMm: target.distanceMm });
    }
  }
  const pointed = leaderTexts(texts, leaders);
  for (const leader of leaders) {
    const texts = pointed.byLeader.get(leader) ?? [];
    const spoken = leader.text === null ? [] : [{ text: leader.text, ref: leader.ref }];
    for (const { text, ref } of [...texts, ...spoken]) {
      const reading = read(text);
      if (!saysSomething(reading)) continue;
      for (const tip of leader.tipsMm) {
        const target = index.nearest(tip, reachMm / 3);
        if (target === null) continue;
        owned[target.at]?.push({
          reading,
          text,
          ref,
          from: 'leader',
          placeMm: tip,
          distanceMm: target.distanceMm,
        });
      }
    }
  }
  const claims = texts.flatMap((text): Claim[] => {
    if (pointed.texts.has(text) || !index.isNear(text.centreMm, reachMm + text.lengthMm)) return [];
    const reading = read(text.text);
    if (!saysSomething(reading)) return [];
    const target = index.nearestToText(text, reading, reachMm);
    return target === null ? [] : [{ text, reading, target }];
  });
  const isTaken = (at: number) => (owned[at] ?? []).some(({ reading }) => tellsSize(reading));
  for (const { text, reading, target } of shareOut(claims, isTaken, index, reachMm)) {
    owned[target.at]?.push({
      reading,
      text: text.text,
      ref: text.ref,
      from: 'text',
      placeMm: text.centreMm,
      distanceMm: target.distanceMm,
    });
  }
  return owned;
}

/** Texts that leaders end at, by the handle the file gives or by standing at the leader's end. */
function leaderTexts(
  texts: readonly DrawnText[],
  leaders: readonly DrawnLeader[],
): {
  readonly texts: ReadonlySet<DrawnText>;
  readonly byLeader: ReadonlyMap<DrawnLeader, readonly DrawnText[]>;
} {
  const byHandle = new Map(texts.map((text) => [text.ref.id, text]));
  const index = textIndex(texts);
  const used = new Set<DrawnText>();
  const byLeader = new Map<DrawnLeader, DrawnText[]>();
  for (const leader of leaders) {
    if (leader.text !== null) continue;
    const named = leader.textHandle === null ? undefined : byHandle.get(leader.textHandle);
    const beside = index(leader.tailMm).filter(
      (text) => !used.has(text) && textDistance(text, leader.tailMm) <= text.heightMm * BESIDE_TAIL,
    );
    const found = named !== undefined ? [named] : beside.slice(0, 1);
    for (const text of found) used.add(text);
    byLeader.set(leader, found);
  }
  return { texts: used, byLeader };
}

/** How far a leader may end from its text, in heights of the text. */
const BESIDE_TAIL = 1.5;

/** Texts whose surroundings hold a place, in the order of the file. */
function textIndex(texts: readonly DrawnText[]): (place: Vec2) => DrawnText[] {
  if (texts.length === 0) return () => [];
  const index = new Flatbush(texts.length);
  for (const { centreMm, lengthMm, depthMm, heightMm } of texts) {
    const reach = (lengthMm + depthMm) / 2 + heightMm * BESIDE_TAIL;
    const [x, y] = centreMm;
    index.add(x - reach, y - reach, x + reach, y + reach);
  }
  index.finish();
  return ([x, y]) =>
    index
      .search(x, y, x, y)
      .sort((a, b) => a - b)
      .flatMap((i) => texts[i] ?? []);
}

const SIZE_TAGS =
  /^(?:SIZE|DIA|DIAM|DIAMETER|DN|NB|OD|ID|BORE|DURCHMESSER|DIM|DIMENSION|GROESSE|TAILLE)/;
const REFERENCE_TAGS =
  /^(?:REF|TAG|MARK|NAME|NUMBER|NUM|NO|NR|IDENT|LABEL|ROUTE|SERVICE|CIRCUIT|CODE)/;
const COUNT_TAGS = /^(?:QTY|COUNT|QUANTITY|ANZAHL|WAYS|NO_OF|NOOF)/;
const HEIGHT_TAGS = /^(?:LEVEL|LVL|ELEV|EL|HEIGHT_AFFL|AFFL|INVERT|IL|CL|CENTRE|Z)$/;

/** The mark of an opening gives the opening's size, which is not that of what passes; its name helps. */
function tagLabel(tag: DrawnSymbol): Label | null {
  const label = attributeLabel(tag);
  const marksOpening = speaksOfOpenings(tag.layer) || speaksOfOpenings(tag.blockName);
  if (label === null || !marksOpening) return label;
  return { ...label, reading: { ...label.reading, sizes: [] } };
}

/** What a block's attributes say, as one label at the block's place. */
export function attributeLabel(symbol: DrawnSymbol): Label | null {
  const readings = symbol.attributes
    .filter(({ text }) => text.trim() !== '')
    .map(({ tag, text }) => readAttribute(tag.toUpperCase(), text.trim()));
  const width = numberWith(symbol, /^(?:WIDTH|W|BREITE|LARGEUR|ANCHO)$/);
  const height = numberWith(symbol, /^(?:HEIGHT|H|DEPTH|HOEHE|HÖHE|HAUTEUR|ALTO)$/);
  const box: LabelReading['sizes'] =
    width !== null && height !== null
      ? [
          {
            section: { type: 'rectangle', widthMm: width, heightMm: height },
            basis: 'unknown',
            text: `${width} × ${height}`,
          },
        ]
      : [];
  const reading: LabelReading = {
    count: readings.find(({ count }) => count !== null)?.count ?? null,
    sizes: [...box, ...readings.flatMap(({ sizes }) => sizes)],
    references: readings.flatMap(({ references }) => references),
    height: readings.find((each) => each.height !== null)?.height ?? null,
    thicknessMm: readings.find((each) => each.thicknessMm !== null)?.thicknessMm ?? null,
    kind: readings.find(({ kind }) => kind !== null)?.kind ?? null,
    isOpening: readings.some(({ isOpening }) => isOpening),
  };
  if (!saysSomething(reading)) return null;
  return {
    reading,
    text: symbol.attributes.map(({ tag, text }) => `${tag} = ${text}`).join(', '),
    ref: symbol.ref,
    from: 'attribute',
    placeMm: symbol.positionMm,
    distanceMm: 0,
  };
}

function numberWith(symbol: DrawnSymbol, tag: RegExp): number | null {
  const found = symbol.attributes.find((each) => tag.test(each.tag.toUpperCase()));
  const value = Number.parseFloat(found?.text.replace(',', '.') ?? '');
  return Number.isFinite(value) && value > 0 ? value : null;
}

function readAttribute(tag: string, text: string): LabelReading {
  const reading = readLabel(text);
  const isNumber = /^\d+(?:[.,]\d+)?(?:\s?mm)?$/i.test(text);
  const value = Number.parseFloat(text.replace(',', '.'));
  if (SIZE_TAGS.test(tag) && isNumber) {
    const basis = /^OD/.test(tag) ? 'outside' : /^(?:ID$|BORE)/.test(tag) ? 'bore' : 'unknown';
    return {
      ...reading,
      references: [],
      sizes: [{ section: { type: 'circle', diameterMm: value }, basis, text }],
    };
  }
  if (COUNT_TAGS.test(tag) && isNumber) return { ...reading, references: [], count: value };
  if (HEIGHT_TAGS.test(tag) && /^[+-]?\d+(?:[.,]\d+)?\s?m?m?$/i.test(text)) {
    const isMetres = /[.,]/.test(text) || /\dm$/i.test(text);
    return {
      ...reading,
      references: [],
      height: { heightMm: isMetres ? value * 1000 : value, point: 'centre', text },
    };
  }
  if (REFERENCE_TAGS.test(tag) && reading.sizes.length === 0) {
    // A mark is a mark whatever it looks like.
    return { ...reading, count: null, references: [text] };
  }
  return reading;
}
