/** Rounded to one decimal. */
export function tenth(value: number): number {
  // Adding 0 turns −0 into 0, which would print differently.
  return Math.round(value * 10) / 10 + 0;
}
