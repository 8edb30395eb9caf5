import { crc32, deflateSync } from "node:zlib";

const width = 360;
const height = 96;
const edge = 6;
/** Paper, rule, ink, limit: as on the page. */
const palette = [0xf4f3ef, 0xd5d2c9, 0x222222, 0xa3161b] as const;
type Ink = 0 | 1 | 2 | 3;

function chunk(type: string, data: Buffer): Buffer {
  const body = Buffer.concat([Buffer.from(type, "latin1"), data]);
  const framed = Buffer.alloc(body.length + 8);
  framed.writeUInt32BE(data.length, 0);
  body.copy(framed, 4);
  framed.writeUInt32BE(crc32(body), body.length + 4);
  return framed;
}

/** A picture of palette colours as PNG (ISO/IEC 15948). */
function pngOf(pixels: Uint8Array): Buffer {
  const head = Buffer.alloc(13);
  head.writeUInt32BE(width, 0);
  head.writeUInt32BE(height, 4);
  // 8 bits a pixel, from a palette.
  head.set([8, 3, 0, 0, 0], 8);
  const colours = Buffer.from(palette.flatMap((rgb) => [rgb >> 16, (rgb >> 8) & 0xff, rgb & 0xff]));
  const rows = Buffer.alloc((width + 1) * height);
  for (let y = 0; y < height; y += 1)
    rows.set(pixels.subarray(y * width, (y + 1) * width), y * (width + 1) + 1);
  return Buffer.concat([
    Buffer.from("89504e470d0a1a0a", "hex"),
    chunk("IHDR", head),
    chunk("PLTE", colours),
    chunk("IDAT", deflateSync(rows)),
    chunk("IEND", Buffer.alloc(0)),
  ]);
}

/** A curve of evenly spaced values, null where there is none, with a limit as a line; null where there is no value at all. */
export function sketch(values: readonly (number | null)[], limit: number | null): Buffer | null {
  const known = values.filter((value) => value !== null);
  if (known.length === 0) return null;
  const all = limit === null ? known : [...known, limit];
  const [low, high] = [Math.min(...all), Math.max(...all)];
  const spread = high - low || 1;
  const yOf = (value: number) =>
    Math.round(height - 1 - edge - ((value - low) / spread) * (height - 1 - 2 * edge));
  const pixels = new Uint8Array(width * height);
  const put = (x: number, y: number, ink: Ink) => {
    if (x >= 0 && x < width && y >= 0 && y < height) pixels[y * width + x] = ink;
  };
  for (let x = 0; x < width; x += 1) put(x, height - 1, 1);
  if (limit !== null) for (let x = 0; x < width; x += 1) if (x % 6 < 4) put(x, yOf(limit), 3);
  let before: number | null = null;
  for (let x = 0; x < width; x += 1) {
    const value = values[Math.floor((x * values.length) / width)] ?? null;
    const y = value === null ? null : yOf(value);
    if (y !== null) {
      // From the height before to this one, two pixels thick: steps stay joined, gaps stay gaps.
      const [from, to] = [Math.min(before ?? y, y), Math.max(before ?? y, y)];
      for (let at = from; at <= to + 1; at += 1) put(x, at, 2);
    }
    before = y;
  }
  return pngOf(pixels);
}
