import type { RunDim } from '../dimensions/types.ts';
import { axisInHosts, between, distanceToHost } from './crossings.ts';
import { sizeOf, type TrueModel } from './truth-model.ts';

/** Throws where what is declared of a run is not what its dimensions give. */
export function checkDimensions(model: TrueModel): void {
  for (const run of model.runs) {
    const stays = axisInHosts(run, model.hosts);
    const declared = [
      ...model.openings
        .filter((opening) => opening.serves.includes(run.ref))
        .flatMap((opening) => [opening.host, opening.alsoThrough ?? opening.host]),
      ...run.unopenedIn,
    ];
    const found = stays.filter((stay) => stay.kind === 'through').map((stay) => stay.host.mark);
    const [said, seen] = [declared, found].map((marks) => [...new Set(marks)].sort().join());
    if (said !== seen) throw new Error(`${run.ref}: declared through ${said}, found ${seen}.`);
    for (const piece of run.pieces) {
      const kinds = stays.filter((stay) => stay.pieces.includes(piece)).map((stay) => stay.kind);
      const outcome = (['through', 'endsInside', 'within'] as const).find((kind) =>
        kinds.includes(kind),
      );
      const expected =
        run.withoutBody === true ? 'noGeometry' : (outcome ?? apart(run, piece, model));
      if (expected !== piece.outcome) {
        throw new Error(`${run.ref} ${piece.key}: declared ${piece.outcome}, found ${expected}.`);
      }
    }
  }
}

/** Nothing may come near a host by chance: either it touches, or it keeps 20 mm away. */
function apart(
  run: RunDim,
  piece: RunDim['pieces'][number],
  model: TrueModel,
): 'touches' | 'clear' {
  const reach = Math.min(...sizeOf(run.section)) / 2;
  const widest = Math.max(...sizeOf(run.section)) / 2;
  let nearest = Number.POSITIVE_INFINITY;
  for (let step = 0; step <= 200; step += 1) {
    const point = between(piece.from, piece.to, step / 200);
    for (const host of model.hosts) nearest = Math.min(nearest, distanceToHost(point, host));
  }
  if (Math.abs(nearest - reach) < 1e-6) return 'touches';
  if (nearest > widest + 20) return 'clear';
  throw new Error(
    `${run.ref} ${piece.key} lies ${nearest} mm from a host: neither clear nor touching.`,
  );
}
