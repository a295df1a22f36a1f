/** The picture of an SVG, drawn by the browser with its own fonts. */
export async function drawSvg(svg: string, widthPx: number): Promise<ImageBitmap> {
  const address = URL.createObjectURL(new Blob([svg], { type: 'image/svg+xml' }));
  try {
    const image = new Image();
    image.src = address;
    await image.decode();
    const heightPx = Math.max(1, Math.round((widthPx * image.height) / Math.max(1, image.width)));
    const canvas = new OffscreenCanvas(widthPx, heightPx);
    canvas.getContext('2d')?.drawImage(image, 0, 0, widthPx, heightPx);
    return canvas.transferToImageBitmap();
  } finally {
    URL.revokeObjectURL(address);
  }
}
