import type { Vec3 } from '../../../src/geometry/vec.ts';
import type { Penetration, PenetrationKind } from '../../../src/model/penetration.ts';
import type { Register } from '../../../src/model/register.ts';
import { Settings } from '../../../src/model/settings.ts';
import { sampleRange } from '../../../src/read/range/sample-range.ts';

interface Wanted {
  readonly host?: string;
  readonly opening?: string | null;
  readonly service?: string | null;
  readonly atMm?: Vec3;
  readonly level?: string | null;
  readonly elevationMm?: number | null;
  readonly kind?: PenetrationKind;
  readonly diameterMm?: number;
}

/** A round hole in a wall, with a duct in it; change only what the test is about. */
export function madePenetration(wanted: Wanted = {}): Penetration {
  const {
    host = 'arch:H1',
    opening = 'arch:O1',
    service = 'mep:S1',
    atMm = [0, 0, 0],
    level = 'Level 01',
    elevationMm = 0,
    kind = 'opening',
    diameterMm = 150,
  } = wanted;
  const ref = (id: string) => ({ fileKey: id.split(':')[0] ?? '', id: id.split(':')[1] ?? '' });
  return {
    id: opening === null ? `${host}/${service ?? 'none'}/0` : `${host}/${opening}`,
    kind,
    frame: { originMm: atMm, axis: [0, 1, 0], right: [1, 0, 0], up: [0, 0, 1] },
    hosts: [
      {
        id: host,
        ref: ref(host),
        kind: 'wall',
        name: host,
        thicknessMm: 200,
        material: null,
        fireRating: null,
        isExternal: null,
        isLoadBearing: null,
      },
    ],
    thicknessMm: 200,
    openings:
      opening === null ? [] : [{ id: opening, ref: ref(opening), kind: 'opening', name: opening }],
    crossings:
      service === null
        ? []
        : [
            {
              id: `${host}/${service}`,
              serviceIds: [service],
              refs: [ref(service)],
              kind: 'duct',
              carrierForm: null,
              section: { type: 'circle', diameterMm: 110 },
              sizeBasis: 'outside',
              boreMm: 100,
              material: null,
              entryMm: atMm,
              exitMm: atMm,
              lengthMm: 200,
              skewRad: 0,
              offsetMm: [0, 0],
              carriedBy: null,
              references: [],
              systems: [],
              evidence: [],
            },
          ],
    shape: { type: 'circle', diameterMm },
    where: {
      level,
      levelElevationMm: elevationMm,
      heightAboveLevelMm: null,
      grid: null,
      spaces: { near: null, far: null },
      outside: null,
    },
    references: [],
    evidence: [],
  };
}

/** What seals are designed with where the test is not about it. */
export function madeBasis(): Register['basis'] {
  return { range: sampleRange(), design: Settings.parse({}).design };
}
