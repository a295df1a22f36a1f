import type { IfcTagEdit } from '../../../src/model/tag-edit.ts';

/**
 * Edits for any IFC file, made from its text with regular expressions only, so that they share
 * nothing with the code under test. Names carry what is hard to write: quotes, comment signs,
 * letters beyond ASCII.
 */
export function sampleIfcEdits(bytes: Uint8Array, most = 12): IfcTagEdit[] {
  const content = new TextDecoder('latin1').decode(bytes);
  const openings = globalIdsOf(content, 'OPENINGELEMENT|OPENINGSTANDARDCASE', most);
  const hosts = globalIdsOf(content, 'WALL|WALLSTANDARDCASE|SLAB', most);
  const services = globalIdsOf(
    content,
    'FLOWSEGMENT|PIPESEGMENT|DUCTSEGMENT|CABLESEGMENT|CABLECARRIERSEGMENT|FLOWTERMINAL',
    most,
  );
  const count = Math.max(openings.length, services.length, Math.min(hosts.length, 3));
  return Array.from({ length: count }, (_, at) => ({
    tag: `L01-${String(at + 1).padStart(4, '0')}`,
    openingIds: openings.slice(at, at + 1),
    serviceIds: services.slice(at, at + 1),
    hostIds: hosts.slice(at % Math.max(hosts.length, 1), (at % Math.max(hosts.length, 1)) + 1),
    fields: [
      { name: 'Tag', value: { kind: 'identifier', text: `L01-${at + 1}` } },
      {
        name: 'Remark',
        value: { kind: 'text', text: `Wand Süd – "Ø 110" it's \\ */ ; 墙 😀 #1=` },
      },
      { name: 'SetBack', value: { kind: 'lengthMm', value: 20 } },
      { name: 'Cables', value: { kind: 'labels', texts: ['C-01', 'C-02'] } },
      { name: 'FillRatio', value: { kind: 'ratio', value: 0.1825 } },
    ],
    quantities: [
      { name: 'SealantNet', value: { kind: 'volumeMl', value: 288.9 } },
      { name: 'FreeArea', value: { kind: 'areaMm2', value: 14445.8 } },
      { name: 'Fillers', value: { kind: 'count', value: 11 } },
    ],
    seal: 'round the services: sealant, 20 mm deep, one face',
    missing:
      openings[at] === undefined
        ? {
            shape: { type: 'circle', diameterMm: 150 },
            frame: {
              originMm: [1000 * at, 2000, 3000],
              axis: [0, 1, 0],
              right: [1, 0, 0],
              up: [0, 0, 1],
            },
            depthMm: 200,
            systems: ['LV'],
          }
        : null,
  }));
}

function globalIdsOf(content: string, classes: string, most: number): string[] {
  const records = content.matchAll(
    new RegExp(`=\\s*IFC(?:${classes})\\s*\\(\\s*'([0-9A-Za-z_$]{22})'`, 'g'),
  );
  const counts = new Map<string, number>();
  for (const [, id] of records) if (id !== undefined) counts.set(id, (counts.get(id) ?? 0) + 1);
  return [...counts]
    .filter(([, count]) => count === 1)
    .map(([id]) => id)
    .slice(0, most);
}
