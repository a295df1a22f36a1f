import { execFileSync } from 'node:child_process';
import { IfcParser } from '@ifc-lite/parser';
import { PYTHON } from '../set-up/outside.ts';

/** What a model holds, counted by a reader that shares nothing with the product. */
export interface ModelCounts {
  /** Segments and fittings of cables, cable carriers, ducts and pipes. */
  readonly services: number;
  /** Opening elements and provisions for void. */
  readonly openings: number;
}

const SERVICE_CLASSES = [
  'IFCCABLESEGMENT',
  'IFCCABLEFITTING',
  'IFCCABLECARRIERSEGMENT',
  'IFCCABLECARRIERFITTING',
  'IFCDUCTSEGMENT',
  'IFCDUCTFITTING',
  'IFCPIPESEGMENT',
  'IFCPIPEFITTING',
  // IFC2X3 knows them all by these two.
  'IFCFLOWSEGMENT',
  'IFCFLOWFITTING',
];

/** Counts by `@ifc-lite/parser`: classes from its index, provisions from the records themselves. */
export async function countInModel(bytes: Uint8Array): Promise<ModelCounts> {
  const buffer = new ArrayBuffer(bytes.byteLength);
  new Uint8Array(buffer).set(bytes);
  const store = await new IfcParser().parseColumnar(buffer, { yieldIntervalMs: 1000 });
  const idsOf = (name: string): readonly number[] => [
    ...(store.entityIndex.byType.get(name) ?? []),
  ];
  const services = SERVICE_CLASSES.reduce((sum, name) => sum + idsOf(name).length, 0);
  const text = new TextDecoder().decode(bytes);
  const provisions = [...idsOf('IFCBUILDINGELEMENTPROXY'), ...idsOf('IFCVIRTUALELEMENT')].filter(
    (id) => isProvision(recordOf(text, id)),
  );
  return { services, openings: idsOf('IFCOPENINGELEMENT').length + provisions.length };
}

function recordOf(text: string, id: number): string {
  const start = text.indexOf(`#${id}=`);
  return start < 0 ? '' : text.slice(start, text.indexOf(';', start));
}

/** By type from IFC4 on, by convention in the object type before. */
function isProvision(record: string): boolean {
  return /\.PROVISIONFORVOID\.|'ProvisionForVoid'/.test(record);
}

/** Entities of the model space by layer, counted by ezdxf. */
export function countByLayer(path: string): Readonly<Record<string, number>> {
  const script = [
    'import ezdxf, json, sys, collections',
    'drawing = ezdxf.readfile(sys.argv[1])',
    'print(json.dumps(collections.Counter(e.dxf.layer for e in drawing.modelspace())))',
  ].join('\n');
  return JSON.parse(execFileSync(PYTHON, ['-c', script, path], { encoding: 'utf8' })) as Readonly<
    Record<string, number>
  >;
}

/**
 * Rows of a cable workbook that are cables, by sheet, counted by openpyxl: below the row that holds
 * both headings, a text in the column of references and one in the column of types, status or ends.
 */
export function countCables(
  path: string,
  headings: readonly {
    readonly sheet: string;
    readonly reference: string;
    readonly status: string;
  }[],
): Readonly<Record<string, number>> {
  const script = [
    'import openpyxl, json, sys',
    'book = openpyxl.load_workbook(sys.argv[1], data_only=True)',
    'counts = {}',
    'for wanted in json.loads(sys.argv[2]):',
    '    columns = None',
    '    counts[wanted["sheet"]] = 0',
    '    for row in book[wanted["sheet"]].iter_rows(values_only=True):',
    '        cells = ["" if cell is None else str(cell).strip() for cell in row]',
    '        if columns is None:',
    '            if wanted["reference"] in cells and wanted["status"] in cells:',
    '                columns = (cells.index(wanted["reference"]), cells.index(wanted["status"]))',
    '        elif all(cells[column] for column in columns):',
    '            counts[wanted["sheet"]] += 1',
    'print(json.dumps(counts))',
  ].join('\n');
  const output = execFileSync(PYTHON, ['-c', script, path, JSON.stringify(headings)], {
    encoding: 'utf8',
  });
  return JSON.parse(output) as Readonly<Record<string, number>>;
}
