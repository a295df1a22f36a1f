import { z } from 'zod';
import { SealbookError } from '../../basics/errors.ts';
import type { QuerySeverity } from '../../basics/query-codes.ts';
import type { AreaMaterial, ProjectSummary } from '../../model/portfolio.ts';
import { SealbookResult } from '../../model/result.ts';

const Materials = z.looseObject({
  sealants: z.array(
    z.looseObject({
      area: z.string(),
      sealant: z.string(),
      netMl: z.number(),
      allowancesMl: z.number(),
      pooled: z.array(z.looseObject({ sizeMl: z.number(), count: z.number() })),
    }),
  ),
  fillers: z.array(
    z.looseObject({ area: z.string(), filler: z.string(), whole: z.number(), split: z.number() }),
  ),
});

const Heads = z.looseObject({
  project: z.looseObject({ name: z.string() }),
  issue: z.looseObject({ revision: z.string() }),
  sample: z.boolean(),
  takeOff: Materials,
});

/** What a project's `result.json` came to. Throws `input-unreadable` for what is no such result. */
export function summariseProject(text: string, file: string): ProjectSummary {
  let value: unknown;
  try {
    value = JSON.parse(text);
  } catch {
    throw unreadable(file);
  }
  const result = SealbookResult.safeParse(value).data;
  const heads = Heads.safeParse(value).data;
  if (result === undefined || heads === undefined) throw unreadable(file);
  const seals = result.penetrations.flatMap((each) => each.seals);
  const checks = seals.flatMap((seal) => seal.checks);
  const count = <T>(items: readonly T[], holds: (item: T) => boolean) => items.filter(holds).length;
  const asked = (severity: QuerySeverity) =>
    count(result.queries, (query) => query.severity === severity);
  return {
    name: heads.project.name,
    revision: heads.issue.revision,
    isSample: heads.sample,
    penetrations: result.penetrations.length,
    seals: {
      designed: count(seals, ({ state }) => state === 'designed'),
      query: count(seals, ({ state }) => state === 'query'),
      none: count(seals, ({ state }) => state === 'none'),
    },
    checks: {
      met: count(checks, ({ verdict }) => verdict === 'met'),
      notMet: count(checks, ({ verdict }) => verdict === 'not met'),
      notAssessed: count(checks, ({ verdict }) => verdict === 'not assessed'),
    },
    queries: { stop: asked('stop'), ask: asked('ask'), note: asked('note') },
    counted: {
      services: result.ledger.services.total,
      openings: result.ledger.openings.total,
      cables: result.ledger.cables.total,
    },
    materials: materialsOf(heads.takeOff),
  };
}

function materialsOf({ sealants, fillers }: z.infer<typeof Materials>): AreaMaterial[] {
  const byKey = new Map<string, AreaMaterial>();
  const add = (item: AreaMaterial) => {
    const key = JSON.stringify([item.area, item.kind, item.material]);
    const before = byKey.get(key)?.quantity ?? 0;
    byKey.set(key, { ...item, quantity: before + item.quantity });
  };
  for (const { area, sealant, netMl, allowancesMl, pooled } of sealants) {
    const quantity = netMl + allowancesMl;
    add({ area, kind: 'sealant', material: sealant, unit: 'ml', quantity });
    for (const { sizeMl, count } of pooled) {
      const material = `${sealant}, container of ${sizeMl} ml`;
      add({ area, kind: 'container', material, unit: 'pieces', quantity: count });
    }
  }
  for (const { area, filler, whole, split } of fillers) {
    add({ area, kind: 'filler', material: filler, unit: 'pieces', quantity: whole + split });
  }
  return [...byKey.values()];
}

function unreadable(file: string): SealbookError {
  return new SealbookError('input-unreadable', `${file} is no result of a run.`, {
    where: { file },
    todo: 'Run its project again.',
  });
}
