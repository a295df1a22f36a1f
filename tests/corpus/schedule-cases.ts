import { strToU8, zipSync } from 'fflate';

const HEAD = 'Cable ref,Type,Outside diameter (mm),From,To,Route,Circuit\n';
const ROW = 'W-1,Cu/PVC 3c 2.5,12.5,Board,Pump,T-01,LV\n';
const SECOND = 'W-2,Cu/PVC 3c 4,14,Board,Fan,T-01,LV\n';

/** Delimited files as a whole; characters beyond 255 are written as UTF-8. */
export const CSV_CASES: readonly (readonly [name: string, text: string, outcome: string])[] = [
  ['two cables', HEAD + ROW + SECOND, '2 cables (W-1 12.5, W-2 14); no query'],
  ['an empty file', '', 'REFUSED input-unreadable: The file is empty.'],
  [
    'blanks only',
    '  \n \n',
    'REFUSED input-unreadable: No column for the cable reference was found. Seen: sheet CSV is empty.',
  ],
  [
    'a byte order mark only',
    '\ufeff',
    'REFUSED input-unreadable: No column for the cable reference was found. Seen: sheet CSV is empty.',
  ],
  ['a heading only', HEAD, '0 cables (); no query'],
  [
    'no heading',
    ROW + SECOND,
    'REFUSED input-unreadable: No column for the cable reference was found. Seen: sheet CSV, row 1: W-1 | Cu/PVC 3c 2.5 |',
  ],
  [
    'prose',
    'To whom it may concern\nplease find the cables enclosed\n',
    'REFUSED input-unreadable: No column for the cable reference was found. Seen: sheet CSV, row 1: To whom it may concer',
  ],
  [
    'a page of the web',
    '<html><body>404</body></html>',
    'REFUSED input-unreadable: No column for the cable reference was found. Seen: sheet CSV, row 1: <html><body>404</body',
  ],
  [
    'zero bytes between letters',
    [...(HEAD + ROW)].join('\0'),
    '1 cables (W-1 12.5); schedule-row-unclear',
  ],
  [
    'bytes of a program',
    `\u007fELF${'\u0001\u0002\u0003'.repeat(400)}`,
    'REFUSED input-unreadable: This is neither a workbook nor delimited text.',
  ],
  [
    'a quote that does not close',
    `${HEAD}"${ROW}${SECOND}`,
    '2 cables ("W-1 12.5, W-2 14); schedule-row-unclear',
  ],
  [
    'a quote within a word',
    `${HEAD}W-1,4" pipe,12.5,Board,Pump,T-01,LV\n`,
    '1 cables (W-1 12.5); no query',
  ],
  [
    'quotes about everything',
    `${HEAD}"W-1","a","12.5","b","c","d","e"\n`,
    '1 cables (W-1 12.5); no query',
  ],
  [
    'a line end within a cell',
    `${HEAD}W-1,"two\nlines",12.5,Board,Pump,T-01,LV\n`,
    '1 cables (W-1 12.5); no query',
  ],
  ['too few cells', `${HEAD}W-1\n`, '0 cables (); schedule-row-unclear'],
  [
    'too many cells',
    `${HEAD}W-1,a,12.5,b,c,d,e,f,g,h\n`,
    '1 cables (W-1 12.5); schedule-column-unused',
  ],
  ['empty rows between', `${HEAD}\n\n,,,,,,\n${ROW}`, '1 cables (W-1 12.5); no query'],
  ['the heading twice', HEAD + ROW + HEAD + SECOND, '2 cables (W-1 12.5, W-2 14); no query'],
  ['one reference twice', HEAD + ROW + ROW, '2 cables (W-1 12.5, W-1 12.5); no query'],
  [
    'one reference twice with two diameters',
    HEAD + ROW + ROW.replace('12.5', '13.5'),
    '2 cables (W-1 12.5, W-1 13.5); no query',
  ],
  [
    'no reference in a row',
    `${HEAD},Cu/PVC 3c 2.5,12.5,Board,Pump,T-01,LV\n`,
    '0 cables (); schedule-row-unclear',
  ],
  ['a sum below', `${HEAD}${ROW}Total,,1,,,,\n`, '1 cables (W-1 12.5); no query'],
  [
    'a diameter that is a word',
    HEAD + ROW.replace('12.5', 'thick'),
    '1 cables (W-1 null); cable-diameter-unknown, schedule-row-unclear',
  ],
  [
    'a diameter of nought',
    HEAD + ROW.replace('12.5', '0'),
    '1 cables (W-1 null); cable-diameter-unknown, schedule-row-unclear',
  ],
  [
    'a negative diameter',
    HEAD + ROW.replace('12.5', '-12.5'),
    '1 cables (W-1 null); cable-diameter-unknown, schedule-row-unclear',
  ],
  [
    'a diameter beyond any cable',
    HEAD + ROW.replace('12.5', '1e308'),
    '1 cables (W-1 null); cable-diameter-unknown, schedule-row-unclear',
  ],
  [
    'a diameter beyond any number',
    HEAD + ROW.replace('12.5', '1e999'),
    '1 cables (W-1 null); cable-diameter-unknown, schedule-row-unclear',
  ],
  [
    'a diameter with a comma',
    HEAD + ROW.replace('12.5', '"12,5"'),
    '1 cables (W-1 12.5); no query',
  ],
  ['a diameter in inches', HEAD + ROW.replace('12.5', '1/2"'), '1 cables (W-1 12.7); no query'],
  [
    'a diameter that is a date',
    HEAD + ROW.replace('12.5', '12-May'),
    '1 cables (W-1 null); cable-diameter-unknown, schedule-row-unclear',
  ],
  ['no diameter', HEAD + ROW.replace('12.5', ''), '1 cables (W-1 null); cable-diameter-unknown'],
  [
    'no diameter and no type',
    HEAD + ROW.replace('Cu/PVC 3c 2.5,12.5', ','),
    '1 cables (W-1 null); cable-diameter-unknown',
  ],
  [
    'a reference that is a formula',
    HEAD + ROW.replace('W-1', '=1+1'),
    '1 cables (=1+1 12.5); no query',
  ],
  [
    'a reference that is a path',
    HEAD + ROW.replace('W-1', '../../x'),
    '1 cables (../../x 12.5); no query',
  ],
  [
    'a reference that is a part of the language',
    HEAD + ROW.replace('W-1', '__proto__'),
    '1 cables (__proto__ 12.5); no query',
  ],
  [
    'a reference of 100,000 letters',
    HEAD + ROW.replace('W-1', 'W'.repeat(100_000)),
    '0 cables (); schedule-row-unclear',
  ],
  [
    'a reference of marks only',
    HEAD + ROW.replace('W-1', '---'),
    '0 cables (); schedule-row-unclear',
  ],
  ['semicolons', (HEAD + ROW).replaceAll(',', ';'), '1 cables (W-1 12.5); no query'],
  ['tabs', (HEAD + ROW).replaceAll(',', '\t'), '1 cables (W-1 12.5); no query'],
  [
    'a delimiter nobody uses',
    (HEAD + ROW).replaceAll(',', '#'),
    'REFUSED input-unreadable: No column for the cable reference was found. Seen: sheet CSV, row 1: Cable ref#Type#Outsid',
  ],
  [
    'the delimiter named',
    `sep=;\n${(HEAD + ROW).replaceAll(',', ';')}`,
    '1 cables (W-1 12.5); no query',
  ],
  [
    'line ends of old kind',
    (HEAD + ROW + SECOND).replaceAll('\n', '\r'),
    '2 cables (W-1 12.5, W-2 14); no query',
  ],
  [
    'three thousand columns',
    `${HEAD}W-1${',x'.repeat(3000)}\n`,
    'REFUSED input-too-large: Row 2 has 3001 cells.',
  ],
];

/** Letters of a western code page that is not UTF-8. */
export const CSV_BYTES: readonly (readonly [name: string, bytes: Uint8Array, outcome: string])[] = [
  [
    'letters of a western code page',
    Uint8Array.from(Buffer.from(HEAD + ROW.replace('Pump', 'Pümp'), 'latin1')),
    '1 cables (W-1 12.5); schedule-row-unclear',
  ],
  [
    'UTF-16 with a mark',
    Uint8Array.from(Buffer.from(`\ufeff${HEAD}${ROW}`, 'utf16le')),
    '1 cables (W-1 12.5); no query',
  ],
  [
    'UTF-16 without a mark',
    Uint8Array.from(Buffer.from(HEAD + ROW, 'utf16le')),
    '1 cables (W-1 12.5); schedule-row-unclear',
  ],
  [
    'UTF-16 of an odd number of bytes',
    Uint8Array.from(Buffer.from(`\ufeff${HEAD}${ROW}`, 'utf16le').subarray(0, -1)),
    '1 cables (W-1 12.5); no query',
  ],
];

const TYPES =
  '<?xml version="1.0"?><Types xmlns="http://schemas.openxmlformats.org/package/2006/content-types"><Default Extension="rels" ContentType="application/vnd.openxmlformats-package.relationships+xml"/><Default Extension="xml" ContentType="application/xml"/><Override PartName="/xl/workbook.xml" ContentType="application/vnd.openxmlformats-officedocument.spreadsheetml.sheet.main+xml"/><Override PartName="/xl/worksheets/sheet1.xml" ContentType="application/vnd.openxmlformats-officedocument.spreadsheetml.worksheet+xml"/></Types>';
const RELATION = 'http://schemas.openxmlformats.org/officeDocument/2006/relationships';
const RELATIONS =
  '<?xml version="1.0"?><Relationships xmlns="http://schemas.openxmlformats.org/package/2006/relationships">';

/** A small workbook, part by part. @source ECMA-376 part 1, annex L.2. */
const PARTS: Readonly<Record<string, string>> = {
  '[Content_Types].xml': TYPES,
  '_rels/.rels': `${RELATIONS}<Relationship Id="rId1" Type="${RELATION}/officeDocument" Target="xl/workbook.xml"/></Relationships>`,
  'xl/workbook.xml': `<?xml version="1.0"?><workbook xmlns="http://schemas.openxmlformats.org/spreadsheetml/2006/main" xmlns:r="${RELATION}"><sheets><sheet name="Cables" sheetId="1" r:id="rId1"/></sheets></workbook>`,
  'xl/_rels/workbook.xml.rels': `${RELATIONS}<Relationship Id="rId1" Type="${RELATION}/worksheet" Target="worksheets/sheet1.xml"/></Relationships>`,
  'xl/worksheets/sheet1.xml':
    '<?xml version="1.0"?><worksheet xmlns="http://schemas.openxmlformats.org/spreadsheetml/2006/main"><sheetData><row r="1"><c r="A1" t="inlineStr"><is><t>Cable ref</t></is></c><c r="B1" t="inlineStr"><is><t>OD mm</t></is></c></row><row r="2"><c r="A2" t="inlineStr"><is><t>W-1</t></is></c><c r="B2"><v>12.5</v></c></row></sheetData></worksheet>',
};

const SHEET = 'xl/worksheets/sheet1.xml';

/** A part of the small workbook (null: the archive as bytes), what stands there and what stands instead. */
type BookEdit = readonly [
  name: string,
  part: string,
  from: string | RegExp,
  to: string | null,
  outcome: string,
];

export const XLSX_EDITS: readonly BookEdit[] = [
  ['nothing changed', SHEET, 'W-1', 'W-1', '1 cables (W-1 12.5); no query'],
  [
    'no workbook',
    'xl/workbook.xml',
    '',
    null,
    'REFUSED input-unreadable: The archive holds no workbook.',
  ],
  [
    'no sheet',
    SHEET,
    '',
    null,
    'REFUSED input-unreadable: No column for the cable reference was found. Seen: no sheets.',
  ],
  ['no list of types', '[Content_Types].xml', '', null, '1 cables (W-1 12.5); no query'],
  [
    'no relations of the workbook',
    'xl/_rels/workbook.xml.rels',
    '',
    null,
    'REFUSED input-unreadable: No column for the cable reference was found. Seen: no sheets.',
  ],
  ['no relations at all', '_rels/.rels', '', null, '1 cables (W-1 12.5); no query'],
  [
    'an empty workbook part',
    'xl/workbook.xml',
    /[\s\S]*/,
    '',
    'REFUSED input-unreadable: The workbook could not be read.',
  ],
  [
    'an empty sheet',
    SHEET,
    /[\s\S]*/,
    '',
    'REFUSED input-unreadable: The workbook could not be read.',
  ],
  [
    'a sheet that is no XML',
    SHEET,
    /[\s\S]*/,
    'hello',
    'REFUSED input-unreadable: The workbook could not be read.',
  ],
  [
    'a sheet cut short',
    SHEET,
    /<c r="B2">[\s\S]*/,
    '<c r="B',
    'REFUSED input-unreadable: The workbook could not be read.',
  ],
  [
    'a workbook cut short',
    'xl/workbook.xml',
    /<sheets>[\s\S]*/,
    '<sheets>',
    'REFUSED input-unreadable: The workbook could not be read.',
  ],
  [
    'a workbook without sheets',
    'xl/workbook.xml',
    /<sheet .*\/>/,
    '',
    'REFUSED input-unreadable: No column for the cable reference was found. Seen: no sheets.',
  ],
  [
    'entities that multiply',
    SHEET,
    '<?xml version="1.0"?>',
    '<?xml version="1.0"?><!DOCTYPE x [<!ENTITY a "aaaaaaaaaa"><!ENTITY b "&a;&a;&a;&a;&a;&a;">]>',
    '1 cables (W-1 12.5); no query',
  ],
  [
    'an outside entity',
    SHEET,
    '<?xml version="1.0"?>',
    '<?xml version="1.0"?><!DOCTYPE x [<!ENTITY a SYSTEM "file:///etc/passwd">]>',
    '1 cables (W-1 12.5); no query',
  ],
  [
    'a number that is a word',
    SHEET,
    '<v>12.5</v>',
    '<v>twelve</v>',
    '1 cables (W-1 null); cable-diameter-unknown, schedule-row-unclear',
  ],
  [
    'a number beyond any',
    SHEET,
    '<v>12.5</v>',
    '<v>1E999</v>',
    '1 cables (W-1 null); cable-diameter-unknown, schedule-row-unclear',
  ],
  [
    'a number that is none',
    SHEET,
    '<v>12.5</v>',
    '<v>NaN</v>',
    '1 cables (W-1 null); cable-diameter-unknown, schedule-row-unclear',
  ],
  ['a number without digits', SHEET, '<v>12.5</v>', '<v/>', '0 cables (); schedule-row-unclear'],
  [
    'an error value',
    SHEET,
    '<c r="B2"><v>12.5</v>',
    '<c r="B2" t="e"><v>#REF!</v>',
    '1 cables (W-1 null); cable-diameter-unknown, schedule-row-unclear',
  ],
  [
    'a formula without a result',
    SHEET,
    '<v>12.5</v>',
    '<f>A1*2</f>',
    '1 cables (W-1 null); cable-diameter-unknown, schedule-row-unclear',
  ],
  [
    'a formula with a result',
    SHEET,
    '<v>12.5</v>',
    '<f>A1*2</f><v>12.5</v>',
    '1 cables (W-1 12.5); no query',
  ],
  [
    'a shared text that is not there',
    SHEET,
    '<c r="B2"><v>12.5</v>',
    '<c r="B2" t="s"><v>7</v>',
    'REFUSED input-unreadable: The workbook is damaged: a cell of xl/worksheets/sheet1.xml refers to no text.',
  ],
  [
    'a shared text of a negative number',
    SHEET,
    '<c r="B2"><v>12.5</v>',
    '<c r="B2" t="s"><v>-1</v>',
    '1 cables (W-1 null); cable-diameter-unknown, schedule-row-unclear',
  ],
  [
    'a style that is not there',
    SHEET,
    '<c r="B2">',
    '<c r="B2" s="99">',
    '1 cables (W-1 12.5); no query',
  ],
  ['a cell without an address', SHEET, '<c r="B2">', '<c>', '1 cables (W-1 12.5); no query'],
  [
    'a cell with an address of no sheet',
    SHEET,
    'r="B2"',
    'r="ZZZZ99999999"',
    'REFUSED input-unreadable: The workbook could not be read.',
  ],
  ['a cell at row nought', SHEET, 'r="B2"', 'r="B0"', '1 cables (W-1 12.5); no query'],
  [
    'a cell in the last column',
    SHEET,
    'r="B2"',
    'r="XFD2"',
    '1 cables (W-1 null); cable-diameter-unknown, schedule-column-unused',
  ],
  [
    'a cell beyond the last column',
    SHEET,
    'r="B2"',
    'r="XFE2"',
    'REFUSED input-unreadable: The workbook could not be read.',
  ],
  [
    'a cell with an address of marks',
    SHEET,
    'r="B2"',
    'r="*"',
    'REFUSED input-unreadable: The workbook could not be read.',
  ],
  [
    'a row far below',
    SHEET,
    /<row r="2"><c r="A2"(.*)<c r="B2">/,
    '<row r="1048576"><c r="A1048576" t="inlineStr"><is><t>W-1</t></is></c><c r="B1048576">',
    '1 cables (W-1 12.5); no query',
  ],
  [
    'a row beyond the last',
    SHEET,
    '<row r="2">',
    '<row r="99999999">',
    'REFUSED input-unreadable: The workbook is damaged: a row of xl/worksheets/sheet1.xml is numbered "99999999".',
  ],
  [
    'a row number that is a word',
    SHEET,
    '<row r="2">',
    '<row r="two">',
    'REFUSED input-unreadable: The workbook is damaged: a row of xl/worksheets/sheet1.xml is numbered "two".',
  ],
  [
    'a row of a negative number',
    SHEET,
    '<row r="2">',
    '<row r="-2">',
    'REFUSED input-unreadable: The workbook is damaged: a row of xl/worksheets/sheet1.xml is numbered "-2".',
  ],
  [
    'two cells at one address',
    SHEET,
    '<c r="B2">',
    '<c r="B2"><v>99</v></c><c r="B2">',
    '1 cables (W-1 12.5); no query',
  ],
  [
    'a hidden row',
    SHEET,
    '<row r="2">',
    '<row r="2" hidden="1">',
    '1 cables (W-1 12.5); schedule-row-unclear',
  ],
  [
    'a hidden sheet',
    'xl/workbook.xml',
    'sheetId="1"',
    'sheetId="1" state="hidden"',
    'REFUSED input-unreadable: No column for the cable reference was found. Seen: sheet Cables, row 1: Cable ref | OD mm.',
  ],
  [
    'a sheet with a name of a path',
    'xl/workbook.xml',
    'name="Cables"',
    'name="../x"',
    'REFUSED input-unreadable: The workbook could not be read.',
  ],
  [
    'a sheet that is a place on the net',
    'xl/_rels/workbook.xml.rels',
    'worksheets/sheet1.xml',
    'http://127.0.0.1/x',
    'REFUSED input-unreadable: No column for the cable reference was found. Seen: no sheets.',
  ],
  [
    'a sheet that is out of the archive',
    'xl/_rels/workbook.xml.rels',
    'worksheets/sheet1.xml',
    '../../../../etc/passwd',
    'REFUSED input-unreadable: No column for the cable reference was found. Seen: no sheets.',
  ],
  // Numbers that the library counts up to.
  [
    'columns without end',
    SHEET,
    '<sheetData>',
    '<cols><col min="1" max="2147483647" width="9"/></cols><sheetData>',
    '1 cables (W-1 12.5); no query',
  ],
  [
    'columns without end, twice',
    SHEET,
    '<sheetData>',
    '<cols/><cols ><col min="1" max="2147483647"/></cols><cols><col min="1" max="2147483647"/></cols><sheetData>',
    '1 cables (W-1 12.5); no query',
  ],
  [
    'columns that end behind the rows',
    SHEET,
    '<sheetData>',
    '<cols><sheetData>',
    'REFUSED input-unreadable: The workbook could not be read.',
  ],
  [
    'columns that swallow the rows',
    SHEET,
    /<sheetData>([\s\S]*)<\/sheetData>/,
    '<cols><sheetData><row r="1"></row></sheetData></cols>',
    'REFUSED input-unreadable: The workbook is damaged: its cols do not end.',
  ],
  [
    'a row beyond any sheet',
    SHEET,
    '<row r="2">',
    '<row r="2147483648">',
    'REFUSED input-unreadable: The workbook is damaged: a row of xl/worksheets/sheet1.xml is numbered "2147483648".',
  ],
  [
    'a row beyond any sheet in single quotes',
    SHEET,
    '<row r="2">',
    "<row r = '1048577'>",
    'REFUSED input-unreadable: The workbook is damaged: a row of xl/worksheets/sheet1.xml is numbered "1048577".',
  ],
  [
    'a sheet with a number beyond any book',
    'xl/workbook.xml',
    'sheetId="1"',
    'sheetId="2147483648"',
    'REFUSED input-unreadable: The workbook is damaged: a sheet has the number "2147483648".',
  ],
  [
    'a name for all cells of a sheet',
    'xl/workbook.xml',
    '</sheets>',
    '</sheets><definedNames><definedName name="x">Cables!$A$1:$XFD$1048576</definedName></definedNames>',
    '1 cables (W-1 12.5); no query',
  ],
  [
    'a name for more cells than there are',
    'xl/workbook.xml',
    '</sheets>',
    '</sheets><definedNames><definedName name="x">Cables!$A$1:$A$99999999999</definedName></definedNames>',
    '1 cables (W-1 12.5); no query',
  ],
  [
    'rules for all cells of a sheet',
    SHEET,
    '</sheetData>',
    '</sheetData><conditionalFormatting sqref="A1:XFD1048576"><cfRule type="expression" priority="1"><formula>1</formula></cfRule></conditionalFormatting><dataValidations count="1"><dataValidation type="list" sqref="A1:XFD1048576"><formula1>"a,b"</formula1></dataValidation></dataValidations>',
    '1 cables (W-1 12.5); no query',
  ],
  [
    'a merge over the whole sheet',
    SHEET,
    '</sheetData>',
    '</sheetData><mergeCells><mergeCell ref="A3:XFD1048576"/></mergeCells>',
    '1 cables (W-1 12.5); no query',
  ],
  [
    'a merge of rows beyond any sheet',
    SHEET,
    '</sheetData>',
    '</sheetData><mergeCells><mergeCell ref="G2147483648:H5"/></mergeCells>',
    'REFUSED input-unreadable: The workbook is damaged: a merge of xl/worksheets/sheet1.xml reads "G2147483648:H5".',
  ],
  [
    'a merge of columns beyond any sheet',
    SHEET,
    '</sheetData>',
    '</sheetData><mergeCells><mergeCell ref="A1:XFE2"/></mergeCells>',
    'REFUSED input-unreadable: The workbook is damaged: a merge of xl/worksheets/sheet1.xml reaches beyond the sheet, "A1',
  ],
  [
    'a merge to row 1,048,577',
    SHEET,
    '</sheetData>',
    '</sheetData><mergeCells><mergeCell ref="A1048577:A1048577"/></mergeCells>',
    'REFUSED input-unreadable: The workbook is damaged: a merge of xl/worksheets/sheet1.xml reaches beyond the sheet, "A1',
  ],
  [
    'a merge that is none',
    SHEET,
    '</sheetData>',
    '</sheetData><mergeCells><mergeCell ref="x"/></mergeCells>',
    'REFUSED input-unreadable: The workbook is damaged: a merge of xl/worksheets/sheet1.xml reads "x".',
  ],
  [
    'merges over each other',
    SHEET,
    '</sheetData>',
    '</sheetData><mergeCells><mergeCell ref="A1:B2"/><mergeCell ref="B2:C3"/></mergeCells>',
    'REFUSED input-unreadable: The workbook could not be read.',
  ],
];

/** The small workbook with one part changed or, for null, left out. */
export function bookWith([name, part, from, to]: BookEdit): Uint8Array {
  const parts = { ...PARTS };
  const sound = parts[part] ?? '';
  if (to === null) delete parts[part];
  else {
    const isThere = typeof from === 'string' ? sound.includes(from) : sound.search(from) >= 0;
    if (!isThere) throw new Error(`"${name}" changes nothing.`);
    parts[part] = sound.replace(from, () => to);
  }
  return zipSync(
    Object.fromEntries(Object.entries(parts).map(([key, text]) => [key, strToU8(text)])),
  );
}
