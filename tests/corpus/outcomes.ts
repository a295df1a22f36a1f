import { SealbookError } from '../../src/basics/errors.ts';
import type { Query } from '../../src/basics/query.ts';
import { findInModels } from '../../src/find/models/find-in-models.ts';
import type { InputFile } from '../../src/model/input.ts';
import { Settings } from '../../src/model/settings.ts';
import { readBcf } from '../../src/read/bcf/read-bcf.ts';
import { readDxf } from '../../src/read/dxf/read-dxf.ts';
import { checkIds } from '../../src/read/ids/check-ids.ts';
import { readIds } from '../../src/read/ids/read-ids.ts';
import { readIfc } from '../../src/read/ifc/read-ifc.ts';
import { readProject } from '../../src/read/project/read-project.ts';
import { readRange } from '../../src/read/range/read-range.ts';
import { readRegister } from '../../src/read/register/read-register.ts';
import { builtInCableTable } from '../../src/read/schedule/cable-table.ts';
import { readSchedule } from '../../src/read/schedule/read-schedule.ts';
import { sha256 } from '../fuzz/targets.ts';

/**
 * What a reader makes of a file, in few words: `REFUSED code, line n: message` or what was read, then
 * the codes of the queries, each with its count. Anything but a SealbookError goes through.
 */
async function outcome(read: () => string | Promise<string>): Promise<string> {
  try {
    return await read();
  } catch (error) {
    if (!(error instanceof SealbookError)) throw error;
    const line = error.where.line === undefined ? '' : `, line ${error.where.line}`;
    return `REFUSED ${error.code}${line}: ${error.message.split('\n')[0]?.slice(0, 90)}`;
  }
}

const settings = Settings.parse({});
const file = (name: string, bytes: Uint8Array): InputFile => ({ key: 'f', name, bytes });

function asked(queries: readonly Query[]): string {
  const counts = new Map<string, number>();
  for (const { code } of queries) counts.set(code, (counts.get(code) ?? 0) + 1);
  const codes = [...counts].sort().map(([code, count]) => (count > 1 ? `${count} ${code}` : code));
  return codes.length === 0 ? 'no query' : codes.join(', ');
}

export const ifcOutcome = (bytes: Uint8Array): Promise<string> =>
  outcome(async () => {
    const { result, queries } = await readIfc(file('m.ifc', bytes), settings);
    const { hosts, services, openings } = result.building;
    const found = findInModels(result.building, settings);
    const { ledger, penetrations } = found.result;
    const fates = [...ledger.services, ...ledger.openings].map(({ outcome: fate }) => fate);
    if (fates.length !== services.length + openings.length)
      throw new Error('The ledger lacks one.');
    const read = `${hosts.length} hosts, ${services.length} services, ${openings.length} openings`;
    const fate = fates.length === 0 ? '' : ` (${fates.join(' ')})`;
    return `${read}${fate}, ${penetrations.length} found; ${asked([...queries, ...found.queries])}`;
  });

export const dxfOutcome = (bytes: Uint8Array): Promise<string> =>
  outcome(() => {
    const { result, queries } = readDxf(file('d.dxf', bytes), {}, settings);
    const { entities, texts, symbols } = result.drawing;
    // Layers whose names tell nothing are every case's; they say nothing of the reading.
    const unread = result.unread
      .filter(({ reason }) => !reason.startsWith("its layer's name"))
      .map(({ type, count, reason }) => `${count} ${type}: ${reason}`);
    const read = `${entities.length} drawn, ${texts.length} texts, ${symbols.length} symbols`;
    const left = unread.length === 0 ? '' : `, unread ${unread.join(' + ')}`;
    return `${read}${left}; ${asked(queries)}`;
  });

export const scheduleOutcome = (name: string, bytes: Uint8Array): Promise<string> =>
  outcome(async () => {
    const { result, queries } = await readSchedule(file(name, bytes), {}, [builtInCableTable()]);
    const cables = result.cables.map(({ ref, diameterMm }) => `${ref.slice(0, 20)} ${diameterMm}`);
    return `${cables.length} cables (${cables.slice(0, 6).join(', ')}); ${asked(queries)}`;
  });

export const projectOutcome = (bytes: Uint8Array): Promise<string> =>
  outcome(() => {
    const { settings: read } = readProject(file('project.yaml', bytes));
    return `"${read.project.name.slice(0, 30)}", ${Object.keys(read.files).length} files`;
  });

export const rangeOutcome = (bytes: Uint8Array): Promise<string> =>
  outcome(() => {
    const { name, fillers, sealants, records } = readRange(file('range.yaml', bytes));
    return `"${name.slice(0, 30)}", ${fillers.length} fillers, ${sealants.length} sealants, ${records.length} records`;
  });

export const bcfOutcome = (bytes: Uint8Array): Promise<string> =>
  outcome(() => {
    const { result, queries } = readBcf(file('b.bcf', bytes));
    const answers = result.answers.map(
      ({ queryId, state, comments }) => `${queryId} ${state} ${comments.length}`,
    );
    return `${result.version}: ${answers.join(', ') || 'no answers'}, ${result.others.length} others; ${asked(queries)}`;
  });

export const idsOutcome = (bytes: Uint8Array, model: Uint8Array): Promise<string> =>
  outcome(() => {
    const { result, queries } = readIds(file('r.ids', bytes));
    const { verdict, specifications } = checkIds(result, model);
    return `${specifications.length} specifications, ${verdict}; ${asked(queries)}`;
  });

export const registerOutcome = (bytes: Uint8Array): Promise<string> =>
  outcome(async () => {
    const { records, decisions } = await readRegister(file('register.jsonl', bytes), sha256);
    return `${records.length} records, ${decisions.length} decisions`;
  });
