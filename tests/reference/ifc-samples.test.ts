/**
 * Public sample models (list and licences in the shared folder's SAMPLES.tsv): each is read and
 * searched without a crash, every service and opening ends in the ledger, and the counts equal those
 * of an independent parser. The table says what is found in each and why there is nothing where
 * nothing is found.
 */
import { existsSync, readdirSync, readFileSync } from 'node:fs';
import { StepTokenizer } from '@ifc-lite/parser';
import { describe, expect } from 'vitest';
import { findInModels } from '../../src/find/models/find-in-models.ts';
import type { Building } from '../../src/model/building.ts';
import { Settings } from '../../src/model/settings.ts';
import { joinBuildings } from '../../src/read/ifc/join-buildings.ts';
import { lookIfc } from '../../src/read/ifc/look-ifc.ts';
import { readIfc } from '../../src/read/ifc/read-ifc.ts';
import { sharedPath, testWith } from '../set-up/outside.ts';

const folder = sharedPath('samples', 'ifc');
const settings = Settings.parse({});

interface Expected {
  readonly hosts: number;
  readonly services: number;
  readonly openings: number;
  /** Penetrations by kind, those with services counted apart: `opening+s`. */
  readonly penetrations: Readonly<Record<string, number>>;
  readonly why: string;
}

const FILLED = 'every opening is a door’s or a window’s, and there are no services';
const NO_HOSTS = 'no hosts in the file';
const NOTHING = 'neither openings nor services';

/** What is found in each file alone. */
const SAMPLES: Readonly<Record<string, Expected>> = {
  'architecture-rev-b.ifc': {
    hosts: 7,
    services: 1,
    openings: 0,
    penetrations: { 'unopened+s': 1 },
    why: 'one duct goes through a wall; no opening is modelled',
  },
  'bcf-architectural.ifc': {
    hosts: 15,
    services: 0,
    openings: 3,
    penetrations: { opening: 1, hole: 1 },
    why: 'two openings are filled, one is bare; a round hole is modelled into a slab',
  },
  'bcf-mep.ifc': { hosts: 0, services: 8, openings: 0, penetrations: {}, why: NO_HOSTS },
  'cable-carrier-435.ifc': { hosts: 0, services: 1, openings: 0, penetrations: {}, why: NO_HOSTS },
  'double-guids.ifc': { hosts: 8, services: 0, openings: 4, penetrations: {}, why: FILLED },
  'duct-fitting-1269.ifc': { hosts: 0, services: 3, openings: 0, penetrations: {}, why: NO_HOSTS },
  'duplex-architecture.ifc': {
    hosts: 85,
    services: 0,
    openings: 50,
    penetrations: {},
    why: '38 openings are doors’ and windows’, 2 are roof shafts over 1 m, 10 void furniture',
  },
  'duplex-electrical.ifc': {
    hosts: 0,
    services: 0,
    openings: 0,
    penetrations: {},
    why: 'devices only: terminals and controllers are no services that pass',
  },
  'fzk-haus-ac20.ifc': {
    hosts: 17,
    services: 0,
    openings: 17,
    penetrations: {},
    why: '16 filled openings and the stair’s void',
  },
  'georef-rigid-operation-4x3.ifc': {
    hosts: 0,
    services: 0,
    openings: 0,
    penetrations: {},
    why: NOTHING,
  },
  'georef-utm-4x3.ifc': { hosts: 0, services: 0, openings: 0, penetrations: {}, why: NOTHING },
  'many-simple-walls.ifc': { hosts: 3, services: 0, openings: 14, penetrations: {}, why: FILLED },
  'open-house.ifc': {
    hosts: 7,
    services: 0,
    openings: 4,
    penetrations: { opening: 3 },
    why: 'three openings have no window in them',
  },
  'pcert4x3-building-architecture.ifc': {
    hosts: 7,
    services: 0,
    openings: 0,
    penetrations: {},
    why: 'its holes are modelled into the meshes, and nothing passes them in this file',
  },
  'pcert4x3-building-hvac.ifc': {
    hosts: 0,
    services: 1,
    openings: 0,
    penetrations: {},
    why: NO_HOSTS,
  },
  'pcert4x3-building-structural.ifc': {
    hosts: 6,
    services: 0,
    openings: 0,
    penetrations: { hole: 1 },
    why: 'a square hole is modelled into the front wall',
  },
  'pcert4x3-infra-plumbing.ifc': {
    hosts: 0,
    services: 24,
    openings: 0,
    penetrations: {},
    why: NO_HOSTS,
  },
  'sample-house-4.ifc': { hosts: 8, services: 0, openings: 7, penetrations: {}, why: FILLED },
  'slab-openings-4x3.ifc': {
    hosts: 1,
    services: 0,
    openings: 2,
    penetrations: { opening: 1 },
    why: 'the round opening; the other is a recess',
  },
  'three-rooms-air-terminal.ifc': {
    hosts: 10,
    services: 0,
    openings: 11,
    penetrations: {},
    why: FILLED,
  },
  'unicode-names.ifc': { hosts: 12, services: 0, openings: 2, penetrations: {}, why: FILLED },
  'wall-elemented-case.ifc': {
    hosts: 1,
    services: 0,
    openings: 2,
    penetrations: {},
    why: 'both openings are shallower than the framed wall they void',
  },
  'walls-subtractions-478.ifc': {
    hosts: 7,
    services: 0,
    openings: 25,
    penetrations: { opening: 21 },
    why: '22 bare openings (two cut the same hole), 3 recesses',
  },
  'webifc-example.ifc': { hosts: 26, services: 0, openings: 0, penetrations: {}, why: NOTHING },
};

const HOST =
  /^IFC(WALL|WALLSTANDARDCASE|WALLELEMENTEDCASE|SLAB|SLABSTANDARDCASE|SLABELEMENTEDCASE|ROOF|FOOTING|DISTRIBUTIONCHAMBERELEMENT)$/;
const SERVICE = /^IFC(FLOW|CABLE|CABLECARRIER|DUCT|PIPE)(SEGMENT|FITTING)$/;
const OPENING = /^IFCOPENING(ELEMENT|STANDARDCASE)$/;

/** Counts by an independent tokenizer. */
function independentCounts(bytes: Uint8Array): {
  hosts: number;
  services: number;
  openings: number;
} {
  const counts = { hosts: 0, services: 0, openings: 0 };
  for (const { type } of new StepTokenizer(bytes).scanEntities()) {
    const name = type.toUpperCase();
    if (HOST.test(name)) counts.hosts += 1;
    if (SERVICE.test(name)) counts.services += 1;
    if (OPENING.test(name)) counts.openings += 1;
  }
  return counts;
}

function sampleFile(name: string, key = 'm') {
  return { key, name, bytes: new Uint8Array(readFileSync(`${folder}/${name}`)) };
}

function tally(building: Building) {
  const { result } = findInModels(building, settings);
  const kinds: Record<string, number> = {};
  for (const { kind, crossings } of result.penetrations) {
    const name = crossings.length > 0 ? `${kind}+s` : kind;
    kinds[name] = (kinds[name] ?? 0) + 1;
  }
  return { kinds, findings: result };
}

describe('public sample models', () => {
  testWith(['shared'], 'every file of the folder is in the table', () => {
    const files = existsSync(folder) ? readdirSync(folder).filter((f) => f.endsWith('.ifc')) : [];
    expect(Object.keys(SAMPLES).sort()).toEqual(files.sort());
  });

  for (const [name, expected] of Object.entries(SAMPLES)) {
    testWith(['shared'], `${name}: ${expected.why}`, async () => {
      const file = sampleFile(name);
      const { result } = await readIfc(file, settings);
      const { building } = result;
      const counts = independentCounts(file.bytes);
      expect(building.services).toHaveLength(counts.services);
      expect(building.openings.filter(({ kind }) => kind === 'opening')).toHaveLength(
        counts.openings,
      );
      // A roof that is only a frame round its slabs is no host of its own.
      expect(building.hosts.length).toBeLessThanOrEqual(counts.hosts);
      const { kinds, findings } = tally(building);
      expect({
        hosts: building.hosts.length,
        services: building.services.length,
        openings: building.openings.length,
        penetrations: kinds,
      }).toEqual({
        hosts: expected.hosts,
        services: expected.services,
        openings: expected.openings,
        penetrations: expected.penetrations,
      });
      const ids = (items: readonly { readonly id: string }[]) => items.map(({ id }) => id);
      expect(ids(findings.ledger.services)).toEqual(ids(building.services));
      expect(ids(findings.ledger.openings)).toEqual(ids(building.openings));
      expect(new Set(ids(findings.penetrations)).size).toBe(findings.penetrations.length);
    });
  }

  testWith(['shared'], 'the duct of one model passes the hole in the roof of another', async () => {
    const parts = [];
    for (const [n, name] of [
      'pcert4x3-building-architecture.ifc',
      'pcert4x3-building-structural.ifc',
      'pcert4x3-building-hvac.ifc',
      'pcert4x3-infra-plumbing.ifc',
    ].entries()) {
      parts.push((await readIfc(sampleFile(name, `m${n}`), settings)).result);
    }
    const { kinds, findings } = tally(joinBuildings(parts).result);
    // The empty one is the square hole in the front wall of the structural model.
    expect(kinds).toEqual({ 'hole+s': 1, hole: 1 });
    const passed = findings.penetrations.find(({ crossings }) => crossings.length > 0);
    expect(passed?.hosts[0]?.kind).toBe('roof');
    expect(findings.ledger.services.filter(({ outcome }) => outcome === 'clear')).toHaveLength(24);
  });

  testWith(
    ['shared'],
    'models in millimetres and metres: ducts near walls, none crosses',
    async () => {
      const parts = [];
      for (const [n, name] of ['bcf-architectural.ifc', 'bcf-mep.ifc'].entries()) {
        parts.push((await readIfc(sampleFile(name, `m${n}`), settings)).result);
      }
      const joined = joinBuildings(parts);
      expect(tally(joined.result).kinds).toEqual({ opening: 1, hole: 1 });
      expect(joined.queries.map(({ text }) => text).join()).toContain('different units');
    },
  );

  testWith(
    ['shared'],
    'looking at a model says schema, units, storeys and what is missing',
    async () => {
      const report = await lookIfc(sampleFile('bcf-mep.ifc'), settings);
      expect(report.schema).toBe('IFC2X3');
      expect(report.facts.find(({ name }) => name === 'Length unit')?.value).toBe('metre');
      expect(report.tables.map(({ title }) => title)).toContain('Services');
      expect(report.advice.join(' ')).toContain('no walls or slabs');
    },
  );
});
