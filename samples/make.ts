import { mkdirSync, writeFileSync } from 'node:fs';
import path from 'node:path';
import { fileURLToPath } from 'node:url';
import {
  ANNEX_2X3_FILE,
  ANNEX_4X3_FILE,
  ANNEX_CSV_FILE,
  ANNEX_PROJECT_FILE,
  annex2x3Ifc,
  annex4x3Ifc,
  annexCsv,
  annexProjectYaml,
} from './make/annex.ts';
import { annexTruth } from './make/annex-truth.ts';
import { ARCHITECTURE_FILE, architectureIfc } from './make/architecture.ts';
import { PIT_SECTION_FILE, pitSectionDxf } from './make/pit-section.ts';
import { PLAN_FILE, planDxf } from './make/plan.ts';
import {
  DRAWINGS_PROJECT_FILE,
  drawingsProjectYaml,
  PROJECT_FILE,
  projectYaml,
} from './make/project-yaml.ts';
import { RANGE_FILE, rangeYaml } from './make/range-yaml.ts';
import { SCHEDULE_FILE, scheduleXlsx } from './make/schedule-xlsx.ts';
import { SERVICES_FILE, servicesIfc } from './make/services.ts';
import { stationTruth, TRUTH_FILE } from './make/station-truth.ts';

const here = path.dirname(fileURLToPath(import.meta.url));

const json = (value: unknown): string => `${JSON.stringify(value, null, 1)}\n`;

function write(folder: string, name: string, content: string | Uint8Array): void {
  mkdirSync(path.join(here, folder), { recursive: true });
  writeFileSync(path.join(here, folder, name), content);
}

write('pumping-station', ARCHITECTURE_FILE, architectureIfc());
write('pumping-station', SERVICES_FILE, servicesIfc());
write('pumping-station', PLAN_FILE, planDxf());
write('pumping-station', PIT_SECTION_FILE, pitSectionDxf());
write('pumping-station', SCHEDULE_FILE, await scheduleXlsx());
write('pumping-station', RANGE_FILE, rangeYaml());
write('pumping-station', PROJECT_FILE, projectYaml());
write('pumping-station', DRAWINGS_PROJECT_FILE, drawingsProjectYaml());

write('valve-chamber', ANNEX_2X3_FILE, annex2x3Ifc());
write('valve-chamber', ANNEX_4X3_FILE, annex4x3Ifc());
write('valve-chamber', ANNEX_CSV_FILE, annexCsv());
write('valve-chamber', ANNEX_PROJECT_FILE, annexProjectYaml());
for (const folder of ['valve-chamber', 'public-building']) write(folder, RANGE_FILE, rangeYaml());

write('pumping-station', TRUTH_FILE, json(stationTruth()));
write('valve-chamber', TRUTH_FILE, json(annexTruth()));
