import {
  ANNEX_2X3_FILE,
  ANNEX_4X3_FILE,
  ANNEX_CSV_FILE,
  ANNEX_PROJECT_FILE,
  annex2x3Ifc,
  annex4x3Ifc,
  annexCsv,
  annexProjectYaml,
} from './annex.ts';
import { ARCHITECTURE_FILE, architectureIfc } from './architecture.ts';
import { PIT_SECTION_FILE, pitSectionDxf } from './pit-section.ts';
import { PLAN_FILE, planDxf } from './plan.ts';
import {
  DRAWINGS_PROJECT_FILE,
  drawingsProjectYaml,
  PROJECT_FILE,
  projectYaml,
} from './project-yaml.ts';
import { RANGE_FILE, rangeYaml } from './range-yaml.ts';
import { SCHEDULE_FILE, scheduleXlsx } from './schedule-xlsx.ts';
import { SERVICES_FILE, servicesIfc } from './services.ts';

export interface SampleFile {
  /** Below `samples/`, with forward slashes. */
  readonly path: string;
  readonly bytes: Uint8Array;
}

/** Every file of the samples that is made, not copied. The same bytes each time. */
export async function sampleFiles(): Promise<readonly SampleFile[]> {
  const text = (path: string, content: string): SampleFile => ({
    path,
    bytes: new TextEncoder().encode(content),
  });
  return [
    text(`pumping-station/${ARCHITECTURE_FILE}`, architectureIfc()),
    text(`pumping-station/${SERVICES_FILE}`, servicesIfc()),
    text(`pumping-station/${PLAN_FILE}`, planDxf()),
    text(`pumping-station/${PIT_SECTION_FILE}`, pitSectionDxf()),
    { path: `pumping-station/${SCHEDULE_FILE}`, bytes: await scheduleXlsx() },
    text(`pumping-station/${RANGE_FILE}`, rangeYaml()),
    text(`pumping-station/${PROJECT_FILE}`, projectYaml()),
    text(`pumping-station/${DRAWINGS_PROJECT_FILE}`, drawingsProjectYaml()),
    text(`valve-chamber/${ANNEX_2X3_FILE}`, annex2x3Ifc()),
    text(`valve-chamber/${ANNEX_4X3_FILE}`, annex4x3Ifc()),
    text(`valve-chamber/${ANNEX_CSV_FILE}`, annexCsv()),
    text(`valve-chamber/${ANNEX_PROJECT_FILE}`, annexProjectYaml()),
    text(`valve-chamber/${RANGE_FILE}`, rangeYaml()),
    text(`public-building/${RANGE_FILE}`, rangeYaml()),
  ];
}
