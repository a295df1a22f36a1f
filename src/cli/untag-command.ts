import path from 'node:path';
import { Command } from 'commander';
import { readInput } from '../files/read-input.ts';
import { writeOutputs } from '../files/write-outputs.ts';
import { say } from './terminal.ts';

const FILE_LIMIT_MB = 1024;

/** `sealbook untag FILE --out FILE`: takes our tags out of a model or drawing. */
export function untagCommand(): Command {
  return new Command('untag')
    .description('takes our tags out of a model or drawing; the rest keeps its bytes')
    .argument('<file>', '.ifc or .dxf file')
    .requiredOption('--out <file>', 'where the file without tags goes')
    .action(untag);
}

async function untag(target: string, options: { readonly out: string }): Promise<void> {
  const { untagFile } = await import('../pipeline/untag-file.ts');
  const bytes = await readInput(target, FILE_LIMIT_MB);
  const output = {
    name: path.basename(options.out),
    bytes: untagFile({ key: 'file', name: path.basename(target), bytes }),
  };
  const [written] = await writeOutputs(path.dirname(options.out), [output], [target]);
  say(`Written: ${written}`);
}
