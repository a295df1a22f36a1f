// npm run faults [-- KILLS [SEED]]
import { killRuns } from './kill-runs.ts';

const [kills = '200', seed = '1'] = process.argv.slice(2);
const report = await killRuns(Number(kills), Number(seed));
process.stdout.write(`${JSON.stringify(report, null, 2)}\n`);
process.exitCode = report.faults.length === 0 ? 0 : 1;
