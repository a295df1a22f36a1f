import path from 'node:path';
import { Command } from 'commander';
import { readInput } from '../files/read-input.ts';
import type { LookReport, LookTable } from '../model/look.ts';
import { answer, printable, strong } from './terminal.ts';

/** `sealbook look FILE…`: what is in a model, drawing or schedule. */
export function lookCommand(): Command {
  return new Command('look')
    .description(
      'says what is in a model, drawing or schedule, and what to put in the project file',
    )
    .argument('<files...>', '.ifc, .dxf, .xlsx or .csv files')
    .option('--json', 'print the same facts as JSON')
    .action(look);
}

async function look(files: readonly string[], options: { readonly json?: boolean }): Promise<void> {
  const { lookFile } = await import('../pipeline/look-file.ts');
  const { openProject } = await import('../pipeline/open-project.ts');
  const reports: LookReport[] = [];
  for (const file of files) {
    const { settings } = openProject([file]);
    const bytes = await readInput(file, settings.limits.fileMb);
    reports.push(await lookFile({ key: 'file', name: path.basename(file), bytes }, settings));
  }
  answer(options.json ? JSON.stringify(reports, null, 2) : reports.map(reportText).join('\n\n'));
}

function reportText(report: LookReport): string {
  const facts = report.facts.map(({ name, value }) => `  ${printable(name)}: ${printable(value)}`);
  const tables = report.tables.flatMap((table) => ['', ...tableLines(table)]);
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
