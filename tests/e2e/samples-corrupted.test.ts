import path from 'node:path';
import { expect, test } from 'vitest';
import { loadProject } from '../../src/cli/load-project.ts';
import { findInDrawings } from '../../src/find/drawings/find-in-drawings.ts';
import { mergeFindings } from '../../src/find/merge-findings.ts';
import { findInModels } from '../../src/find/models/find-in-models.ts';
import { matchCables } from '../../src/match/match-cables.ts';
import type { Cable, ScheduleRow } from '../../src/model/cable.ts';
import { readDxf } from '../../src/read/dxf/read-dxf.ts';
import { joinBuildings } from '../../src/read/ifc/join-buildings.ts';
import { readIfc } from '../../src/read/ifc/read-ifc.ts';
import { builtInCableTable } from '../../src/read/schedule/cable-table.ts';
import { openSheets } from '../../src/read/schedule/open-sheets.ts';
import { readSchedule } from '../../src/read/schedule/read-schedule.ts';
import { corrupt, seeded } from '../makers/schedule/corrupt.ts';
import { csvFile } from '../makers/schedule/csv-file.ts';
import { repoRoot } from '../set-up/outside.ts';

const TABLES = [builtInCableTable()];

interface PlainSheet {
  readonly name: string;
  /** Rows above the one that names the columns are kept apart: errors are made below it. */
  readonly above: readonly (readonly string[])[];
  readonly rows: readonly (readonly string[])[];
}

/** A sample read and searched once, ready for many spoilt schedules. */
async function openSample(folder: string) {
  const project = await loadProject(
    [path.join(repoRoot, 'samples', folder, 'project.yaml')],
    null,
    false,
  );
  const { settings } = project;
  const buildings = [];
  const drawings = [];
  const sheets: PlainSheet[] = [];
  for (const [key, entry] of Object.entries(settings.files)) {
    const file = project.files.find((each) => each.key === key);
    if (file === undefined) continue;
    if (entry.kind === 'ifc') {
      const { result } = await readIfc(file, settings, {
        correction: { moveMm: entry.moveMm ?? [0, 0, 0], turnDeg: entry.turnDeg ?? 0 },
      });
      buildings.push({ building: result.building, frame: result.frame });
    } else if (entry.kind === 'dxf') drawings.push(readDxf(file, entry, settings).result.drawing);
    else if (entry.kind === 'schedule') {
      const { result } = await openSheets(file, entry);
      const wanted = result.sheets.filter(({ name }) => entry.sheets?.includes(name) ?? true);
      sheets.push(...wanted.map(plainSheet));
    }
  }
  const building = joinBuildings(buildings).result;
  const inModels = findInModels(building, settings).result;
  const { penetrations } =
    drawings.length === 0
      ? inModels
      : mergeFindings(inModels, findInDrawings(drawings, settings).result, settings).result;
  const match = async (spoilt: readonly PlainSheet[]) => {
    const cables: Cable[] = [];
    const rows: ScheduleRow[] = [];
    for (const { name, above, rows: own } of spoilt) {
      const { result } = await readSchedule(
        { ...csvFile([...above, ...own]), key: name },
        {},
        TABLES,
      );
      cables.push(...result.cables);
      rows.push(...result.rows);
    }
    const { result } = matchCables(penetrations, building, { cables, rows }, [], settings);
    const placeOf = new Map(
      cables.map(({ id, place }) => [id, `${place.fileKey}:${place.row}`] as const),
    );
    const byPlace = new Map<string, string[]>();
    for (const { cableId, penetrationId } of result.matches) {
      const place = placeOf.get(cableId) ?? '';
      byPlace.set(place, [...(byPlace.get(place) ?? []), penetrationId]);
    }
    return byPlace;
  };
  return { sheets, match };
}

function plainSheet(sheet: {
  readonly name: string;
  readonly rows: readonly {
    readonly row: number;
    readonly cells: readonly ({ readonly text: string; readonly copyOf: unknown } | null)[];
  }[];
}): PlainSheet {
  const width = Math.max(...sheet.rows.map(({ cells }) => cells.length));
  const rows: string[][] = [];
  for (const { row, cells } of sheet.rows) {
    while (rows.length < row - 1) rows.push(Array<string>(width).fill(''));
    rows.push(
      Array.from({ length: width }, (_, at) => {
        const cell = cells[at];
        return cell == null || cell.copyOf !== null ? '' : cell.text;
      }),
    );
  }
  const head = rows.findIndex((row) => row.some((cell) => /^cable (?:ref|no)/i.test(cell)));
  return { name: sheet.name, above: rows.slice(0, head), rows: rows.slice(head) };
}

// The unspoilt matches are held against the samples' truth in samples-run.test.ts.
test.each([
  ['pumping-station', 80],
  ['valve-chamber', 9],
])(
  '%s: a thousand errors in its schedule never place a cable where it does not pass',
  { timeout: 600_000 },
  async (folder, leastMatched) => {
    const { sheets, match } = await openSample(folder);
    const straight = await match(sheets);
    expect(straight.size).toBeGreaterThanOrEqual(leastMatched);
    const random = seeded(99);
    const wrong: string[] = [];
    let right = 0;
    // Four errors a schedule, 250 schedules: a thousand errors.
    for (let run = 0; run < 250; run++) {
      let spoilt = [...sheets];
      const kinds: string[] = [];
      for (let more = 0; more < 4; more++) {
        const at = Math.floor(random() * spoilt.length);
        spoilt = spoilt.map((sheet, n) => {
          if (n !== at) return sheet;
          const { kind, rows } = corrupt(sheet.rows, random);
          kinds.push(`${sheet.name}: ${kind}`);
          return { ...sheet, rows };
        });
      }
      for (const [place, found] of await match(spoilt)) {
        const truth = straight.get(place) ?? [];
        const strays = found.filter((id) => !truth.includes(id));
        if (strays.length === 0) right += 1;
        else wrong.push(`${place}: ${strays.join(', ')} (${kinds.join('; ')})`);
      }
    }
    expect(wrong).toEqual([]);
    expect(right).toBeGreaterThan(250 * straight.size * 0.5);
  },
);
