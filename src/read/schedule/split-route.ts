const MOST_ENTRIES = 200;

/**
 * The carriers of a route in order, as written. Entries are parted by commas, semicolons, arrows,
 * line ends, `>` and `→`, by a stroke or a hyphen with room on both sides, and by words for "then".
 * Strokes and hyphens without room belong to the reference.
 */
export function splitRoute(text: string): string[] {
  return text
    .slice(0, 5_000)
    .split(
      /[,;\n\r→|⇒»]|->|=>|>|\s[-–—/+&]\s|\s(?:then|via|und|dann|puis|et|luego|sedan|dan|poi|and)\s/iu,
    )
    .map((entry) => entry.trim())
    .filter((entry) => entry !== '')
    .slice(0, MOST_ENTRIES);
}
