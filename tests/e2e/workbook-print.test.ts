import { execFileSync } from 'node:child_process';
import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import os from 'node:os';
import path from 'node:path';
import { expect } from 'vitest';
import { writeWorkbook } from '../../src/write/workbook/write-workbook.ts';
import { makeIssue } from '../makers/issue/make-issue.ts';
import { convertWorkbook } from '../set-up/libreoffice.ts';
import { testWith } from '../set-up/outside.ts';
import { svgToPng } from '../set-up/svg-to-png.ts';

/** Text of each printed page, as poppler reads it. */
function pageTexts(pdf: Uint8Array): string[] {
  const folder = mkdtempSync(path.join(os.tmpdir(), 'sealbook-print-'));
  try {
    const file = path.join(folder, 'book.pdf');
    writeFileSync(file, pdf);
    const text = execFileSync('pdftotext', ['-layout', file, '-'], { encoding: 'utf8' });
    return text.split('\f').slice(0, -1);
  } finally {
    rmSync(folder, { recursive: true, force: true });
  }
}

testWith(
  ['libreoffice', 'xmllint'],
  'the book prints on few pages, headings and footers on each',
  async () => {
    const pdf = convertWorkbook(await writeWorkbook(makeIssue(), { svgToPng }), 'pdf');
    const pages = pageTexts(pdf);
    const on = (sheet: string) => pages.filter((page) => page.includes(`${sheet} · page`));
    // Front fits one page, the Register three side by side, each drawing has a page of its own.
    expect(on('Front')).toHaveLength(1);
    expect(on('Register')).toHaveLength(3);
    expect(on('Drawings')).toHaveLength(4);
    for (const sheet of [
      'Cables',
      'Take-off',
      'Checks',
      'Queries',
      'Site record',
      'Changes',
      'Basis',
    ]) {
      expect(on(sheet), sheet).toHaveLength(1);
    }
    for (const page of on('Register')) expect(page).toContain('L01-0003');
    for (const page of pages) {
      expect(page).toContain('LPS-042-SEAL-001 · revision B');
      expect(page).toContain('licensed people decide.');
      expect(page).not.toContain('###');
    }
  },
);
