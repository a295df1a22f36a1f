import { execFileSync } from 'node:child_process';
import { mkdirSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import os from 'node:os';
import path from 'node:path';

/**
 * Makes LibreOffice recalculate on loading: by default it keeps cached values, so that a wrong one
 * would survive conversion and the test could not fail.
 */
const RECALCULATE = `<?xml version="1.0" encoding="UTF-8"?>
<oor:items xmlns:oor="http://openoffice.org/2001/registry" xmlns:xs="http://www.w3.org/2001/XMLSchema" xmlns:xsi="http://www.w3.org/2001/XMLSchema-instance">
<item oor:path="/org.openoffice.Office.Calc/Formula/Load"><prop oor:name="OOXMLRecalcMode" oor:op="fuse"><value>0</value></prop></item>
</oor:items>
`;

/** Converts a workbook in a profile of its own, all formulas recalculated. `to`: "xlsx" or "pdf". */
export function convertWorkbook(bytes: Uint8Array, to: 'xlsx' | 'pdf'): Uint8Array {
  const folder = mkdtempSync(path.join(os.tmpdir(), 'sealbook-office-'));
  try {
    const profile = path.join(folder, 'profile');
    const out = path.join(folder, 'out');
    mkdirSync(path.join(profile, 'user'), { recursive: true });
    writeFileSync(path.join(profile, 'user', 'registrymodifications.xcu'), RECALCULATE);
    const input = path.join(folder, 'book.xlsx');
    writeFileSync(input, bytes);
    execFileSync(
      'soffice',
      [
        `-env:UserInstallation=file://${profile}`,
        '--headless',
        '--convert-to',
        to,
        '--outdir',
        out,
        input,
      ],
      { stdio: 'ignore', timeout: 110_000 },
    );
    return new Uint8Array(readFileSync(path.join(out, `book.${to}`)));
  } finally {
    rmSync(folder, { recursive: true, force: true });
  }
}
