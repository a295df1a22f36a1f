import { readdirSync, readFileSync } from 'node:fs';
import path from 'node:path';
import { nodePlatform } from '../../../src/cli/node-platform.ts';
import { type DroppedFile, openPile } from '../../../src/pipeline/review/open-pile.ts';
import { openReview, type Review } from '../../../src/pipeline/review/open-review.ts';
import { repoRoot } from '../../set-up/outside.ts';

export const SAMPLE_FOLDER = path.join(repoRoot, 'samples/pumping-station');

/** The files of the pumping station as somebody would drop them. */
export function droppedSample(): DroppedFile[] {
  return readdirSync(SAMPLE_FOLDER)
    .filter((name) => /\.(ifc|dxf|xlsx)$|^(project|range)\.yaml$/.test(name))
    .sort()
    .map((name) => ({ name, bytes: new Uint8Array(readFileSync(path.join(SAMPLE_FOLDER, name))) }));
}

export interface SampleReview {
  readonly review: Review;
  /** The register as it was kept last. */
  readonly register: () => string;
}

/** The pumping station open for review; `refuse` makes the keeping of its register fail from then on. */
export async function openSample(refuse: { now: boolean } = { now: false }): Promise<SampleReview> {
  let kept = new Uint8Array();
  const pile = openPile(droppedSample());
  const settings = {
    ...pile.settings,
    design: { ...pile.settings.design, effort: 'quick' as const },
  };
  const review = await openReview({ ...pile, settings }, nodePlatform(null), async (bytes) => {
    if (refuse.now) throw new Error('the disk is full');
    kept = new Uint8Array(bytes);
  });
  return { review, register: () => new TextDecoder().decode(kept) };
}
