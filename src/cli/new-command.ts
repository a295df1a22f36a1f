import path from 'node:path';
import { Command } from 'commander';
import { SealbookError } from '../basics/errors.ts';
import { readInput } from '../files/read-input.ts';
import { writeOutputs } from '../files/write-outputs.ts';
import type { InputFile } from '../model/input.ts';
import { answer } from './terminal.ts';

const FILE_LIMIT_MB = 1024;

/** `sealbook new DIR FILES…`: a first project file from a pile of files. */
export function newCommand(): Command {
  return new Command('new')
    .description('looks into the files and writes a commented project file')
    .argument('<dir>', 'folder of the new project')
    .argument('<files...>', '.ifc, .dxf, .xlsx or .csv files')
    .action(create);
}

async function create(folder: string, targets: readonly string[]): Promise<void> {
  const { draftProject } = await import('../pipeline/draft-project.ts');
  const { PROJECT_NAME } = await import('./load-project.ts');
  const project = path.join(folder, PROJECT_NAME);
  if (await readInput(project, FILE_LIMIT_MB).then(() => true, isMissing)) {
    throw new SealbookError('usage', `${project} is already there.`, {
      where: { file: project },
      todo: 'Name another folder, or take the old project file away first.',
    });
  }
  const files: InputFile[] = [];
  for (const target of targets) {
    const name = path.relative(folder, target).split(path.sep).join('/');
    files.push({ key: name, name, bytes: await readInput(target, FILE_LIMIT_MB) });
  }
  const text = await draftProject(path.basename(path.resolve(folder)), files);
  const output = { name: PROJECT_NAME, bytes: new TextEncoder().encode(text) };
  const [written] = await writeOutputs(folder, [output], targets);
  answer(`Written: ${written}\nRead it through, then: sealbook run ${written}`);
}

function isMissing(error: unknown): false {
  if (error instanceof SealbookError && error.code === 'input-missing') return false;
  throw error;
}
