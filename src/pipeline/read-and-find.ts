import type { WithQueries } from '../basics/query.ts';
import { findInDrawings } from '../find/drawings/find-in-drawings.ts';
import { withGround } from '../find/ground.ts';
import { mergeFindings } from '../find/merge-findings.ts';
import { queriesOfMerged } from '../find/merged-queries.ts';
import { findInModels } from '../find/models/find-in-models.ts';
import type { Findings } from '../model/penetration.ts';
import type { Settings } from '../model/settings.ts';
import type { Platform } from './platform.ts';
import { type FilesToRead, type Inputs, readInputs } from './read-inputs.ts';

/** All that depends on the files alone, before anything is decided. */
export interface ProjectFinds {
  readonly read: WithQueries<Inputs>;
  readonly found: WithQueries<Findings>;
}

/** Reads every file and finds the penetrations of models and drawings, each once. */
export async function readAndFind(input: FilesToRead, platform: Platform): Promise<ProjectFinds> {
  const read = await readInputs(input, platform);
  platform.onProgress?.({ step: 'finding penetrations', done: 0, total: 0 });
  const found = find(read.result, input.settings);
  return { read, found: { ...found, result: withGround(found.result, input.settings) } };
}

function find(inputs: Inputs, settings: Settings): WithQueries<Findings> {
  const inModels = inputs.building === null ? null : findInModels(inputs.building, settings);
  const inDrawings =
    inputs.drawings.length === 0 ? null : findInDrawings(inputs.drawings, settings);
  if (inModels === null) return inDrawings ?? NOTHING_FOUND;
  if (inDrawings === null) return inModels;
  const merged = mergeFindings(inModels.result, inDrawings.result, settings);
  return {
    result: merged.result,
    queries: [
      ...queriesOfMerged([...inModels.queries, ...inDrawings.queries], merged),
      ...merged.queries,
    ],
  };
}

const NOTHING_FOUND: WithQueries<Findings> = {
  result: { penetrations: [], ledger: { services: [], openings: [] } },
  queries: [],
};
