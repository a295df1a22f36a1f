#!/usr/bin/env node
import { Command, CommanderError } from 'commander';
import { SealbookError } from '../basics/errors.ts';
import { EXIT_CODES } from '../basics/exit-codes.ts';
import { compareCommand } from './compare-command.ts';
import { extraCommand } from './extra-command.ts';
import { lookCommand } from './look-command.ts';
import { manyCommand } from './many-command.ts';
import { newCommand } from './new-command.ts';
import { pageCommand } from './page-command.ts';
import { runCommand } from './run-command.ts';
import { sizeCommand } from './size-command.ts';
import { errorText, say } from './terminal.ts';
import { untagCommand } from './untag-command.ts';

const program = new Command('sealbook')
  .description('Finds, designs, draws and counts the seals of cable, duct and pipe penetrations.')
  .addHelpText(
    'after',
    '\nA design aid, not a certificate: local code, tested evidence and licensed people decide.',
  )
  .exitOverride()
  .configureOutput({ writeErr: (text) => process.stderr.write(text) });

for (const command of [
  newCommand(),
  lookCommand(),
  runCommand(),
  sizeCommand(),
  compareCommand(),
  extraCommand(),
  untagCommand(),
  pageCommand(),
  manyCommand(),
]) {
  program.addCommand(command.exitOverride());
}

try {
  await program.parseAsync();
} catch (error) {
  process.exitCode = exitCodeOf(error);
  // Commander has already said what is wrong with the words of the command.
  if (!(error instanceof CommanderError)) say(errorText(error));
}

function exitCodeOf(error: unknown): number {
  if (error instanceof CommanderError) return error.exitCode === 0 ? 0 : EXIT_CODES.usage;
  return error instanceof SealbookError ? EXIT_CODES[error.code] : EXIT_CODES.internal;
}
