import { bandPoint, bandThicknessMm } from '../../geometry/band.ts';
import { bandCoordinates } from '../../geometry/plane-cross.ts';
import { PointGrid } from '../../geometry/plane-grid.ts';
import { distance2, type Vec2 } from '../../geometry/vec.ts';
import type { Settings } from '../../model/settings.ts';
import type { CrossingDraft } from './crossing-draft.ts';
import { joinEdges } from './double-lines.ts';
import { hostOf, roundMm } from './find-crossings.ts';
import type { HostBands } from './host-bands.ts';
import { chainTarget, itemTarget, pointTarget } from './label-targets.ts';
import { type Label, type LabelSources, labelsOf } from './labels.ts';
import { isPointItem, type PointItem, pointItemsOf } from './point-items.ts';
import { chainsOf, pathsOfItem, type ServiceChain } from './service-chains.ts';
import type { Sheet } from './sheet.ts';

/** A view's services: what is drawn along a line, and what is drawn at a place. */
export interface ViewServices {
  readonly chains: readonly ServiceChain[];
  readonly points: readonly PointItem[];
}

export function viewServices(
  sheet: Sheet,
  read: LabelSources['read'],
  settings: Settings,
): ViewServices {
  const points: PointItem[] = [];
  const paths = sheet.services.flatMap((item) => {
    const own = pathsOfItem(item);
    if (isPointItem(item, own.length > 0, sheet.view.view === 'plan')) {
      points.push(...pointItemsOf(item, item));
      return [];
    }
    return own;
  });
  const chains = chainsOf(paths, settings.find.thickestWallMm);
  const readLabels = () =>
    labelsOf(
      [...chains.map(chainTarget), ...points.map(pointTarget), ...sheet.openings.map(itemTarget)],
      { texts: sheet.texts, leaders: sheet.leaders, tags: sheet.tags, read },
      settings.find.labelReachMm,
    );
  return { chains: joinEdges(chains, readLabels), points };
}

/** A symbol this near a crossing stands for it, not for a service of its own. */
const ON_CROSSING_MM = 300;

/** The draft whose line a symbol stands on, for each point; null where there is none. */
export function attachedDrafts(
  points: readonly PointItem[],
  drafts: readonly CrossingDraft[],
): (number | null)[] {
  const grid = new PointGrid<number>(1000);
  drafts.forEach((draft, i) => {
    grid.add(draft.middle, i);
  });
  return points.map(({ centre, kind }) => {
    let best: number | null = null;
    let bestOff = Number.POSITIVE_INFINITY;
    for (const i of grid.near(centre)) {
      const draft = drafts[i];
      if (draft === undefined || kind === null) continue;
      const off = offLine(centre, draft);
      const near = distance2(centre, draft.middle) <= draft.thicknessMm / 2 + ON_CROSSING_MM;
      if (near && off <= SYMBOL_OFF_LINE_MM && off < bestOff) {
        best = i;
        bestOff = off;
      }
    }
    return best;
  });
}

const SYMBOL_OFF_LINE_MM = 100;

/** Distance of a place from the straight line through a crossing. */
function offLine([x, y]: Vec2, { entry, exit }: CrossingDraft): number {
  const [dx, dy] = [exit[0] - entry[0], exit[1] - entry[1]];
  const length = Math.hypot(dx, dy);
  return length > 0 ? Math.abs((x - entry[0]) * dy - (y - entry[1]) * dx) / length : 0;
}

/** A symbol that stands in a wall with no line through it: a service square to the wall. */
export function symbolDraft(
  point: PointItem,
  labels: readonly Label[],
  hosts: HostBands,
): CrossingDraft | null {
  const { service, centre } = point;
  if (service === null) return null;
  for (const at of hosts.index.search(centre[0], centre[1], centre[0], centre[1])) {
    const band = hosts.bands[at];
    const host = hostOf(at, hosts);
    if (band === undefined || host === null) continue;
    const { u, v } = bandCoordinates(band, centre);
    if (u < band.u0 || u > band.u1 || v < band.v0 || v > band.v1) continue;
    const entry = bandPoint(band, u, band.v0);
    const exit = bandPoint(band, u, band.v1);
    const lengthMm = distance2(entry, exit);
    return {
      items: [service],
      count: 0,
      entry,
      exit,
      middle: [(entry[0] + exit[0]) / 2, (entry[1] + exit[1]) / 2],
      axis: [(exit[0] - entry[0]) / lengthMm, (exit[1] - entry[1]) / lengthMm],
      lengthMm,
      skewRad: 0,
      thicknessMm: roundMm(bandThicknessMm(band)),
      hosts: [host],
      labels,
      drawnWidthMm: point.shape?.type === 'circle' ? point.shape.diameterMm : null,
    };
  }
  return null;
}
