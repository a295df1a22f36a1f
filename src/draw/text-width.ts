/**
 * Advance widths of DejaVu Sans from space to tilde, in thousandths of the size.
 * @source hmtx table of DejaVuSans.ttf 2.37.
 */
const ADVANCES = [
  318, 401, 460, 838, 636, 950, 780, 275, 390, 390, 500, 838, 318, 361, 318, 337, 636, 636, 636,
  636, 636, 636, 636, 636, 636, 636, 337, 337, 838, 838, 838, 531, 1000, 684, 686, 698, 770, 632,
  575, 775, 752, 295, 295, 656, 557, 863, 748, 787, 603, 787, 695, 635, 611, 732, 684, 989, 685,
  611, 685, 390, 337, 390, 838, 500, 500, 613, 635, 550, 635, 615, 352, 635, 634, 278, 278, 579,
  278, 974, 634, 612, 635, 635, 411, 521, 392, 634, 592, 818, 592, 592, 525, 636, 337, 636, 838,
];
/** Other scripts are taken as wide as a full square. */
const OTHER_ADVANCE = 1000;
/** Bold runs about this much wider. */
const BOLD_FACTOR = 1.11;

/** Width of a text set in DejaVu Sans, in the unit of `size`. */
export function textWidth(content: string, size: number, bold = false): number {
  let thousandths = 0;
  for (const character of content) {
    const code = character.codePointAt(0) ?? 0;
    const isLatin = code >= 0xa0 && code < 0x250;
    thousandths += ADVANCES[code - 32] ?? (isLatin ? 780 : OTHER_ADVANCE);
  }
  return (thousandths / 1000) * size * (bold ? BOLD_FACTOR : 1);
}

/** The text, or as much of its beginning as fits with an ellipsis. */
export function fitText(content: string, size: number, width: number, bold = false): string {
  if (textWidth(content, size, bold) <= width) return content;
  const characters = [...content].slice(0, 400);
  while (characters.length > 0) {
    const shorter = `${characters.join('').trimEnd()}…`;
    if (textWidth(shorter, size, bold) <= width) return shorter;
    characters.pop();
  }
  return '';
}

/** Words in lines no wider than `width`, at most `most` lines, the last one cut with an ellipsis. */
export function wrapText(
  content: string,
  size: number,
  width: number,
  most: number,
  bold = false,
): readonly string[] {
  const lines: string[] = [];
  let rest = content.slice(0, 2000).split(/\s+/);
  while (rest.length > 0 && lines.length < most) {
    if (lines.length === most - 1) {
      lines.push(fitText(rest.join(' '), size, width, bold));
      break;
    }
    let count = 1;
    while (
      count < rest.length &&
      textWidth(rest.slice(0, count + 1).join(' '), size, bold) <= width
    ) {
      count += 1;
    }
    lines.push(fitText(rest.slice(0, count).join(' '), size, width, bold));
    rest = rest.slice(count);
  }
  return lines;
}

/** Lines that a text takes when wrapped at words, longer words broken. Line feeds begin a line. */
export function lineCount(content: string, size: number, width: number, bold = false): number {
  let lines = 0;
  const space = textWidth(' ', size, bold);
  for (const paragraph of content.split('\n')) {
    let used = 0;
    lines += 1;
    for (const word of paragraph.split(' ')) {
      const wordWidth = textWidth(word, size, bold);
      if (used > 0 && used + space + wordWidth <= width) used += space + wordWidth;
      else {
        if (used > 0) lines += 1;
        const broken = Math.max(0, Math.ceil(wordWidth / width) - 1);
        lines += broken;
        used = wordWidth - broken * width;
      }
    }
  }
  return lines;
}

/** As many whole items as fit, joined by commas, and how many more there are. */
export function fitList(items: readonly string[], size: number, width: number): string {
  for (let shown = items.length; shown > 0; shown -= 1) {
    const left = items.length - shown;
    const list = items.slice(0, shown).join(', ');
    const whole = left === 0 ? list : `${list} and ${left} more`;
    if (textWidth(whole, size) <= width) return whole;
  }
  return fitText(`${items.length} more`, size, width);
}
