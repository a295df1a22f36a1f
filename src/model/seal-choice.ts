import type { Shape } from '../geometry/shape.ts';
import type { Vec2 } from '../geometry/vec.ts';
import type { Settings } from './settings.ts';

/** What a person chose for the seals of one penetration, instead of what settings and inputs say. */
export interface SealChoice {
  /** Why nothing is sealed here; null where it is. */
  readonly excluded: string | null;
  /** Opening to seal instead of the one found; null for that one. */
  readonly opening: Shape | null;
  readonly design: Partial<
    Pick<Settings['design'], 'separationMm' | 'edgeMm' | 'setBackMm' | 'faces' | 'sealant'>
  >;
  /** Where bodies are put by hand, by seal id and then by reference; section frame. Absent: nowhere. */
  readonly places?: ReadonlyMap<string, ReadonlyMap<string, Vec2>>;
}
