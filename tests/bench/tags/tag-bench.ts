import type { IfcTagEdit } from '../../../src/model/tag-edit.ts';
import { planIfcTags } from '../../../src/write/ifc-tags/plan-ifc-tags.ts';

const MEBIBYTE = 2 ** 20;

export interface TagBench {
  readonly modelMb: number;
  readonly edits: number;
  /** A loop over every byte that does nothing but add them up. */
  readonly scanMs: number;
  readonly planMs: number;
  readonly timeRatio: number;
  /** Resident memory at its highest, over the size of the model. */
  readonly memoryRatio: number;
  readonly patches: number;
}

/**
 * Plans the tags of a large model and sets it against one scan over its bytes. The patches refer to
 * the model's own bytes, so that the file layer can write them part by part.
 */
export function benchIfcTags(modelMb = 200, editCount = 2000): TagBench {
  const bytes = largeModel(modelMb * MEBIBYTE, editCount);
  const before = process.memoryUsage().rss - bytes.length;
  const scanMs = timed(() => scan(bytes));
  const edits = Array.from({ length: editCount }, (_, at) => editOf(at));
  let patches = 0;
  let highest = process.memoryUsage().rss;
  const planMs = timed(() => {
    patches = planIfcTags(bytes, edits, {
      fileKey: 'large',
      seals: true,
      provisions: false,
      frame: null,
    }).patches.length;
    highest = Math.max(highest, process.memoryUsage().rss);
  });
  return {
    modelMb,
    edits: editCount,
    scanMs,
    planMs,
    timeRatio: planMs / scanMs,
    memoryRatio: (highest - before) / bytes.length,
    patches,
  };
}

/** Processor time, ms, which other work on the machine changes less than time on the clock. */
function timed(work: () => void): number {
  const start = process.cpuUsage();
  work();
  const { user, system } = process.cpuUsage(start);
  return (user + system) / 1000;
}

/** What any reader has to do at the least: look at every byte. */
function scan(bytes: Uint8Array): number {
  let total = 0;
  for (let at = 0; at < bytes.length; at++) total = (total + (bytes[at] ?? 0)) | 0;
  return total;
}

const guid = (kind: string, at: number) => `${kind}${String(at).padStart(20, '0')}$`;

function editOf(at: number): IfcTagEdit {
  return {
    tag: `L01-${String(at).padStart(4, '0')}`,
    openingIds: [guid('O', at)],
    serviceIds: [],
    hostIds: [guid('W', at)],
    fields: [{ name: 'Tag', value: { kind: 'identifier', text: `L01-${at}` } }],
    quantities: [{ name: 'SealantNet', value: { kind: 'volumeMl', value: 288.9 } }],
    seal: 'sealant, 20 mm deep, one face',
    missing: null,
  };
}

/** Walls with openings among the points, directions and faces that fill a real model. */
function largeModel(size: number, count: number): Uint8Array {
  const encoder = new TextEncoder();
  const head =
    "ISO-10303-21;\nHEADER;\nFILE_SCHEMA(('IFC4'));\nENDSEC;\nDATA;\n#1=IFCPROJECT('1eA6m4fELI9QBIhP3wiLAp',$,'P',$,$,$,$,$,$);\n";
  const bytes = new Uint8Array(size);
  let at = encoder.encodeInto(head, bytes).written;
  let id = 2;
  let element = 0;
  const end = 'ENDSEC;\nEND-ISO-10303-21;\n';
  while (at < size - 2000) {
    let block = '';
    if (element < count) {
      block += `#${id}=IFCWALL('${guid('W', element)}',$,'Wall',$,$,$,$,$,$);\n#${id + 1}=IFCOPENINGELEMENT('${guid('O', element)}',$,'Opening',$,$,$,$,$,$);\n#${id + 2}=IFCRELVOIDSELEMENT('${guid('R', element)}',$,$,$,#${id},#${id + 1});\n`;
      id += 3;
      element += 1;
    }
    for (let i = 0; i < 12; i++) {
      block += `#${id}=IFCCARTESIANPOINT((${id % 977}.125,${id % 613}.5,3000.));\n`;
      id += 1;
    }
    at += encoder.encodeInto(block, bytes.subarray(at)).written;
  }
  bytes.fill(32, at, size - end.length);
  encoder.encodeInto(end, bytes.subarray(size - end.length));
  return bytes;
}
