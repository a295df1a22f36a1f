import path from 'node:path';
import { loadProject } from '../../src/cli/load-project.ts';
import { nodePlatform } from '../../src/cli/node-platform.ts';
import type { SealbookResult } from '../../src/model/result.ts';
import type { ProjectFile } from '../../src/model/settings.ts';
import { openRange } from '../../src/pipeline/open-project.ts';
import { runProject } from '../../src/pipeline/run-project.ts';
import { repoRoot } from '../set-up/outside.ts';

/**
 * The result of a run on a sample's project, from the same functions as the command line uses.
 * Nothing is written; workbook and pages, whose pictures take most of the time, are not made.
 */
export async function runSample(
  projectFile: string,
  takes: (kind: ProjectFile['kind']) => boolean = () => true,
): Promise<SealbookResult> {
  const project = await loadProject([path.join(repoRoot, 'samples', projectFile)], null, false);
  const files = Object.fromEntries(
    Object.entries(project.settings.files).filter(([, file]) => takes(file.kind)),
  );
  const settings = {
    ...project.settings,
    files,
    outputs: { ...project.settings.outputs, workbook: false, sealPages: false },
  };
  const { result } = await runProject(
    {
      settings,
      assumptions: project.assumptions,
      range: openRange(project.rangeFile).range,
      files: project.files.filter(({ key }) => key in files),
    },
    nodePlatform(null),
  );
  return result;
}
