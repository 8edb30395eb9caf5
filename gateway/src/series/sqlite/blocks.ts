import { type Columns, layered, layeredAll, noRows, within } from "../columns.ts";
import { beginOf, dayMs, fuller, hourMs, minuteMs, replacedWithin, rolledUp } from "../rollups.ts";
import type { BlockFile } from "./block-file.ts";

interface MergeSettings {
  /** A day that ends by then is kept as one block, a later one as blocks of hours. */
  readonly doneBeforeMs: number;
  /** This day is made one block, whatever rows are given. */
  readonly dayMs?: number;
  /** Whether what the blocks hold stands above the rows given: those come from an older store. */
  readonly isUnder?: boolean;
}

function eachUnit(rows: Columns, unitMs: number, work: (beginMs: number, rows: Columns) => void): void {
  for (let index = 0; index < rows.tMs.length; ) {
    const beginMs = beginOf(rows.tMs[index] as number, unitMs);
    const inside = within(rows, beginMs, beginMs + unitMs);
    work(beginMs, inside);
    index += inside.tMs.length;
  }
}

/**
 * Merges rows of a series, by time, into its blocks, and rolls up again what they touch. Within a transaction of the caller.
 */
export function mergeIntoBlocks(
  file: BlockFile,
  series: number,
  rows: Columns,
  settings: MergeSettings,
): void {
  if (settings.dayMs !== undefined) mergeDay(file, series, settings.dayMs, { rows, settings });
  eachUnit(rows, dayMs, (dayBeginMs, ofDay) => {
    const blocks = file.blocksOf(series, dayBeginMs, dayBeginMs + dayMs);
    const isOneBlock = blocks.some(({ spanMs }) => spanMs === dayMs);
    if (isOneBlock || dayBeginMs + dayMs <= settings.doneBeforeMs)
      mergeDay(file, series, dayBeginMs, { rows: ofDay, settings });
    else mergeHours(file, series, dayBeginMs, { rows: ofDay, settings });
  });
}

interface Merge {
  readonly rows: Columns;
  readonly settings: MergeSettings;
}

const merged = (standing: Columns, { rows, settings }: Merge) =>
  settings.isUnder ? layered(rows, standing) : layered(standing, rows);

function mergeDay(file: BlockFile, series: number, dayBeginMs: number, merge: Merge): void {
  const endMs = dayBeginMs + dayMs;
  const found = file.blocksOf(series, dayBeginMs, endMs).map((block) => file.blockRows(series, block));
  const all = merged(layeredAll(found.map((rows) => rows ?? noRows)), merge);
  // Of what can't be read, or was let go, the roll-ups are left: the fuller ones stand.
  const isWhole = found.length > 0 && !found.includes(null);
  const minutes = rolledUp(all, minuteMs);
  const knownMinutes = isWhole ? [] : [...file.minutesOf(series, dayBeginMs, endMs)];
  const knownHours = isWhole ? null : file.hoursOfDay(series, dayBeginMs);
  file.removeBlocks(series, dayBeginMs, endMs);
  file.putBlock(series, dayBeginMs, dayMs, all);
  file.putMinutes(series, dayBeginMs, dayMs, knownMinutes.reduce(fuller, minutes));
  const hours = rolledUp(all, hourMs);
  file.putHours(series, dayBeginMs, knownHours ? fuller(hours, knownHours) : hours);
}

function mergeHours(file: BlockFile, series: number, dayBeginMs: number, merge: Merge): void {
  let hours = file.hoursOfDay(series, dayBeginMs);
  eachUnit(merge.rows, hourMs, (beginMs, rows) => {
    const block = file.blocksOf(series, beginMs, beginMs + 1)[0];
    const standing = block ? file.blockRows(series, block) : null;
    const all = standing ? merged(standing, { ...merge, rows }) : rows;
    const known = standing ? [] : [...file.minutesOf(series, beginMs, beginMs + hourMs)];
    file.putBlock(series, beginMs, hourMs, all);
    file.putMinutes(series, beginMs, hourMs, known.reduce(fuller, rolledUp(all, minuteMs)));
    const fresh = rolledUp(all, hourMs);
    if (!hours) hours = fresh;
    else hours = standing ? replacedWithin(hours, fresh, beginMs, beginMs + hourMs) : fuller(fresh, hours);
  });
  if (hours) file.putHours(series, dayBeginMs, hours);
}
