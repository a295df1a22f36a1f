import { SealbookError } from '../../basics/errors.ts';
import { type ReadLimits, USUAL_LIMITS } from '../../basics/limits.ts';
import {
  childOf,
  childrenOf,
  readXml,
  type XmlElement,
  type XmlLimits,
} from '../shared/read-xml.ts';
import type { SheetRow } from '../shared/sheet-table.ts';
import { readZip } from '../shared/zip-archive.ts';
import { streamRows } from './stream-rows.ts';
import { readTexts } from './stream-texts.ts';

/** A workbook that is read sheet by sheet and row by row, so that a long one stays small in memory. */
export interface OpenBook {
  /** Core document properties by element name: title, keywords … */
  readonly properties: ReadonlyMap<string, string>;
  /** Names of the whole book and what they stand for, as written. */
  readonly names: ReadonlyMap<string, string>;
  /** In the book's order. */
  readonly sheets: readonly OpenSheet[];
}

export interface OpenSheet {
  readonly name: string;
  readonly isHidden: boolean;
  /** Rows with content, read as they are asked for. @throws SealbookError `input-unreadable`, `input-too-large`. */
  readonly rows: () => Iterable<SheetRow>;
}

/**
 * Opens a workbook for reading its rows as a stream; pictures and drawings are not unpacked.
 * `readXlsx` gives the whole of a small book; this is for the books that we write ourselves, of
 * which one sheet alone may hold half a million cells.
 * @throws SealbookError `input-unreadable` for what is no workbook, `input-too-large`.
 */
export function openBook(bytes: Uint8Array, limits: ReadLimits = USUAL_LIMITS): OpenBook {
  const parts = readZip(bytes, limits, (name) => !/\/(media|drawings|charts)\//.test(name));
  const xml = (name: string) => partXml(parts, name, limits);
  const main = mainPart(xml);
  const workbook = xml(main);
  if (workbook === null) throw noWorkbook();
  const targets = relationsOf(xml, main);
  const styles = dateStyles(xml(`${folderOf(main)}styles.xml`));
  const isFrom1904 = childOf(workbook, 'workbookPr')?.attributes.get('date1904');
  const texts = once(() => readTexts(parts.get(`${folderOf(main)}sharedStrings.xml`)));
  const sheets = childrenOf(childOf(workbook, 'sheets'), 'sheet').flatMap((sheet): OpenSheet[] => {
    const part = parts.get(targets.get(sheet.attributes.get('id') ?? '') ?? '');
    if (part === undefined) return [];
    const book = { styles, isFrom1904: isFrom1904 === '1' || isFrom1904 === 'true' };
    return [
      {
        name: sheet.attributes.get('name') ?? '',
        isHidden: (sheet.attributes.get('state') ?? 'visible') !== 'visible',
        rows: () => streamRows(part, { ...book, texts: texts() }, limits),
      },
    ];
  });
  return { properties: coreProperties(xml), names: bookNames(workbook), sheets };
}

/** A part of the book as XML; null where it has none. */
type XmlPart = (name: string) => XmlElement | null;

function mainPart(xml: XmlPart): string {
  const main = [...relationTargets(xml, '_rels/.rels', '')].find(({ type }) =>
    type.endsWith('/officeDocument'),
  );
  return main?.target ?? 'xl/workbook.xml';
}

function relationsOf(xml: XmlPart, part: string): Map<string, string> {
  const folder = folderOf(part);
  const file = `${folder}_rels/${part.slice(folder.length)}.rels`;
  return new Map(relationTargets(xml, file, folder).map(({ id, target }) => [id, target]));
}

/** Relations of a part with their targets as names of parts. @source ECMA-376 part 2, 9.3. */
function relationTargets(xml: XmlPart, file: string, folder: string) {
  return childrenOf(xml(file), 'Relationship').map(({ attributes }) => ({
    id: attributes.get('Id') ?? '',
    type: attributes.get('Type') ?? '',
    target: resolved(folder, attributes.get('Target') ?? ''),
  }));
}

function resolved(folder: string, target: string): string {
  const whole = target.startsWith('/') ? target.slice(1) : folder + target;
  const steps: string[] = [];
  for (const step of whole.split('/')) {
    if (step === '..') steps.pop();
    else if (step !== '.' && step !== '') steps.push(step);
  }
  return steps.join('/');
}

function folderOf(part: string): string {
  return part.slice(0, part.lastIndexOf('/') + 1);
}

function partXml(
  parts: ReadonlyMap<string, Uint8Array>,
  name: string,
  limits: XmlLimits,
): XmlElement | null {
  const bytes = parts.get(name);
  return bytes === undefined ? null : readXml(bytes, limits);
}

function coreProperties(xml: XmlPart): Map<string, string> {
  const core = xml('docProps/core.xml');
  return new Map((core?.children ?? []).map(({ name, text }) => [name, text]));
}

function bookNames(workbook: XmlElement): Map<string, string> {
  return new Map(
    childrenOf(childOf(workbook, 'definedNames'), 'definedName')
      .filter(({ attributes }) => !attributes.has('localSheetId'))
      .map(({ attributes, text }) => [attributes.get('name') ?? '', text.trim()]),
  );
}

/** Formats that the standard numbers and that show dates. @source ECMA-376 part 1, 18.8.30 (numFmt). */
const DATE_FORMATS: ReadonlySet<number> = new Set([14, 15, 16, 17, 18, 19, 20, 21, 22, 45, 46, 47]);

/** For each cell style, whether it shows its number as a date. */
function dateStyles(styles: XmlElement | null): readonly boolean[] {
  const own = new Map(
    childrenOf(childOf(styles, 'numFmts'), 'numFmt').map(({ attributes }) => [
      Number(attributes.get('numFmtId')),
      attributes.get('formatCode') ?? '',
    ]),
  );
  return childrenOf(childOf(styles, 'cellXfs'), 'xf').map(({ attributes }) => {
    const id = Number(attributes.get('numFmtId') ?? 0);
    const code = own.get(id);
    return code === undefined ? DATE_FORMATS.has(id) : isDateFormat(code);
  });
}

/** Whether a format shows years, months or days: its letters, less what stands in quotes or brackets. */
function isDateFormat(code: string): boolean {
  return /[ymdhs]/i.test(code.replace(/"[^"]*"|\[[^\]]*\]|\\.|_./g, ''));
}

function once<T>(make: () => T): () => T {
  let made: { readonly value: T } | null = null;
  return () => {
    made ??= { value: make() };
    return made.value;
  };
}

function noWorkbook(): SealbookError {
  return new SealbookError('input-unreadable', 'The archive holds no workbook.', {
    todo: 'Save it as .xlsx.',
  });
}
