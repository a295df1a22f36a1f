import path from 'node:path';
import { Command } from 'commander';
import { readInput } from '../files/read-input.ts';
import type { LookReport, LookTable } from '../model/look.ts';
import type { RequirementsAnswer } from '../pipeline/check-requirements.ts';
import { answer, printable, strong } from './terminal.ts';

/** `sealbook look FILE…`: what is in a model, drawing or schedule. */
export function lookCommand(): Command {
  return new Command('look')
    .description(
      'says what is in a model, drawing or schedule, and what to put in the project file',
    )
    .argument('<files...>', '.ifc, .dxf, .xlsx or .csv files')
    .option(
      '--requirements <file>',
      'check models against an IDS file; "own" for the one that is shipped',
    )
    .option('--json', 'print the same facts as JSON')
    .action(look);
}

interface LookOptions {
  readonly json?: boolean;
  readonly requirements?: string;
}

/** A look at one file, and what its requirements say where some were named. */
interface Looked {
  readonly look: LookReport;
  readonly requirements: RequirementsAnswer | null;
}

async function look(files: readonly string[], options: LookOptions): Promise<void> {
  const reports: Looked[] = [];
  for (const file of files) reports.push(await lookAt(file, options));
  if (options.json) {
    const plain = reports.map(({ look: report, requirements }) =>
      requirements === null ? report : { ...report, requirements: requirements.report },
    );
    answer(JSON.stringify(plain, null, 2));
  } else {
    answer(
      reports
        .flatMap(({ look: report, requirements }) => [
          reportText(report),
          ...(requirements === null ? [] : [requirementsText(requirements)]),
        ])
        .join('\n\n'),
    );
  }
}

async function lookAt(file: string, { requirements }: LookOptions): Promise<Looked> {
  const { lookFile } = await import('../pipeline/look-file.ts');
  const { openProject } = await import('../pipeline/open-project.ts');
  const { settings } = openProject([file]);
  const bytes = await readInput(file, settings.limits.fileMb);
  const input = { key: 'file', name: path.basename(file), bytes };
  const report = await lookFile(input, settings);
  if (requirements === undefined || report.kind !== 'ifc')
    return { look: report, requirements: null };
  const { checkRequirements, OWN_REQUIREMENTS } = await import('../pipeline/check-requirements.ts');
  const ids =
    requirements === OWN_REQUIREMENTS
      ? null
      : {
          key: 'requirements',
          name: path.basename(requirements),
          bytes: await readInput(requirements, settings.limits.fileMb),
        };
  return { look: report, requirements: checkRequirements(input, ids) };
}

function requirementsText({ report, tables, queries }: RequirementsAnswer): string {
  return [
    strong(printable(`Requirements "${report.title}": ${report.verdict}`)),
    ...tables.flatMap((table) => ['', ...tableLines(table)]),
    ...queries.map((query) => `  ${printable(query.text)}`),
  ].join('\n');
}

function reportText(report: LookReport): string {
  const facts = report.facts.map(({ name, value }) => `  ${printable(name)}: ${printable(value)}`);
  const tables = report.tables
    .filter((table) => table.rows.length > 0)
    .flatMap((table) => ['', ...tableLines(table)]);
  const advice =
    report.advice.length === 0
      ? []
      : ['', strong('To do'), ...report.advice.map((each) => `  - ${printable(each)}`)];
  return [
    strong(`${printable(report.file)} (${report.schema})`),
    ...facts,
    ...tables,
    ...advice,
  ].join('\n');
}

function tableLines(table: LookTable): string[] {
  const rows = [table.columns, ...table.rows].map((row) =>
    row.map((cell) => printable(String(cell))),
  );
  const widths = table.columns.map((_, column) =>
    Math.max(...rows.map((row) => (row[column] ?? '').length)),
  );
  const line = (row: readonly string[]) =>
    `  ${row.map((cell, column) => cell.padEnd(widths[column] ?? 0)).join('  ')}`.trimEnd();
  return [strong(printable(table.title)), ...rows.map(line)];
}
