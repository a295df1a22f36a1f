import { compareText } from '../../basics/order.ts';
import type { Drawing, DrawnEntity } from '../../model/drawing.ts';
import type { InputFile } from '../../model/input.ts';
import type { UnreadContent } from '../../model/issue.ts';
import { type LayerRole, layerRole, placesNamed } from '../../model/layer-role.ts';
import type { LookReport, LookTable } from '../../model/look.ts';
import type { Settings } from '../../model/settings.ts';
import { consequence, MOST_LINES, saidUnit, type UnitFit, wallFit } from './drawing-units.ts';
import { drawingViews } from './drawing-views.ts';
import { readFlat } from './read-dxf.ts';
import { type SuggestedView, suggestViews } from './suggest-windows.ts';
import { unreadContent } from './unread-content.ts';

/**
 * What is in a drawing, and what to put in the project file.
 * @throws SealbookError as `readDxf` does
 */
export function lookDxf(file: InputFile, settings: Settings): LookReport {
  const { document, flat, fits, units, query } = readFlat(file, {}, settings);
  const unread = unreadContent(file.key, document, flat);
  const layers = layerTable(
    flat.entities,
    flat.texts.map(({ layer }) => layer),
    settings,
  );
  const { views, isGuessed } = drawingViews({}, flat.texts, file.name, units.mmPerUnit);
  const said = saidUnit(document.insUnits);
  const suggested = suggestViews(flat.entities, flat.texts);
  const inUnits = (valueMm: number) => Math.round((valueMm / units.mmPerUnit) * 100) / 100;
  return {
    file: file.name,
    kind: 'dxf',
    schema: document.version ?? 'DXF',
    facts: [
      { name: 'version', value: document.version ?? 'not said' },
      { name: 'text encoding', value: document.codePage },
      { name: 'unit said', value: said ?? 'none' },
      { name: 'unit likely', value: `${units.unit} (${units.from})` },
      { name: 'view', value: `${views[0]?.view ?? 'plan'}${isGuessed ? ' (guessed)' : ''}` },
      { name: 'lines, arcs and fills', value: String(flat.entities.length) },
      { name: 'blocks placed', value: String(flat.symbols.length) },
      { name: 'texts', value: String(flat.texts.length) },
      { name: 'not used', value: String(unread.reduce((sum, { count }) => sum + count, 0)) },
    ],
    tables: [
      layers,
      unitTable(fits),
      {
        title: 'Titles that name a view',
        columns: ['text', 'view', 'window (drawing units)'],
        rows: suggested.map(({ title, view, windowMm }) => [
          title,
          view,
          windowMm === null ? 'not clear' : windowMm.map(inUnits).join(', '),
        ]),
      },
      unreadTable(unread),
    ],
    advice: [
      ...(query === null ? [] : [`${query.text} ${query.settles}`]),
      ...roleAdvice(flat.entities, settings),
      ...(suggested.length > 1 ? [windowAdvice(suggested, inUnits)] : []),
    ],
  };
}

/** The views as they would stand in the project file. */
function windowAdvice(
  suggested: readonly SuggestedView[],
  inUnits: (valueMm: number) => number,
): string {
  const views = suggested.map(({ view, title, windowMm }) => {
    const window = windowMm === null ? '' : `, window: [${windowMm.map(inUnits).join(', ')}]`;
    return `{ view: ${view}, name: ${JSON.stringify(title)}${window} }`;
  });
  return `Several titles: give each view its window. views: [${views.join(', ')}]`;
}

function roleText(role: LayerRole): string {
  switch (role.role) {
    case 'service':
      return `service: ${role.carrierForm ?? role.kind}`;
    case 'doorOrWindow':
      return 'door or window';
    default:
      return role.role;
  }
}

function layerTable(
  entities: readonly DrawnEntity[],
  textLayers: readonly string[],
  settings: Settings,
): LookTable {
  const counts = new Map<string, { lines: number; texts: number }>();
  const countOf = (layer: string) => {
    const known = counts.get(layer) ?? { lines: 0, texts: 0 };
    counts.set(layer, known);
    return known;
  };
  for (const { layer } of entities) countOf(layer).lines += 1;
  for (const layer of textLayers) countOf(layer).texts += 1;
  return {
    title: 'Layers',
    columns: ['layer', 'lines', 'texts', 'taken as', 'looks like'],
    rows: [...counts]
      .sort(([a], [b]) => compareText(a, b))
      .map(([layer, { lines, texts }]) => {
        const role = layerRole(layer, settings);
        const looks = role.role === 'unknown' ? wallLook(entities, layer, settings) : '';
        return [layer, lines, texts, placesNamed(layer, role) ?? roleText(role), looks];
      }),
  };
}

/** Layers with fewer lines are not judged. */
const FEWEST_LINES = 6;
const PAIRED_RATIO = 0.6;

/** Whether the lines of a layer run in pairs as walls do, in words. */
function wallLook(entities: readonly DrawnEntity[], layer: string, settings: Settings): string {
  const pieces = entities
    .filter((entity) => entity.layer === layer)
    .flatMap(({ loops }) => loops.flatMap((loop) => loop.pieces))
    .slice(0, MOST_LINES);
  if (pieces.length < FEWEST_LINES) return '';
  const { ratio, commonRatio, thicknessesMm } = wallFit(pieces, 1, settings);
  if (ratio * commonRatio < PAIRED_RATIO) return '';
  return `walls: ${Math.round(ratio * 100)} % of its lines run in pairs, ${thicknessesMm.join(', ')} mm apart`;
}

function unitTable(fits: readonly UnitFit[]): LookTable {
  return {
    title: 'Units that the content fits, best first',
    columns: ['unit', 'what it would mean'],
    rows: fits.map((fit) => [fit.unit, consequence(fit)]),
  };
}

function unreadTable(unread: readonly UnreadContent[]): LookTable {
  return {
    title: 'Not used',
    columns: ['type', 'layer', 'count', 'reason'],
    rows: unread.map(({ type, layer, count, reason }) => [type, layer ?? '', count, reason]),
  };
}

function roleAdvice(entities: Drawing['entities'], settings: Settings): string[] {
  const roles = new Set(
    [...new Set(entities.map(({ layer }) => layer))].map(
      (layer) => layerRole(layer, settings).role,
    ),
  );
  const advice: string[] = [];
  if (!roles.has('wall') && !roles.has('slab')) {
    advice.push('No layer looks like walls or slabs by its name: list them under hosts.layers.');
  }
  if (!roles.has('service') && !roles.has('opening')) {
    advice.push(
      'No layer looks like services by its name: list them under services.layers, each with its kind.',
    );
  }
  return advice;
}
