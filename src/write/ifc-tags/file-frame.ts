import type { Vec3 } from '../../geometry/vec.ts';
import type { Settings } from '../../model/settings.ts';

/**
 * Where a file's own frame lies in the project's: project = turned about z by `turnRad`, then moved
 * by `originMm`.
 */
export interface FileFrame {
  readonly originMm: Vec3;
  readonly turnRad: number;
  /** Whether the project's frame is this model's: others may have been joined by map conversions. */
  readonly isLead: boolean;
}

/** Frame of a model by the project's settings; null where the key names no model. */
export function fileFrame(settings: Settings, fileKey: string): FileFrame | null {
  const models = Object.entries(settings.files).filter(([, file]) => file.kind === 'ifc');
  const at = models.findIndex(([key]) => key === fileKey);
  const file = models[at]?.[1];
  if (file?.kind !== 'ifc') return null;
  return {
    originMm: file.moveMm ?? [0, 0, 0],
    turnRad: ((file.turnDeg ?? 0) * Math.PI) / 180,
    isLead: at === 0,
  };
}
