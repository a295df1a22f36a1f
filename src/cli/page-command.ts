import path from 'node:path';
import { Command } from 'commander';
import { SealbookError } from '../basics/errors.ts';
import { keepRegister, readRegisterFile } from '../files/keep-register.ts';
import { REGISTER_NAME } from './run-command.ts';
import { answer, progressLine, say } from './terminal.ts';

interface PageOptions {
  readonly port?: string;
  readonly range?: string;
}

/** `sealbook page [PROJECT | FILES…]`: look, decide and answer in a browser on this machine. */
export function pageCommand(): Command {
  return new Command('page')
    .description('opens the review page of a project on this machine; decisions go to its register')
    .argument('[targets...]', 'a project file or its folder, or the files themselves')
    .option('--range <file>', 'range of fillers and sealants')
    .option('--port <number>', 'port on this machine; a free one unless given')
    .action(page);
}

async function page(targets: readonly string[], options: PageOptions): Promise<void> {
  const { loadProject } = await import('./load-project.ts');
  const { nodePlatform } = await import('./node-platform.ts');
  const { openRange } = await import('../pipeline/open-project.ts');
  const { openReview } = await import('../pipeline/review/open-review.ts');
  const { readPageFiles } = await import('../web/server/page-files.ts');
  const { startPage } = await import('../web/server/start-page.ts');
  const port = portOf(options.port);
  const files = await readPageFiles();
  const project = await loadProject(targets, options.range ?? null, true);
  const opened = openRange(project.rangeFile);
  const registerPath = path.join(project.folder ?? project.defaultOut, REGISTER_NAME);
  let kept = await readRegisterFile(registerPath);
  const progress = progressLine();
  const review = await openReview(
    {
      settings: project.settings,
      assumptions: [...project.assumptions, ...opened.assumptions],
      range: opened.range,
      files: project.files,
      missing: project.missing,
      register: kept && { key: 'register', name: registerPath, bytes: kept },
      keepGoing: true,
      registerName: REGISTER_NAME,
    },
    nodePlatform(progress.onProgress),
    async (register) => {
      await keepRegister(registerPath, kept, register);
      kept = register;
    },
  ).finally(progress.stop);
  const opening = await startPage(review, files, port);
  answer(opening.url);
  say('Open this address in a browser on this machine. Ctrl-C ends it.');
  for (const signal of ['SIGINT', 'SIGTERM'] as const) {
    process.once(signal, () => void opening.close().then(() => process.exit(0)));
  }
}

/** 0 lets the system choose. Throws `usage` for what is no port. */
function portOf(text: string | undefined): number {
  const port = Number(text ?? 0);
  if (Number.isInteger(port) && port >= 0 && port < 65_536) return port;
  throw new SealbookError('usage', `"${text}" is not a port.`, {
    todo: 'Give a number between 1 and 65535, or leave --port out.',
  });
}
