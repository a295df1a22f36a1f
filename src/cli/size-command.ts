import path from 'node:path';
import { Command, Option } from 'commander';
import { SealbookError } from '../basics/errors.ts';
import { readInput } from '../files/read-input.ts';
import { writeOutputs } from '../files/write-outputs.ts';
import type { Shape } from '../geometry/shape.ts';
import type { Effort } from '../model/arrangement.ts';
import { parseCables, parseLength, parseOpening } from '../pipeline/size-words.ts';
import { sizeText } from './size-text.ts';
import { answer, say } from './terminal.ts';

interface SizeOptions {
  readonly cables?: string;
  readonly separation?: string;
  readonly edge?: string;
  readonly bare?: boolean;
  readonly range?: string;
  readonly effort: Effort;
  readonly drawing: readonly string[];
  readonly from?: string;
  readonly outline?: string;
  readonly json?: boolean;
}

const FROM_LIMIT_MB = 16;
const DRAWING_WIDTH_PX = 1600;

/** `sealbook size 150 --cables 3x37,12`: one opening, no project. */
export function sizeCommand(): Command {
  const collect = (value: string, before: readonly string[]) => [...before, value];
  return new Command('size')
    .description('designs one seal from an opening and its cables: "150" or "300x200", in mm')
    .argument('[opening]', 'diameter, or width x height, in mm')
    .option('--cables <list>', 'diameters in mm: 3x37,12 is three of 37 and one of 12')
    .option('--separation <mm>', 'between the cables')
    .option('--edge <mm>', 'from the cables to the wall')
    .option('--bare', 'leave the split tubes off the cables')
    .option('--range <file>', 'range of fillers and sealants')
    .addOption(
      new Option('--effort <tier>', 'how long to search')
        .choices(['quick', 'normal', 'thorough'])
        .default('normal'),
    )
    .option(
      '--drawing <file>',
      'write the cross-section, .svg or .png (may be given twice)',
      collect,
      [],
    )
    .option(
      '--from <file>',
      'opening and contents from a YAML or JSON file: any shape, bundles, fixed contents',
    )
    .option(
      '--outline <file.dxf[:handle]>',
      'opening from a closed polyline, circle or ellipse of a drawing; with --cables',
    )
    .option('--json', 'print the seal as JSON')
    .action(size);
}

async function size(opening: string | undefined, options: SizeOptions): Promise<void> {
  const { openRange } = await import('../pipeline/open-project.ts');
  const { sizeJson, sizeOpening, sizeSvg, sizeTakeOff } = await import(
    '../pipeline/size-opening.ts'
  );
  const { readRangeFile } = await import('./load-project.ts');
  const { svgToPng } = await import('./node-platform.ts');
  const drawings = options.drawing.map(drawingTarget);
  const task = await taskOf(opening, options);
  const { range } = openRange(await readRangeFile(options.range ?? null));
  const seal = sizeOpening({
    ...task,
    range,
    bare: options.bare ?? false,
    effort: options.effort,
  });
  const svg = drawings.length > 0 ? sizeSvg(seal) : '';
  for (const { folder, name, isPng } of drawings) {
    const bytes = isPng ? await svgToPng(svg, DRAWING_WIDTH_PX) : new TextEncoder().encode(svg);
    const inputs = [options.from, options.range, options.outline].filter(
      (each) => each !== undefined,
    );
    const [written] = await writeOutputs(folder, [{ name, bytes }], inputs);
    say(`Written: ${written}`);
  }
  answer(
    options.json
      ? JSON.stringify(sizeJson(seal, range), null, 2)
      : sizeText(seal, range, sizeTakeOff(seal, range)),
  );
}

async function taskOf(opening: string | undefined, options: SizeOptions) {
  const separationMm =
    options.separation === undefined ? null : parseLength('--separation', options.separation);
  const edgeMm = options.edge === undefined ? null : parseLength('--edge', options.edge);
  if (options.from !== undefined) {
    if (opening !== undefined || options.cables !== undefined) {
      throw new SealbookError(
        'usage',
        'With --from, the opening and its cables come from the file.',
        {
          todo: 'Leave the opening and --cables off, or leave --from off.',
        },
      );
    }
    const { openOpening } = await import('../pipeline/open-project.ts');
    const bytes = await readInput(options.from, FROM_LIMIT_MB);
    const task = openOpening({ key: 'opening', name: path.basename(options.from), bytes });
    return {
      ...task,
      separationMm: separationMm ?? task.separationMm,
      edgeMm: edgeMm ?? task.edgeMm,
    };
  }
  if (options.outline !== undefined) {
    if (opening !== undefined) {
      throw new SealbookError('usage', 'With --outline, the opening comes from the drawing.', {
        todo: 'Leave the opening off, or leave --outline off.',
      });
    }
    const bodies = parseCables(options.cables ?? '');
    return { opening: await drawnOutline(options.outline), bodies, separationMm, edgeMm };
  }
  if (opening === undefined) {
    throw new SealbookError('usage', 'No opening was given.', {
      todo: 'Give a diameter or width x height: sealbook size 150 --cables 3x37,12.',
    });
  }
  const bodies = parseCables(options.cables ?? '');
  return { opening: parseOpening(opening), bodies, separationMm, edgeMm };
}

/** "opening.dxf", or "opening.dxf:2F" for the outline with that handle. */
async function drawnOutline(text: string): Promise<Shape> {
  const { openOutline } = await import('../pipeline/open-project.ts');
  const [, file = text, handle] = /^(.*\.dxf):([0-9A-Fa-f]+)$/i.exec(text) ?? [];
  const bytes = await readInput(file, FROM_LIMIT_MB);
  return openOutline({ key: 'outline', name: path.basename(file), bytes }, handle ?? null);
}

interface DrawingTarget {
  readonly folder: string;
  readonly name: string;
  readonly isPng: boolean;
}

function drawingTarget(file: string): DrawingTarget {
  const ending = path.extname(file).toLowerCase();
  if (ending !== '.svg' && ending !== '.png') {
    throw new SealbookError('usage', `${file} is neither .svg nor .png.`, {
      todo: 'Name the drawing with the ending of the form it should have.',
    });
  }
  return { folder: path.dirname(file), name: path.basename(file), isPng: ending === '.png' };
}
