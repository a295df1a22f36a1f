import type { DrawnText, DrawnView } from '../../model/drawing.ts';
import type { DrawingView, ProjectFile } from '../../model/settings.ts';

/** What the project file says of a drawing; where it lies does not matter here. */
export type DrawingFileSettings = Partial<Extract<ProjectFile, { kind: 'dxf' }>>;

/** The views of a drawing as the project file gives them, else one view guessed from its titles. */
export function drawingViews(
  fileSettings: DrawingFileSettings,
  texts: readonly DrawnText[],
  fileName: string,
  mmPerUnit: number,
): { readonly views: readonly DrawnView[]; readonly isGuessed: boolean } {
  if (fileSettings.views !== undefined && fileSettings.views.length > 0) {
    return {
      views: fileSettings.views.map((view) => givenView(view, fileSettings, mmPerUnit)),
      isGuessed: false,
    };
  }
  const view = fileSettings.view ?? guessView(texts, fileName);
  return {
    views: [
      {
        view,
        name: null,
        windowMm: null,
        level: fileSettings.level ?? null,
        elevationMm: fileSettings.elevationMm ?? null,
        serviceHeightMm: null,
        base: null,
        datum: null,
      },
    ],
    isGuessed: fileSettings.view === undefined,
  };
}

function givenView(
  view: DrawingView,
  fileSettings: DrawingFileSettings,
  mmPerUnit: number,
): DrawnView {
  const hasBase = view.basePoint !== undefined || view.atMm !== undefined;
  const [bx, by] = view.basePoint ?? [0, 0];
  return {
    view: view.view,
    name: view.name ?? null,
    windowMm: view.window === undefined ? null : scaledWindow(view.window, mmPerUnit),
    level: view.level ?? fileSettings.level ?? null,
    elevationMm: view.elevationMm ?? fileSettings.elevationMm ?? null,
    serviceHeightMm: view.serviceHeightMm ?? null,
    base: hasBase
      ? { pointMm: [bx * mmPerUnit, by * mmPerUnit], atMm: view.atMm ?? [0, 0, 0] }
      : null,
    datum:
      view.datum === undefined
        ? null
        : { yMm: view.datum.y * mmPerUnit, heightMm: view.datum.heightMm },
  };
}

function scaledWindow(
  [x1, y1, x2, y2]: readonly [number, number, number, number],
  mmPerUnit: number,
): [number, number, number, number] {
  return [
    Math.min(x1, x2) * mmPerUnit,
    Math.min(y1, y2) * mmPerUnit,
    Math.max(x1, x2) * mmPerUnit,
    Math.max(y1, y2) * mmPerUnit,
  ];
}

const TITLES: readonly (readonly [DrawnView['view'], RegExp])[] = [
  [
    'section',
    /\b(?:SECTION|SCHNITT|COUPE|SECCI[OÓ]N|SEZIONE|DOORSNEDE|SEKTION|SNITT|CORTE)\b|РАЗРЕЗ/i,
  ],
  [
    'elevation',
    /\b(?:ELEVATION|ANSICHT|[ÉE]L[ÉE]VATION|ALZADO|PROSPETTO|GEVEL|FASAD|FACADE|FAÇADE)\b|ФАСАД/i,
  ],
  ['plan', /\b(?:PLAN|LAYOUT|GRUNDRISS|PLANTA|PIANTA|PLATTEGROND|GROUND FLOOR|FLOOR PLAN)\b|ПЛАН/i],
];

/** Which kind of view a title names, or null. "Elevation +2.400" is a height, not a title. */
export function titledView(text: string): DrawnView['view'] | null {
  if (text.length > 80 || /\bELEV(?:ATION)?\.?\s*[=:+\-\d]/i.test(text)) return null;
  const kinds = TITLES.filter(([, pattern]) => pattern.test(text)).map(([view]) => view);
  // "PLAN AND SECTIONS" names a sheet, not a view.
  return kinds.length === 1 ? (kinds[0] ?? null) : null;
}

function guessView(texts: readonly DrawnText[], fileName: string): DrawnView['view'] {
  const titles = texts
    .map(({ text, heightMm }) => ({ view: titledView(text.trim()), heightMm }))
    .filter(({ view }) => view !== null)
    .sort((a, b) => b.heightMm - a.heightMm);
  const [largest] = titles;
  const rivals = titles.filter((title) => title.heightMm === largest?.heightMm);
  if (largest?.view && rivals.every(({ view }) => view === largest.view)) return largest.view;
  return titledView(fileName.replace(/\.[^.]*$/, '').replace(/[-_.]/g, ' ')) ?? 'plan';
}
