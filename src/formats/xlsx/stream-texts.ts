import { SaxesParser } from 'saxes';
import { SealbookError } from '../../basics/errors.ts';

const MOST_TEXTS = 5_000_000;
const CHUNK_BYTES = 1 << 18;

/** The book's shared texts in order, formatting and phonetic hints left out. */
export function readTexts(part: Uint8Array | undefined): readonly string[] {
  const texts: string[] = [];
  if (part === undefined) return texts;
  let text = '';
  let isWanted = false;
  let phonetic = 0;
  const parser = streamParser();
  parser.on('opentag', ({ name }) => {
    if (name === 'si') text = '';
    else if (name === 'rPh') phonetic += 1;
    else if (name === 't') isWanted = phonetic === 0;
  });
  parser.on('text', (piece) => {
    if (isWanted) text += piece;
  });
  parser.on('closetag', ({ name }) => {
    if (name === 't') isWanted = false;
    else if (name === 'rPh') phonetic -= 1;
    else if (name === 'si') texts.push(plainText(text));
    if (texts.length > MOST_TEXTS) throw tooMany('texts');
  });
  for (const chunk of chunksOf(part)) parser.write(chunk);
  parser.close();
  return texts;
}

/** A parser that refuses document types and says where a part is not well formed. */
export function streamParser(): SaxesParser {
  const parser = new SaxesParser({ xmlns: false, position: true });
  const refuse = (message: string) => {
    throw new SealbookError('input-unreadable', `The workbook can't be read: ${message}.`, {
      todo: 'Open it in a spreadsheet program and save it again as .xlsx.',
    });
  };
  parser.on('error', (error) => refuse(error.message));
  parser.on('doctype', () => refuse('document type declarations are not accepted'));
  return parser;
}

/** A part as text, piece by piece. */
export function* chunksOf(part: Uint8Array): Generator<string> {
  const decoder = new TextDecoder();
  for (let at = 0; at < part.length; at += CHUNK_BYTES) {
    yield decoder.decode(part.subarray(at, at + CHUNK_BYTES), { stream: true });
  }
  yield decoder.decode();
}

/** Undoes the escapes of SpreadsheetML strings. @source ECMA-376 part 1, 22.9.2.19 (ST_Xstring). */
export function plainText(text: string): string {
  if (!text.includes('_x')) return text;
  return text.replace(/_x([0-9A-Fa-f]{4})_/g, (_, code: string) =>
    String.fromCharCode(Number.parseInt(code, 16)),
  );
}

function tooMany(what: string): SealbookError {
  return new SealbookError('input-too-large', `The workbook has too many ${what}.`, {
    todo: 'Check where the file comes from.',
  });
}
