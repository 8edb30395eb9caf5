import type { Flag } from "../readings/index.ts";
import type { SeriesRow } from "../series/index.ts";
import type { Correction } from "./calendar.ts";
import type { PastAsked, PastPiece } from "./past-pieces.ts";
import type { Outcome } from "./pipeline.ts";

/** What the thread of a derivation is started with. */
export interface DerivationAsked {
  readonly folder: string;
  readonly corrections: readonly Correction[];
  readonly asked: PastAsked;
}

/** A piece as it travels between threads: rows as columns, by the places of their series in `names`. */
export interface TravellingPiece {
  readonly names: readonly string[];
  readonly series: Uint32Array<ArrayBuffer>;
  readonly tMs: Float64Array<ArrayBuffer>;
  /** NaN stands for a missing value. */
  readonly values: Float64Array<ArrayBuffer>;
  readonly flags: Uint8Array<ArrayBuffer>;
  readonly records: readonly Outcome[];
}

/** What the thread says. */
export type DerivationTold =
  | { readonly type: "piece"; readonly piece: TravellingPiece }
  | { readonly type: "end" }
  | { readonly type: "failed"; readonly message: string };

/** Makes a piece ready to travel. */
export function packPiece({ rows, records }: PastPiece): TravellingPiece {
  const names = [...new Set(rows.map(({ series }) => series))];
  const place = new Map(names.map((name, index) => [name, index]));
  return {
    names,
    series: Uint32Array.from(rows, ({ series }) => place.get(series) as number),
    tMs: Float64Array.from(rows, ({ tMs }) => tMs),
    values: Float64Array.from(rows, ({ value }) => value ?? Number.NaN),
    flags: Uint8Array.from(rows, ({ flag }) => flag),
    records,
  };
}

/** The piece that travelled. */
export function unpackPiece({ names, series, tMs, values, flags, records }: TravellingPiece): PastPiece {
  const rows = Array.from(series, (place, index): SeriesRow => {
    const value = values[index] as number;
    return {
      series: names[place] as string,
      tMs: tMs[index] as number,
      value: Number.isNaN(value) ? null : value,
      flag: flags[index] as Flag,
    };
  });
  return { rows, records };
}
