import type { Flag } from "../readings/index.ts";
import { decimalsOf } from "./codec/floats.ts";
import type { Columns } from "./columns.ts";
import { rankOf } from "./flag-rank.ts";

/** A minute, ms: the finer roll-up. */
export const minuteMs = 60_000;
/** An hour, ms: the coarser roll-up, and a block. */
export const hourMs = 3_600_000;
/** A day, ms: what blocks are merged into. */
export const dayMs = 86_400_000;

/** What a series did in units of one length, by time; units in which nothing was said are left out. */
export interface Rollups {
  /** Where each unit begins, epoch ms. */
  readonly tMs: Float64Array;
  /** How many values; 0 where only missing ones were said. */
  readonly count: Uint32Array;
  readonly total: Float64Array;
  /** NaN where there was no value. */
  readonly least: Float64Array;
  readonly greatest: Float64Array;
  /** Place of the worst flag in the precedence. */
  readonly rank: Uint8Array;
}

/** The beginning of the unit that a time lies in. */
export function beginOf(tMs: number, unitMs: number): number {
  return Math.floor(tMs / unitMs) * unitMs;
}

// Precedence by flag, as a table.
const rankByFlag = Uint8Array.from({ length: 256 }, (_, flag) => Math.max(0, rankOf(flag as Flag)));

/** The place of a flag in the precedence, low to high. */
export function rankOfFlag(flag: number): number {
  return rankByFlag[flag] as number;
}

/** Rolls rows up into units. Totals of numbers with few decimals are exact ones: they are kept short then. */
export function rolledUp({ tMs, values, flags }: Columns, unitMs: number): Rollups {
  const units = new Float64Array(tMs.length);
  let size = 0;
  for (let index = 0; index < tMs.length; index += 1) {
    const unit = beginOf(tMs[index] as number, unitMs);
    if (size === 0 || unit !== units[size - 1]) {
      units[size] = unit;
      size += 1;
    }
  }
  const rolled: Rollups = {
    tMs: units.slice(0, size),
    count: new Uint32Array(size),
    total: new Float64Array(size),
    least: new Float64Array(size).fill(Number.NaN),
    greatest: new Float64Array(size).fill(Number.NaN),
    rank: new Uint8Array(size),
  };
  let at = 0;
  for (let index = 0; index < tMs.length; index += 1) {
    if ((tMs[index] as number) >= (rolled.tMs[at] as number) + unitMs) at += 1;
    const rank = rankByFlag[flags[index] as number] as number;
    if (rank > (rolled.rank[at] as number)) rolled.rank[at] = rank;
    const value = values[index] as number;
    if (Number.isNaN(value)) continue;
    rolled.count[at] = (rolled.count[at] as number) + 1;
    rolled.total[at] = (rolled.total[at] as number) + value;
    if (!(value >= (rolled.least[at] as number))) rolled.least[at] = value;
    if (!(value <= (rolled.greatest[at] as number))) rolled.greatest[at] = value;
  }
  const decimals = decimalsOf(values);
  if (decimals === null) return rolled;
  const power = 10 ** decimals;
  return { ...rolled, total: rolled.total.map((total) => Math.round(total * power) / power) };
}

function picked(from: readonly { readonly list: Rollups; readonly index: number }[]): Rollups {
  const pick = (name: Exclude<keyof Rollups, "count" | "rank">) =>
    Float64Array.from(from, ({ list, index }) => list[name][index] as number);
  return {
    tMs: pick("tMs"),
    count: Uint32Array.from(from, ({ list, index }) => list.count[index] as number),
    total: pick("total"),
    least: pick("least"),
    greatest: pick("greatest"),
    rank: Uint8Array.from(from, ({ list, index }) => list.rank[index] as number),
  };
}

const placesOf = (list: Rollups) => [...list.tMs.keys()].map((index) => ({ list, index }));
type Place = ReturnType<typeof placesOf>[number];
const atOf = ({ list, index }: Place) => list.tMs[index] as number;

/** Roll-ups of [fromMs, toMs) of one list and those of the other outside of it, by time. */
export function replacedWithin(old: Rollups, fresh: Rollups, fromMs: number, toMs: number): Rollups {
  const kept = placesOf(old).filter((place) => atOf(place) < fromMs || atOf(place) >= toMs);
  return picked([...kept, ...placesOf(fresh)].sort((a, b) => atOf(a) - atOf(b)));
}

const countOf = ({ list, index }: Place) => list.count[index] as number;

/** Roll-ups of both lists, by time; of a unit that both have, those of more values, or else the first one's. */
export function fuller(first: Rollups, other: Rollups): Rollups {
  const found = new Map(placesOf(first).map((place) => [atOf(place), place]));
  for (const place of placesOf(other)) {
    const known = found.get(atOf(place));
    if (!known || countOf(place) > countOf(known)) found.set(atOf(place), place);
  }
  return picked([...found.values()].sort((a, b) => atOf(a) - atOf(b)));
}
