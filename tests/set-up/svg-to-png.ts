import path from 'node:path';
import { Resvg } from '@resvg/resvg-js';
import { repoRoot } from './outside.ts';

const fonts = path.join(repoRoot, 'node_modules/dejavu-fonts-ttf/ttf');

/** A drawing as a picture of the given width, with the fonts that the drawings are laid out for. */
export function svgToPng(svg: string, widthPx: number): Uint8Array {
  const renderer = new Resvg(svg, {
    fitTo: { mode: 'width', value: widthPx },
    font: {
      loadSystemFonts: false,
      fontFiles: ['DejaVuSans.ttf', 'DejaVuSans-Bold.ttf'].map((file) => path.join(fonts, file)),
      defaultFontFamily: 'DejaVu Sans',
    },
  });
  return renderer.render().asPng();
}

/** The same, with a turn of the event loop after each, in which the renderer's memory is freed. */
export async function svgToPngInTurn(svg: string, widthPx: number): Promise<Uint8Array> {
  const png = svgToPng(svg, widthPx);
  await new Promise((resolve) => setImmediate(resolve));
  return png;
}
