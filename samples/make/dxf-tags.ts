/** A group code and its value, as the file writes them. */
export interface Tag {
  readonly code: number;
  readonly value: string;
}

export const tag = (code: number, value: string | number): Tag => ({
  code,
  value: typeof value === 'number' ? numberText(code, value) : value,
});

/** Codes of 10–59, 140–149 and 210–239 hold reals, written with a point. */
function numberText(code: number, value: number): string {
  const isReal =
    (code >= 10 && code <= 59) || (code >= 140 && code <= 149) || (code >= 210 && code <= 239);
  if (!isReal) return String(value);
  const rounded = Math.round(value * 1e6) / 1e6;
  const digits = Object.is(rounded, -0) ? '0' : String(rounded);
  return digits.includes('.') ? digits : `${digits}.0`;
}

/** Handles of the block records of the two spaces. */
export const MODEL_RECORD = '1F';
export const PAPER_RECORD = '1E';

export function section(name: string, tags: readonly Tag[]): readonly Tag[] {
  return [tag(0, 'SECTION'), tag(2, name), ...tags, tag(0, 'ENDSEC')];
}
