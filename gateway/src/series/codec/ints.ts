import type { ByteReader, ByteWriter } from "./bytes.ts";

const two32 = 2 ** 32;
/** Whole numbers up to here can be told apart, and so can their zigzag codes. */
const maxWhole = 2 ** 51;

/** Differences of differences (`order` 2) or differences (1), coded so that small ones of either sign are small. */
function residuals(values: Float64Array, order: 1 | 2): { codes: Float64Array; max: number } | null {
  const codes = new Float64Array(values.length);
  let max = 0;
  let before = 0;
  let step = 0;
  for (let index = 0; index < values.length; index += 1) {
    const value = values[index] as number;
    if (!(Math.abs(value) <= maxWhole) || !Number.isInteger(value) || Object.is(value, -0)) return null;
    const difference = value - before;
    const rest = order === 2 ? difference - step : difference;
    // The first value and the first step are no small numbers.
    step = difference;
    before = value;
    const code = rest >= 0 ? 2 * rest : -2 * rest - 1;
    if (code > Number.MAX_SAFE_INTEGER) return null;
    codes[index] = code;
    if (code > max && index > order - 1) max = code;
  }
  return { codes, max };
}

function widthOf(max: number): number {
  let width = 0;
  for (let rest = max; rest >= 1; rest = Math.floor(rest / 256)) width += 1;
  return width;
}

/** Puts byte planes: all lowest bytes, then all next ones. Planes of a width beyond 4 come from the upper half. */
function putPlanes(part: Uint8Array, codes: Float64Array, from: number, width: number): void {
  const count = codes.length - from;
  for (let index = 0; index < count; index += 1) {
    const code = codes[from + index] as number;
    const low = code >= two32 ? code % two32 : code;
    const high = code >= two32 ? (code - low) / two32 : 0;
    for (let plane = 0; plane < width; plane += 1)
      part[plane * count + index] = plane < 4 ? low >>> (8 * plane) : high >>> (8 * (plane - 4));
  }
}

/**
 * Writes whole numbers as differences (`order` 1) or differences of differences (2) in byte planes. Gives false, with nothing
 * written, where one is no whole number within ± 2^51 (or −0).
 */
export function putWhole(writer: ByteWriter, values: Float64Array, order: 1 | 2): boolean {
  const found = residuals(values, order);
  if (!found) return false;
  const { codes, max } = found;
  const heads = Math.min(order, values.length);
  const width = widthOf(max);
  writer.u8(width);
  for (let index = 0; index < heads; index += 1) writer.f64(values[index] as number);
  putPlanes(writer.part(width * (values.length - heads)), codes, heads, width);
  return true;
}

/** Reads `count` whole numbers that `putWhole` wrote. */
export function takeWhole(reader: ByteReader, count: number, order: 1 | 2): Float64Array {
  const values = new Float64Array(count);
  const width = reader.u8();
  if (width > 7) throw new RangeError("damaged: a width that can't be");
  const heads = Math.min(order, count);
  for (let index = 0; index < heads; index += 1) values[index] = reader.f64();
  const rest = count - heads;
  const planes = reader.part(width * rest);
  let before = heads > 0 ? (values[heads - 1] as number) : 0;
  let step = order === 2 && heads === 2 ? before - (values[0] as number) : 0;
  for (let index = 0; index < rest; index += 1) {
    let code = 0;
    for (let plane = width - 1; plane >= 0; plane -= 1)
      code = code * 256 + (planes[plane * rest + index] as number);
    const residual = code % 2 === 0 ? code / 2 : -(code + 1) / 2;
    step = order === 2 ? step + residual : residual;
    before += step;
    values[heads + index] = before;
  }
  return values;
}
