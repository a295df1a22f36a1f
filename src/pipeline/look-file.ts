import type { InputFile } from '../model/input.ts';
import type { LookReport } from '../model/look.ts';
import type { Settings } from '../model/settings.ts';
import { lookDxf } from '../read/dxf/look-dxf.ts';
import { lookIfc } from '../read/ifc/look-ifc.ts';
import { kindOfFile } from '../read/project/guess-project.ts';
import { lookSchedule } from '../read/schedule/look-schedule.ts';

/**
 * Says what is in a model, drawing or schedule. Throws `usage` for a kind of file that is not read,
 * and the reader's own error for a file that can't be.
 */
export async function lookFile(file: InputFile, settings: Settings): Promise<LookReport> {
  switch (kindOfFile(file.name)) {
    case 'ifc':
      return lookIfc(file, settings);
    case 'dxf':
      return lookDxf(file, settings);
    case 'schedule':
      return lookSchedule(file, {}, settings.limits);
  }
}
