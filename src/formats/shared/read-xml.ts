import { SaxesParser } from 'saxes';
import { SealbookError } from '../../basics/errors.ts';
import { beyondLimit, type ReadLimits, USUAL_LIMITS } from '../../basics/limits.ts';

/** An element with what it holds; names without their namespace prefix. */
export interface XmlElement {
  readonly name: string;
  /** Attributes by local name; namespace declarations left out. */
  readonly attributes: ReadonlyMap<string, string>;
  readonly children: readonly XmlElement[];
  /** Text directly inside, joined, not trimmed. */
  readonly text: string;
  readonly line: number;
}

export type XmlLimits = Pick<ReadLimits, 'fileMb' | 'xmlElements' | 'xmlDepth' | 'checkTime'>;

const MEBIBYTE = 2 ** 20;
const ELEMENTS_A_CHECK = 4096;
/** A text can't be longer in the engines this runs in. */
const LONGEST_TEXT = 2 ** 29 - 32;

interface OpenElement {
  readonly name: string;
  readonly attributes: Map<string, string>;
  readonly children: XmlElement[];
  text: string;
  readonly line: number;
}

/**
 * The root element of an XML document. Document type declarations are refused, so no entity but the
 * five of XML itself is ever expanded and nothing outside the document is read.
 *
 * @throws SealbookError `input-too-large` beyond the limits, `input-unreadable` if not well formed.
 */
export function readXml(bytes: Uint8Array, limits: XmlLimits = USUAL_LIMITS): XmlElement {
  if (bytes.length > Math.min(limits.fileMb * MEBIBYTE, LONGEST_TEXT)) {
    throw beyondLimit('fileMb', `The XML has more than ${limits.fileMb} MB.`);
  }
  const open: OpenElement[] = [];
  let root: XmlElement | null = null;
  let elements = 0;
  const parser = new SaxesParser({ xmlns: false, position: true });
  parser.on('error', (error) => {
    throw unreadable(error.message, parser.line);
  });
  parser.on('doctype', () => {
    throw unreadable('document type declarations are not accepted', parser.line);
  });
  parser.on('opentag', (tag) => {
    elements += 1;
    if (elements % ELEMENTS_A_CHECK === 0) limits.checkTime?.();
    if (elements > limits.xmlElements) {
      throw beyondLimit('xmlElements', `The XML holds more than ${limits.xmlElements} elements.`);
    }
    if (open.length >= limits.xmlDepth) {
      throw beyondLimit('xmlDepth', `The XML nests deeper than ${limits.xmlDepth} elements.`);
    }
    open.push({
      name: localName(tag.name),
      attributes: attributesOf(tag.attributes),
      children: [],
      text: '',
      line: parser.line,
    });
  });
  const addText = (text: string) => {
    const element = open.at(-1);
    if (element !== undefined) element.text += text;
  };
  parser.on('text', addText);
  parser.on('cdata', addText);
  parser.on('closetag', () => {
    const closed = open.pop();
    if (closed === undefined) return;
    const parent = open.at(-1);
    if (parent === undefined) root = closed;
    else parent.children.push(closed);
  });
  parser.write(decodeXml(bytes)).close();
  if (root === null) throw unreadable('there is no root element', 1);
  return root;
}

/** First child of that name, or null. */
export function childOf(element: XmlElement | null, name: string): XmlElement | null {
  return element?.children.find((child) => child.name === name) ?? null;
}

/** Children of that name, in order. */
export function childrenOf(element: XmlElement | null, name: string): XmlElement[] {
  return element?.children.filter((child) => child.name === name) ?? [];
}

/** Trimmed text of the first child of that name, or null where it is missing or empty. */
export function childText(element: XmlElement | null, name: string): string | null {
  const text = childOf(element, name)?.text.trim();
  return text === undefined || text === '' ? null : text;
}

function attributesOf(attributes: Record<string, unknown>): Map<string, string> {
  const kept = new Map<string, string>();
  for (const [name, value] of Object.entries(attributes)) {
    if (name !== 'xmlns' && !name.startsWith('xmlns:')) kept.set(localName(name), String(value));
  }
  return kept;
}

function localName(name: string): string {
  return name.slice(name.indexOf(':') + 1);
}

/** UTF-8 unless the byte order mark says UTF-16; other encodings are rare enough to be refused. */
function decodeXml(bytes: Uint8Array): string {
  const [first, second] = bytes;
  const encoding =
    first === 0xff && second === 0xfe
      ? 'utf-16le'
      : first === 0xfe && second === 0xff
        ? 'utf-16be'
        : 'utf-8';
  try {
    return new TextDecoder(encoding, { fatal: true }).decode(bytes);
  } catch (error) {
    throw new SealbookError('input-unreadable', `The XML is not ${encoding}.`, {
      todo: 'Save the file as UTF-8.',
      cause: error,
    });
  }
}

function unreadable(message: string, line: number): SealbookError {
  return new SealbookError('input-unreadable', `The XML can't be read: ${message}.`, {
    where: { line },
    todo: 'Export the file again.',
  });
}
