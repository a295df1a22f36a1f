import { stringify } from 'yaml';
import type { InputFile } from '../model/input.ts';
import type { LookReport } from '../model/look.ts';
import type { Settings } from '../model/settings.ts';
import { lookFile } from './look-file.ts';
import { openProject } from './open-project.ts';

const LINE_WIDTH = 96;

/**
 * A first project file for a pile of files: what was seen in each stands beside it as comments, so
 * that every guess can be checked. `names` of the files are paths as the project file should give them.
 */
export async function draftProject(title: string, files: readonly InputFile[]): Promise<string> {
  const { settings } = openProject(files.map((file) => file.name));
  const blocks: string[] = [];
  for (const [index, [key, entry]] of Object.entries(settings.files).entries()) {
    const file = files[index];
    if (file === undefined) continue;
    const report = await lookFile(file, settings);
    blocks.push(
      [
        `  ${key}:`,
        `    path: ${scalar(entry.path)}`,
        `    kind: ${entry.kind}`,
        ...comments(report),
      ].join('\n'),
    );
  }
  return [
    '# First draft, made by looking into the files. Lines with # say what was seen: check each.',
    '# Run it with:  sealbook run project.yaml',
    'project:',
    `  name: ${scalar(title)}`,
    '',
    '# Keys outlive file names and revisions: keep them when a file is replaced by a newer one.',
    'files:',
    ...blocks,
    '',
    ...defaultsText(settings),
  ].join('\n');
}

function comments(report: LookReport): string[] {
  const facts = report.facts.map(({ name, value }) => `${name}: ${value}`);
  return [`${report.schema}`, ...facts, ...report.advice.map((each) => `TO DO: ${each}`)].flatMap(
    wrapped,
  );
}

/** One comment, over as many lines as it takes; text from files can't leave the comment. */
function wrapped(text: string): string[] {
  const words = text.replace(/\s+/g, ' ').trim().split(' ');
  const lines: string[] = [];
  let line = '';
  for (const word of words) {
    if (line !== '' && line.length + word.length + 1 > LINE_WIDTH) {
      lines.push(line);
      line = '';
    }
    line = line === '' ? word : `${line} ${word}`;
  }
  return [...lines, line].map((each, index) => `    #${index === 0 ? ' ' : '   '}${each}`);
}

function defaultsText({ design, tags }: Settings): string[] {
  return [
    '# Defaults, to be changed where the job asks; the workbook lists each that stays as assumed.',
    'design:',
    `  setBackMm: ${design.setBackMm}`,
    `  separationMm: ${design.separationMm}`,
    `  edgeMm: ${design.edgeMm}`,
    `  wasteRatio: ${design.wasteRatio}`,
    `  overfillMm: ${design.overfillMm}`,
    'tags:',
    `  pattern: ${scalar(tags.pattern)}`,
    'issue:',
    '  revision: A',
    '',
    '# range: range.yaml   (without one a SAMPLE range with invented figures stands in)',
    '# ground: { levelMm: 0, waterLevelMm: -1000 }',
    '# duties:',
    '#   - { when: { belowGround: true, external: true }, duty: water, side: outside }',
    '#   - { when: { rated: true }, duty: fire }',
    '',
  ];
}

function scalar(text: string): string {
  return stringify(text, { lineWidth: 0, defaultStringType: 'QUOTE_DOUBLE' }).trimEnd();
}
