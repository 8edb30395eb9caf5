/** Rows of one series as columns, by time, each time once. NaN is a missing value (flag 9). */
export interface Columns {
  readonly tMs: Float64Array;
  readonly values: Float64Array;
  readonly flags: Uint8Array;
}

/** Rows of many series in the order in which they came. */
export interface RowBatch {
  /** Numbers of series. */
  readonly series: Uint32Array;
  readonly tMs: Float64Array;
  /** NaN stands for a missing value. */
  readonly values: Float64Array;
  /** The flag, and `besideBit`. */
  readonly flags: Uint8Array;
}

/** No rows. */
export const noRows: Columns = {
  tMs: new Float64Array(),
  values: new Float64Array(),
  flags: new Uint8Array(),
};

/** Room for so many rows. */
export function columnsFor(count: number): Columns {
  return { tMs: new Float64Array(count), values: new Float64Array(count), flags: new Uint8Array(count) };
}

/** The first index whose time is not before `atMs`. */
function indexOfTime(tMs: Float64Array, atMs: number): number {
  let [low, high] = [0, tMs.length];
  while (low < high) {
    const middle = (low + high) >> 1;
    if ((tMs[middle] as number) < atMs) low = middle + 1;
    else high = middle;
  }
  return low;
}

/** Rows of [fromMs, toMs); shares memory with what it is given. */
export function within({ tMs, values, flags }: Columns, fromMs: number, toMs: number): Columns {
  const from = indexOfTime(tMs, fromMs);
  const to = Math.max(from, indexOfTime(tMs, toMs));
  if (from === 0 && to === tMs.length) return { tMs, values, flags };
  return { tMs: tMs.subarray(from, to), values: values.subarray(from, to), flags: flags.subarray(from, to) };
}

/** Rows in the order in which they came, made columns: by time, and the later one of the same time. */
export function settled({ tMs, values, flags }: Columns): Columns {
  let isInOrder = true;
  for (let index = 1; index < tMs.length && isInOrder; index += 1)
    isInOrder = (tMs[index - 1] as number) < (tMs[index] as number);
  if (isInOrder) return { tMs, values, flags };
  const order = Uint32Array.from(tMs.keys()).sort((a, b) => (tMs[a] as number) - (tMs[b] as number) || a - b);
  const last = order.filter((at, index) => tMs[at] !== tMs[order[index + 1] ?? -1]);
  return {
    tMs: Float64Array.from(last, (at) => tMs[at] as number),
    values: Float64Array.from(last, (at) => values[at] as number),
    flags: Uint8Array.from(last, (at) => flags[at] as number),
  };
}

function joined(a: Columns, b: Columns): Columns {
  const all = columnsFor(a.tMs.length + b.tMs.length);
  for (const name of ["tMs", "values", "flags"] as const) {
    all[name].set(a[name]);
    all[name].set(b[name], a.tMs.length);
  }
  return all;
}

/** Two layers of rows as one: at the same time the newer one stands. */
export function layered(older: Columns, newer: Columns): Columns {
  if (older.tMs.length === 0) return newer;
  if (newer.tMs.length === 0) return older;
  if ((older.tMs.at(-1) as number) < (newer.tMs[0] as number)) return joined(older, newer);
  if ((newer.tMs.at(-1) as number) < (older.tMs[0] as number)) return joined(newer, older);
  const all = columnsFor(older.tMs.length + newer.tMs.length);
  let [a, b, count] = [0, 0, 0];
  while (a < older.tMs.length || b < newer.tMs.length) {
    const at = older.tMs[a] ?? Number.POSITIVE_INFINITY;
    const bt = newer.tMs[b] ?? Number.POSITIVE_INFINITY;
    const from = bt <= at ? newer : older;
    const index = bt <= at ? b : a;
    all.tMs[count] = from.tMs[index] as number;
    all.values[count] = from.values[index] as number;
    all.flags[count] = from.flags[index] as number;
    if (bt <= at) b += 1;
    if (at <= bt) a += 1;
    count += 1;
  }
  return {
    tMs: all.tMs.subarray(0, count),
    values: all.values.subarray(0, count),
    flags: all.flags.subarray(0, count),
  };
}

/** Layers of rows as one, the oldest first. */
export function layeredAll(layers: readonly Columns[]): Columns {
  if (layers.length <= 2) return layered(layers[0] ?? noRows, layers[1] ?? noRows);
  const middle = layers.length >> 1;
  return layered(layeredAll(layers.slice(0, middle)), layeredAll(layers.slice(middle)));
}
