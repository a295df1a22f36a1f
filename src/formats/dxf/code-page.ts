/**
 * Labels that TextDecoder knows for the code pages of `$DWGCODEPAGE`.
 * @source WHATWG Encoding Standard, names and labels; code page names from the DXF reference (from memory).
 */
const LABELS: Readonly<Record<string, string>> = {
  ansi_874: 'windows-874',
  ansi_932: 'shift_jis',
  ansi_936: 'gbk',
  ansi_949: 'euc-kr',
  ansi_950: 'big5',
  ansi_1250: 'windows-1250',
  ansi_1251: 'windows-1251',
  ansi_1252: 'windows-1252',
  ansi_1253: 'windows-1253',
  ansi_1254: 'windows-1254',
  ansi_1255: 'windows-1255',
  ansi_1256: 'windows-1256',
  ansi_1257: 'windows-1257',
  ansi_1258: 'windows-1258',
  gb2312: 'gbk',
  johab: 'euc-kr',
  ksc5601: 'euc-kr',
  big5: 'big5',
  mac: 'macintosh',
  macroman: 'macintosh',
  'mac-roman': 'macintosh',
  dos866: 'ibm866',
  dos932: 'shift_jis',
  'utf-8': 'utf-8',
  utf8: 'utf-8',
};

const FIRST_UTF8_VERSION = 'AC1021';

/**
 * The decoder's label for a file's text. From AC1021 on files are UTF-8 whatever the code page
 * says; before that the code page counts. Where none is given, the bytes decide: UTF-8 if they
 * are valid UTF-8 (`isUtf8`), else Windows-1252. A code page that says something is not second
 * guessed, because short texts of double-byte code pages can pass for UTF-8.
 */
export function textLabel(
  version: string | null,
  codePage: string | null,
  isUtf8: () => boolean,
): { readonly label: string; readonly isKnown: boolean } {
  if (version !== null && version >= FIRST_UTF8_VERSION) return { label: 'utf-8', isKnown: true };
  const name = codePage?.trim().toLowerCase() ?? '';
  const label = Object.hasOwn(LABELS, name) ? LABELS[name] : undefined;
  if (label !== undefined) return { label, isKnown: true };
  return { label: isUtf8() ? 'utf-8' : 'windows-1252', isKnown: name === '' };
}
