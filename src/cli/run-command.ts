import path from 'node:path';
import { Command, Option } from 'commander';
import { EXIT_QUERIES } from '../basics/exit-codes.ts';
import type { QuerySeverity } from '../basics/query-codes.ts';
import { keepRegister, readRegisterFile } from '../files/keep-register.ts';
import { writeOutputs } from '../files/write-outputs.ts';
import type { Settings } from '../model/settings.ts';
import { runSummary, summaryText } from './run-summary.ts';
import { answer, printable, progressLine, say } from './terminal.ts';

/** Beside the project, since it outlives every issue. */
export const REGISTER_NAME = 'register.jsonl';

interface RunOptions {
  readonly out?: string;
  readonly range?: string;
  readonly effort?: 'quick' | 'normal';
  readonly dryRun?: boolean;
  readonly answers?: readonly string[];
  readonly perLevel?: boolean;
  readonly keepGoing?: boolean;
  readonly failOn?: QuerySeverity;
  readonly json?: boolean;
}

/** `sealbook run [PROJECT | FILES…]`: the whole job. */
export function runCommand(): Command {
  return new Command('run')
    .description('does the whole job: reads, finds, matches, designs, and writes all outputs')
    .argument('[targets...]', 'a project file or its folder, or the files themselves')
    .option('--out <dir>', 'folder for all outputs (default: out/ beside the project)')
    .option('--range <file>', 'range of fillers and sealants')
    .addOption(new Option('--effort <tier>', 'how long to search').choices(['quick', 'normal']))
    .option(
      '--answers <file>',
      'a workbook that came back filled in; may be given several times',
      (file: string, before: readonly string[] = []) => [...before, file],
    )
    .option('--per-level', 'write a workbook of its own for each level beside the whole one')
    .option('--dry-run', 'say what would be written, write nothing')
    .option('--keep-going', 'use the files that can be read when one cannot')
    .addOption(
      new Option(
        '--fail-on <level>',
        'exit with 1 when a query of this level or above is open',
      ).choices(['note', 'ask', 'stop']),
    )
    .option('--json', 'print the path and summary as JSON')
    .action(run);
}

async function run(targets: readonly string[], options: RunOptions): Promise<void> {
  // Loaded here and not above: other commands start at once without the readers and writers.
  const { loadProject } = await import('./load-project.ts');
  const { nodePlatform } = await import('./node-platform.ts');
  const { openRange } = await import('../pipeline/open-project.ts');
  const { runProject } = await import('../pipeline/run-project.ts');
  const { withReturned } = await import('./returned-workbooks.ts');
  const project = await withReturned(
    await loadProject(targets, options.range ?? null, options.keepGoing ?? false),
    options.answers ?? [],
  );
  const settings = withOptions(project.settings, options);
  const opened = openRange(project.rangeFile);
  const folder = options.out ?? project.defaultOut;
  const registerPath = path.join(project.folder ?? folder, REGISTER_NAME);
  const registerAsRead = await readRegisterFile(registerPath);
  const progress = progressLine();
  const output = await runProject(
    {
      settings,
      assumptions: [...project.assumptions, ...opened.assumptions],
      range: opened.range,
      files: project.files,
      missing: project.missing,
      register: registerAsRead && { key: 'register', name: registerPath, bytes: registerAsRead },
      keepGoing: options.keepGoing ?? false,
    },
    nodePlatform(progress.onProgress),
  ).finally(progress.stop);
  // First the register: were the outputs to fail, the tags they were to carry would still be kept.
  if (!options.dryRun) await keepRegister(registerPath, registerAsRead, output.register);
  const outputs = options.dryRun
    ? output.files.map((file) => path.join(folder, file.name))
    : await writeOutputs(folder, output.files, project.inputPaths);
  const written = [...outputs, registerPath];
  for (const query of output.issue.queries.filter(({ code }) => code === 'file-not-read')) {
    say(printable(query.text));
  }
  const summary = runSummary(output.issue, output.result);
  if (options.json) {
    answer(JSON.stringify({ written: !options.dryRun, files: written, summary }, null, 2));
  } else {
    answer(summaryText(summary, written, options.dryRun ?? false));
  }
  if (options.failOn && reaches(summary.queries, options.failOn)) {
    process.exitCode = EXIT_QUERIES;
    if (!options.json) say(`Queries at or above "${options.failOn}" are open.`);
  }
}

function withOptions(settings: Settings, { effort, perLevel }: RunOptions): Settings {
  const { design, outputs } = settings;
  return {
    ...settings,
    design: effort === undefined ? design : { ...design, effort },
    outputs: perLevel ? { ...outputs, workbookPerLevel: true } : outputs,
  };
}

const SEVERITIES = ['note', 'ask', 'stop'] as const;

function reaches(counts: Readonly<Record<QuerySeverity, number>>, level: QuerySeverity): boolean {
  return SEVERITIES.slice(SEVERITIES.indexOf(level)).some((severity) => counts[severity] > 0);
}
