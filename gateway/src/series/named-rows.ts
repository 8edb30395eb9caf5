import type { Flag } from "../readings/index.ts";
import { columnsFor, type RowBatch } from "./columns.ts";

/** Rows of many series, each by the place of its name: as they go from thread to thread. */
export interface NamedRows extends RowBatch {
  readonly names: readonly string[];
}

/** The same, for a thread that knows series by their numbers: `numbers` in the order of the names. */
export interface NumberedRows {
  readonly numbers: readonly number[];
  readonly rows: RowBatch;
}

const bytesOfRow = 8 + 8 + 4 + 1;

/** Gathers rows of many series, in memory of their own. */
export class NamedRowsGathered {
  private readonly places = new Map<string, number>();
  private readonly columns: RowBatch;
  private count = 0;

  /** `room`: no more rows than these come. */
  constructor(room: number) {
    // One piece of memory: each is handed from thread to thread by itself.
    const memory = new ArrayBuffer(room * bytesOfRow);
    this.columns = {
      tMs: new Float64Array(memory, 0, room),
      values: new Float64Array(memory, room * 8, room),
      series: new Uint32Array(memory, room * 16, room),
      flags: new Uint8Array(memory, room * 20, room),
    };
  }

  get size(): number {
    return this.count;
  }

  /** `value` null: it is missing. */
  add(series: string, tMs: number, value: number | null, flag: Flag): void {
    const { columns, places, count } = this;
    let place = places.get(series);
    if (place === undefined) {
      place = places.size;
      places.set(series, place);
    }
    columns.series[count] = place;
    columns.tMs[count] = tMs;
    columns.values[count] = value ?? Number.NaN;
    columns.flags[count] = flag;
    this.count = count + 1;
  }

  rows(): NamedRows {
    const { columns, places, count } = this;
    return {
      names: [...places.keys()],
      series: columns.series.subarray(0, count),
      tMs: columns.tMs.subarray(0, count),
      values: columns.values.subarray(0, count),
      flags: columns.flags.subarray(0, count),
    };
  }
}

/** The memory of rows, to be handed over with them: whoever hands it over has them no more. */
export function memoryOf({ series, tMs, values, flags }: RowBatch): ArrayBuffer[] {
  return [...new Set([series, tMs, values, flags].map(({ buffer }) => buffer as ArrayBuffer))];
}

/** Numbered rows as one batch, in their order. */
export function batchOfNumbered(pieces: readonly NumberedRows[]): RowBatch {
  const count = pieces.reduce((sum, { rows }) => sum + rows.tMs.length, 0);
  const batch = { series: new Uint32Array(count), ...columnsFor(count) };
  let at = 0;
  for (const { numbers, rows } of pieces) {
    const { series, tMs, values, flags } = rows;
    for (let index = 0; index < series.length; index += 1)
      batch.series[at + index] = numbers[series[index] as number] as number;
    batch.tMs.set(tMs, at);
    batch.values.set(values, at);
    batch.flags.set(flags, at);
    at += tMs.length;
  }
  return batch;
}
