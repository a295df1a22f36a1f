import { readFileSync } from 'node:fs';
import { createRequire } from 'node:module';
import path from 'node:path';
import { Resvg } from '@resvg/resvg-js';
import type { OnProgress } from '../basics/progress.ts';
import { sha256 } from '../files/read-input.ts';
import type { Platform } from '../pipeline/platform.ts';
import { watchReading } from './watch-reading.ts';

/** What the core needs from Node: hashes, pictures, and where progress goes. */
export function nodePlatform(onProgress: OnProgress | null): Platform {
  return {
    sha256,
    svgToPng,
    nowMs: () => performance.now(),
    watchReading,
    ...(onProgress ? { onProgress } : {}),
  };
}

let fontFiles: string[] | null = null;

/**
 * The picture of an SVG. Our own font is loaded and no other, so that pictures are equal everywhere.
 * A turn of the event loop follows each: only then is the renderer's memory freed (4 MB a picture).
 */
export async function svgToPng(svg: string, widthPx: number): Promise<Uint8Array> {
  fontFiles ??= findFonts();
  const picture = new Resvg(svg, {
    fitTo: { mode: 'width', value: widthPx },
    font: { fontFiles, loadSystemFonts: false, defaultFontFamily: 'DejaVu Sans' },
  });
  const png = picture.render().asPng();
  await new Promise((resolve) => setImmediate(resolve));
  return png;
}

function findFonts(): string[] {
  const folder = path.dirname(
    createRequire(import.meta.url).resolve('dejavu-fonts-ttf/package.json'),
  );
  return ['DejaVuSans.ttf', 'DejaVuSans-Bold.ttf']
    .map((name) => path.join(folder, 'ttf', name))
    .filter((file) => readFileSync(file).length > 0);
}
