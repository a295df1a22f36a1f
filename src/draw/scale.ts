/** How many millimetres of the real thing are one on paper: 2 is "1:2", 0.5 is "2:1". */
const DENOMINATORS = [0.2, 0.5, 1, 1.5, 2, 2.5, 3, 4, 5, 7.5, 10, 15, 20, 25, 30, 40, 50, 75, 100];

/** The largest usual scale at which a size fits a field; both in mm. */
export function chooseScale(
  widthMm: number,
  heightMm: number,
  fieldWidthMm: number,
  fieldHeightMm: number,
): number {
  const needed = Math.max(widthMm / fieldWidthMm, heightMm / fieldHeightMm);
  const usual = DENOMINATORS.find((denominator) => denominator >= needed);
  // Past the usual ones, hundreds.
  return usual ?? Math.ceil(needed / 100) * 100;
}

/** "1:2.5", "2:1". */
export function scaleText(denominator: number): string {
  return denominator >= 1 ? `1:${denominator}` : `${1 / denominator}:1`;
}

/** Length of a scale bar in real millimetres: 1, 2 or 5 with zeros, between 16 and 40 mm on paper. */
export function scaleBarMm(denominator: number): number {
  const longest = 40 * denominator;
  const power = 10 ** Math.floor(Math.log10(longest));
  const factor = [5, 2, 1].find((each) => each * power <= longest) ?? 1;
  return factor * power;
}
