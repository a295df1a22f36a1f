import { SealbookError } from '../basics/errors.ts';
import type { InputFile } from '../model/input.ts';
import type { LookReport } from '../model/look.ts';
import type { Settings } from '../model/settings.ts';
import { lookDxf } from '../read/dxf/look-dxf.ts';
import { lookIfc } from '../read/ifc/look-ifc.ts';
import { lookSchedule } from '../read/schedule/look-schedule.ts';

/**
 * Says what is in a model, drawing or schedule. Throws `usage` for a kind of file that is not read,
 * and the reader's own error for a file that can't be.
 */
export async function lookFile(
  file: InputFile,
  kind: 'ifc' | 'dxf' | 'schedule',
  settings: Settings,
): Promise<LookReport> {
  switch (kind) {
    case 'ifc':
      return lookIfc(file, settings);
    case 'dxf':
      return lookDxf(file, settings);
    case 'schedule':
      return lookSchedule(file);
    default:
      throw new SealbookError('usage', `${file.name} is not a kind of file that is read.`);
  }
}
