/**
 * A text DXF of about `megabytes`: rooms of two-line walls with conduits through them, labels, and
 * the lines, polylines, circles and texts of a busy plan round them. The same bytes every time.
 */
export function makeLargeDrawing(megabytes: number): Uint8Array<ArrayBuffer> {
  const parts: string[] = [HEADER];
  let size = HEADER.length;
  let handle = 0x100;
  const add = (text: string) => {
    parts.push(text);
    size += text.length;
  };
  const next = () => (handle++).toString(16).toUpperCase();
  for (let room = 0; size < megabytes * 1_000_000; room++) {
    const x = (room % 100) * 12_000;
    const y = Math.floor(room / 100) * 12_000;
    for (const at of [0, 200]) {
      add(line(next(), 'A-WALL', x, y + at, x + 10_000, y + at));
      add(line(next(), 'A-WALL', x + at, y + 200, x + at, y + 9000));
    }
    for (let i = 0; i < 4; i++) {
      const at = x + 1500 + i * 2000;
      add(line(next(), 'E-CNDT', at, y - 800, at, y + 1200));
      add(text(next(), 'E-TEXT', at + 40, y + 500, `D-${room}-${i} ${20 + i * 15} dia`));
    }
    for (let i = 0; i < 120; i++) {
      const at = y + 1500 + i * 50;
      add(line(next(), 'A-FURN', x + 600, at, x + 3000 + i * 10, at + 37.5));
      add(polyline(next(), 'A-FLOR', x + 3500, at, i));
      add(circle(next(), 'A-FURN', x + 8000 + (i % 5) * 150, at, 30 + i));
    }
    for (let i = 0; i < 10; i++)
      add(text(next(), 'A-NOTE', x + 5000, y + 2000 + i * 300, `Room ${room}`));
  }
  add('  0\nENDSEC\n  0\nEOF\n');
  return new TextEncoder().encode(parts.join(''));
}

const HEADER =
  '  0\nSECTION\n  2\nHEADER\n  9\n$ACADVER\n  1\nAC1027\n  9\n$INSUNITS\n 70\n     4\n  0\nENDSEC\n' +
  '  0\nSECTION\n  2\nENTITIES\n';

function head(type: string, handle: string, layer: string, subclass: string): string {
  return `  0\n${type}\n  5\n${handle}\n330\n1F\n100\nAcDbEntity\n  8\n${layer}\n100\n${subclass}\n`;
}

function line(handle: string, layer: string, x1: number, y1: number, x2: number, y2: number) {
  return `${head('LINE', handle, layer, 'AcDbLine')} 10\n${x1.toFixed(4)}\n 20\n${y1.toFixed(4)}\n 30\n0.0\n 11\n${x2.toFixed(4)}\n 21\n${y2.toFixed(4)}\n 31\n0.0\n`;
}

function circle(handle: string, layer: string, x: number, y: number, radius: number) {
  return `${head('CIRCLE', handle, layer, 'AcDbCircle')} 10\n${x.toFixed(4)}\n 20\n${y.toFixed(4)}\n 30\n0.0\n 40\n${radius.toFixed(4)}\n`;
}

function text(handle: string, layer: string, x: number, y: number, value: string) {
  return `${head('TEXT', handle, layer, 'AcDbText')} 10\n${x.toFixed(4)}\n 20\n${y.toFixed(4)}\n 30\n0.0\n 40\n100.0\n  1\n${value}\n100\nAcDbText\n`;
}

function polyline(handle: string, layer: string, x: number, y: number, seed: number) {
  let out = `${head('LWPOLYLINE', handle, layer, 'AcDbPolyline')} 90\n        6\n 70\n     0\n`;
  for (let i = 0; i < 6; i++) {
    out += ` 10\n${(x + i * 300).toFixed(4)}\n 20\n${(y + ((i * seed) % 7) * 20).toFixed(4)}\n`;
  }
  return out;
}
