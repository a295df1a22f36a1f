import { makeQuery, type Query } from '../../basics/query.ts';
import { sizeText } from '../../geometry/shape.ts';
import type { Section } from '../../model/building.ts';
import type { Drawing } from '../../model/drawing.ts';
import type { Penetration } from '../../model/penetration.ts';
import type { SizeChoice } from './crossing-draft.ts';
import type { Twin } from './drawn-twice.ts';
import type { HostBands } from './host-bands.ts';
import type { OpeningDraft } from './openings.ts';
import type { Sheet } from './sheet.ts';
import type { SheetItem } from './sheet-item.ts';

/** What must be asked about the size of one thing that passes. */
export function sizeQueries(penetration: Penetration, item: SheetItem, size: SizeChoice): Query[] {
  const about = { penetrationId: penetration.id, about: `${penetration.id}/${item.id}` };
  const what = `the ${item.symbol?.blockName ?? item.type} on layer ${item.layer}`;
  const queries: Query[] = [];
  if (size.section === null) {
    queries.push(
      makeQuery('size-unknown', {
        ...about,
        text: `Nothing tells the size of ${what}.`,
        why: 'Without its size the seal cannot be designed.',
        settles: 'The outside size of this service, as a label, an attribute or an answer.',
        evidence: penetration.evidence,
      }),
    );
    return queries;
  }
  if (size.rival !== null) {
    const { label, section } = size.rival;
    queries.push(
      makeQuery('size-conflict', {
        ...about,
        text: `Two sizes are as near ${what}: ${sectionText(size.section)} and ${sectionText(section)} ("${label.text}").`,
        why: 'One of them is wrong or belongs to another service.',
        settles: 'Which size is right.',
        evidence: [
          ...size.evidence,
          {
            fact: 'size',
            text: label.text,
            place: { fileKey: label.ref.fileKey, id: label.ref.id },
          },
        ],
      }),
    );
  }
  if (size.basis === 'nominal') {
    queries.push(
      makeQuery('size-nominal', {
        ...about,
        text: `${sectionText(size.section)} is a nominal size: bore and outside of ${what} are not given.`,
        why: 'Bore and outside decide what fits and how wide the gap round it is.',
        settles: 'The series, or outside and bore, of this service.',
        evidence: size.evidence,
      }),
    );
  }
  return queries;
}

function sectionText(section: Section): string {
  return section.type === 'circle'
    ? `${sizeText(section.diameterMm)} dia`
    : `${sizeText(section.widthMm)} × ${sizeText(section.heightMm)}`;
}

/** What must be asked about a penetration as a whole. */
export function penetrationQueries(
  penetration: Penetration,
  opening: OpeningDraft | null,
): Query[] {
  const about = { penetrationId: penetration.id, about: penetration.id };
  const queries: Query[] = [];
  const { kind, crossings, shape, evidence, hosts } = penetration;
  if (kind === 'unopened') {
    queries.push(
      makeQuery('service-without-opening', {
        ...about,
        text: 'A service goes through and no opening is drawn.',
        why: 'The hole must be made, or the drawing is behind what is built.',
        settles: 'The size of the opening, or word that it is cored to suit.',
        evidence,
      }),
    );
  }
  if (kind === 'opening' && crossings.length === 0) {
    queries.push(
      makeQuery('opening-without-service', {
        ...about,
        text: 'An opening is drawn and no service goes through it in this drawing.',
        why: 'It may be spare, or its service is on a drawing that is not here.',
        settles: 'What passes, or word that it is closed for now.',
        evidence,
      }),
    );
  }
  if (opening !== null && shape === null) {
    queries.push(
      makeQuery('size-unknown', {
        ...about,
        text: `The plan shows the opening's width (${sizeText(opening.halfWidthMm * 2)} mm), not its height.`,
        why: 'Without its shape the seal cannot be designed.',
        settles: 'Width and height of the opening, as a label or an answer.',
        evidence,
      }),
    );
  }
  if (hosts.some(({ thicknessMm }) => thicknessMm === 0)) {
    queries.push(
      makeQuery('host-thickness-unknown', {
        ...about,
        text: `This view shows the face of the ${hosts[0]?.kind ?? 'wall'}, not how thick it is.`,
        why: 'The depth decides how fillers and sealant fit, and which evidence applies.',
        settles: 'The thickness, as a text such as "300 thk" on the face, a plan, or an answer.',
        evidence,
      }),
    );
  }
  return queries;
}

export function hostlessQuery(item: SheetItem): Query {
  return makeQuery('opening-without-host', {
    about: item.id,
    text: `An opening on layer ${item.layer} lies in no wall or slab of this view.`,
    why: 'What it goes through decides the seal.',
    settles: 'The wall or slab it belongs to, on a layer that counts as host.',
    evidence: [
      {
        fact: 'opening',
        text: `${item.type} on layer ${item.layer}`,
        place: { fileKey: item.ref.fileKey, id: item.ref.id },
      },
    ],
  });
}

/** What must be asked about the view: its level, and layers that tell nothing. */
export function viewQueries(
  sheet: Sheet,
  hosts: HostBands,
  penetrations: readonly Penetration[],
): Query[] {
  const { drawing, view } = sheet;
  const about = view.name === null ? drawing.fileKey : `${drawing.fileKey}/${view.name}`;
  const queries: Query[] = [];
  const place = { fileKey: drawing.fileKey };
  const isLevelUnknown = view.elevationMm === null && view.base === null;
  if (view.view === 'plan' && isLevelUnknown && penetrations.length > 0) {
    queries.push(
      makeQuery('drawing-level-unknown', {
        about,
        text: `${drawing.name}: nothing tells at which level this plan lies; heights are given above 0.`,
        why: 'Water heads and the merging with sections and models need the height.',
        settles: `level and elevationMm under files.${drawing.fileKey} in the project file.`,
        evidence: [{ fact: 'level', text: 'no level given', place }],
      }),
    );
  }
  const twins = [...sheet.twins.services, ...sheet.twins.openings];
  if (twins.length > 0) queries.push(drawnTwiceQuery(about, sheet, twins));
  const hasHosts = hosts.bands.length > 0 || sheet.walls.length > 0 || sheet.slabs.length > 0;
  const hasServices = sheet.services.length > 0 || sheet.openings.length > 0;
  const lacks = [...(hasHosts ? [] : ['walls or slabs']), ...(hasServices ? [] : ['services'])];
  if (sheet.guesses.length > 0) {
    queries.push(
      makeQuery('drawing-layers-unknown', {
        about,
        text: `${drawing.name}: the layers do not tell what is on them. Taken: ${sheet.guesses.join('; ')}.`,
        why: 'All that was found in this drawing rests on it.',
        settles:
          'Word that this is right, or hosts.layers and services.layers in the project file.',
        evidence: sheet.guesses.map((text) => ({ fact: 'layers', text, place })),
      }),
    );
  } else if (lacks.length > 0 && drawing.entities.length > 0) {
    queries.push(
      makeQuery('drawing-layers-unknown', {
        about,
        text: `${drawing.name}: no ${lacks.join(' and no ')} found on layers whose names tell what is on them.`,
        why: 'No penetration can be found where the drawing does not tell hosts and services apart.',
        settles:
          'hosts.layers and services.layers in the project file; "sealbook look" lists the layers with a guess for each.',
        evidence: [{ fact: 'layers', text: layersText(drawing), place }],
      }),
    );
  }
  return queries;
}

function drawnTwiceQuery(about: string, sheet: Sheet, twins: readonly Twin<SheetItem>[]): Query {
  const { fileKey, name } = sheet.drawing;
  const shown = twins.slice(0, 5);
  const more = twins.length > shown.length ? ` and ${twins.length - shown.length} more` : '';
  const pairs = shown.map(({ item, first }) => `${item.ref.id} on ${first.ref.id}`).join(', ');
  return makeQuery('duplicate-element', {
    about: `${about}/drawn-twice`,
    text: `${name}: ${twins.length} services or openings are drawn again on the same spot (${pairs}${more}); each spot counts once.`,
    why: 'Counted twice, they would make holes or services that are not there.',
    settles: 'Nothing, if they are the same; else the place of the second one.',
    evidence: shown.map(({ item, first }) => ({
      fact: 'duplicate',
      text: `Drawn the same as ${first.ref.id}.`,
      place: { fileKey, id: item.ref.id },
    })),
  });
}

function layersText(drawing: Drawing): string {
  const counts = new Map<string, number>();
  for (const { layer } of drawing.entities) counts.set(layer, (counts.get(layer) ?? 0) + 1);
  const most = [...counts].sort(([, a], [, b]) => b - a).slice(0, 8);
  return most.map(([layer, count]) => `${layer} (${count})`).join(', ');
}
