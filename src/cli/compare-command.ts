import { stat } from 'node:fs/promises';
import path from 'node:path';
import { Command } from 'commander';
import { readInput } from '../files/read-input.ts';
import type { InputFile } from '../model/input.ts';
import type { Change } from '../model/register.ts';
import type { Comparison } from '../pipeline/compare-issues.ts';
import { answer, printable, strong } from './terminal.ts';

const RESULT_NAME = 'result.json';
const RESULT_LIMIT_MB = 1024;

/** `sealbook compare OLD NEW`: what changed between two issues. */
export function compareCommand(): Command {
  return new Command('compare')
    .description('says what changed between two issues, and what it costs in materials')
    .argument('<old>', 'result.json of the older issue, or its folder')
    .argument('<new>', 'result.json of the newer issue, or its folder')
    .option('--json', 'print the same facts as JSON')
    .action(compare);
}

async function compare(
  older: string,
  newer: string,
  options: { readonly json?: boolean },
): Promise<void> {
  const { compareIssues } = await import('../pipeline/compare-issues.ts');
  const comparison = compareIssues(await resultFile('old', older), await resultFile('new', newer));
  answer(options.json ? JSON.stringify(comparison, null, 2) : comparisonText(comparison));
}

async function resultFile(key: string, target: string): Promise<InputFile> {
  const isFolder = (await stat(target).catch(() => null))?.isDirectory() ?? false;
  const file = isFolder ? path.join(target, RESULT_NAME) : target;
  return { key, name: file, bytes: await readInput(file, RESULT_LIMIT_MB) };
}

function comparisonText(comparison: Comparison): string {
  const { changes, counts, sealantDifferenceMl, fillerDifference } = comparison;
  if (changes.length === 0) return 'No changes.';
  const counted = Object.entries(counts).map(([kind, count]) => `${count} ${kind}`);
  const fillers = Object.entries(fillerDifference).map(
    ([name, count]) => `${signed(count)} ${name}`,
  );
  return [
    strong(counted.join(', ')),
    `  sealant ${signed(sealantDifferenceMl)} ml with allowances`,
    ...fillers.map((line) => `  ${line}`),
    '',
    ...changes.map(changeLine),
  ]
    .map(printable)
    .join('\n');
}

function changeLine({ tag, kind, before, after }: Change): string {
  const both = before !== '' && after !== '';
  return `  ${tag}  ${kind}: ${both ? `${before} → ${after}` : before + after}`;
}

function signed(value: number): string {
  return value > 0 ? `+${value}` : String(value);
}
