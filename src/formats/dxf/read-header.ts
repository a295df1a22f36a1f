import { SealbookError } from '../../basics/errors.ts';
import { TagLines } from './tag-lines.ts';

/** What the reader needs of the HEADER section. */
export interface DxfHeader {
  readonly version: string | null;
  readonly codePage: string | null;
  readonly insUnits: number | null;
  readonly measurement: number | null;
}

const BINARY_MARK = 'AutoCAD Binary DXF';

/**
 * The header variables, after a look at what the file is at all.
 * @throws SealbookError `input-unreadable` for empty files, binary DXF, DWG and anything else that
 *   does not begin as a text DXF does
 */
export function readHeader(bytes: Uint8Array): DxfHeader {
  refuseOtherKinds(bytes);
  const values = new Map<string, string>();
  const lines = new TagLines(bytes);
  let variable: string | null = null;
  let isInHeader = false;
  let isFirst = true;
  while (lines.next()) {
    if (lines.code === 999) continue;
    if (isFirst && !(lines.code === 0 && lines.asciiValue().toUpperCase() === 'SECTION')) {
      throw notDxf();
    }
    isFirst = false;
    if (lines.code === 0 && isInHeader) break;
    if (lines.code === 2 && !isInHeader) {
      if (lines.asciiValue().toUpperCase() !== 'HEADER') break;
      isInHeader = true;
    } else if (lines.code === 9) variable = lines.asciiValue();
    else if (variable !== null) {
      if (!values.has(variable)) values.set(variable, lines.asciiValue());
      variable = null;
    }
  }
  if (isFirst) throw notDxf();
  const version = values.get('$ACADVER')?.toUpperCase() ?? null;
  return {
    version,
    codePage: values.get('$DWGCODEPAGE') ?? null,
    insUnits: wholeNumber(values.get('$INSUNITS')),
    measurement: wholeNumber(values.get('$MEASUREMENT')),
  };
}

function wholeNumber(text: string | undefined): number | null {
  const value = text === undefined ? Number.NaN : Number(text);
  return Number.isInteger(value) ? value : null;
}

function refuseOtherKinds(bytes: Uint8Array): void {
  const start = ascii(bytes, 22);
  if (bytes.length === 0 || ascii(bytes, 4096).trim() === '') {
    throw new SealbookError('input-unreadable', 'The file is empty.', {
      todo: 'Save the drawing again as DXF.',
    });
  }
  if (start.startsWith(BINARY_MARK)) {
    throw new SealbookError('input-unreadable', 'The file is a binary DXF.', {
      todo: 'Save the drawing as a text DXF (ASCII); every program that writes the one writes the other.',
    });
  }
  if (/^AC\d{4}/.test(start)) {
    throw new SealbookError('input-unreadable', 'The file is a DWG drawing, not a DXF.', {
      todo: 'Save the drawing as DXF (ASCII), any version from R12 on.',
    });
  }
  if ((bytes[0] === 0xff && bytes[1] === 0xfe) || (bytes[0] === 0xfe && bytes[1] === 0xff)) {
    throw new SealbookError('input-unreadable', 'The file is written in UTF-16, which no DXF is.', {
      todo: 'Save the drawing again as DXF.',
    });
  }
}

function ascii(bytes: Uint8Array, length: number): string {
  return String.fromCharCode(...bytes.subarray(0, length));
}

function notDxf(): SealbookError {
  return new SealbookError('input-unreadable', 'The file does not begin as a DXF drawing does.', {
    todo: 'Give a text DXF (it begins with the lines 0 and SECTION).',
  });
}
