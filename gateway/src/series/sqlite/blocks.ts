import { type Columns, layered, layeredAll, within } from "../columns.ts";
import { beginOf, dayMs, hourMs, minuteMs, replacedWithin, rolledUp } from "../rollups.ts";
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
    // Its rows were let go; what still comes would take the place of its roll-ups.
    if (blocks.length === 0 && file.hoursOfDay(series, dayBeginMs)) return;
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
  const standing = layeredAll(
    file.blocksOf(series, dayBeginMs, dayBeginMs + dayMs).map((block) => file.blockRows(series, block)),
  );
  const all = merged(standing, merge);
  file.removeBlocks(series, dayBeginMs, dayBeginMs + dayMs);
  file.putBlock(series, dayBeginMs, dayMs, all);
  file.putMinutes(series, dayBeginMs, dayMs, rolledUp(all, minuteMs));
  file.putHours(series, dayBeginMs, rolledUp(all, hourMs));
}

function mergeHours(file: BlockFile, series: number, dayBeginMs: number, merge: Merge): void {
  let hours = file.hoursOfDay(series, dayBeginMs);
  eachUnit(merge.rows, hourMs, (beginMs, rows) => {
    const block = file.blocksOf(series, beginMs, beginMs + 1)[0];
    const all = block ? merged(file.blockRows(series, block), { ...merge, rows }) : rows;
    file.putBlock(series, beginMs, hourMs, all);
    file.putMinutes(series, beginMs, hourMs, rolledUp(all, minuteMs));
    const fresh = rolledUp(all, hourMs);
    hours = hours ? replacedWithin(hours, fresh, beginMs, beginMs + hourMs) : fresh;
  });
  if (hours) file.putHours(series, dayBeginMs, hours);
}
