import { inTransaction } from "../../database/index.ts";
import { beginOf, dayMs, fuller, hourMs, minuteMs } from "../rollups.ts";
import type { BlockFile } from "./block-file.ts";
import { mergeIntoBlocks } from "./blocks.ts";
import type { EarlierStore } from "./earlier-store.ts";

/** Days of series that are left of a store of the first schema, and how many there were at the start. */
export interface MoveProgress {
  readonly left: number;
  readonly of: number;
}

/**
 * Moves the store of the first schema into the new one, a day of a series at a time, the newest first. Each move stands
 * with its mark in one transaction: one that is cut off goes on where it was.
 */
export class Moving {
  private readonly file: BlockFile;
  private readonly earlier: EarlierStore;
  /** Of each series the last row that is left. */
  private readonly lasts = new Map<number, number>();
  private readonly newestMs: number;
  private readonly of: number;
  private moved = 0;

  constructor(file: BlockFile, earlier: EarlierStore) {
    this.file = file;
    this.earlier = earlier;
    for (const series of earlier.series()) {
      const last = earlier.last(series);
      if (last !== null) this.lasts.set(series, last);
    }
    this.newestMs = Math.max(...this.lasts.values(), Number.MIN_SAFE_INTEGER);
    this.of = earlier.daysLeft();
  }

  get isDone(): boolean {
    return this.lasts.size === 0;
  }

  progress(): MoveProgress {
    return { left: this.isDone ? 0 : Math.max(1, this.of - this.moved), of: this.of };
  }

  /** Moves one day of one series; false when nothing is left. */
  step(): boolean {
    let next: { readonly series: number; readonly lastMs: number } | null = null;
    for (const [series, lastMs] of this.lasts) if (!next || lastMs > next.lastMs) next = { series, lastMs };
    if (!next) return false;
    const { series, lastMs } = next;
    const dayBeginMs = beginOf(lastMs, dayMs);
    const rows = this.earlier.rowsOf(series, dayBeginMs, dayBeginMs + dayMs);
    this.file.database.exec("PRAGMA synchronous = NORMAL");
    inTransaction(this.file.database, () => {
      if (rows)
        mergeIntoBlocks(this.file, series, rows, {
          doneBeforeMs: beginOf(this.newestMs, dayMs),
          isUnder: true,
        });
      if (this.earlier.isDamaged) this.keepRollups(series, dayBeginMs);
      this.file.sql("INSERT OR REPLACE INTO moved (series, down_to) VALUES (?, ?)").run(series, dayBeginMs);
    });
    this.moved += 1;
    const last = this.earlier.last(series);
    if (last === null) this.lasts.delete(series);
    else this.lasts.set(series, last);
    return true;
  }

  /** Of rows that can't be read the roll-ups may be: the fuller ones stand. */
  private keepRollups(series: number, dayBeginMs: number): void {
    const { file, earlier } = this;
    const endMs = dayBeginMs + dayMs;
    const hours = earlier.rollupsOf(series, hourMs, dayBeginMs, endMs);
    const knownHours = file.hoursOfDay(series, dayBeginMs);
    if (hours && hours.tMs.length > 0)
      file.putHours(series, dayBeginMs, knownHours ? fuller(knownHours, hours) : hours);
    // Minutes lie by blocks: those of hours would be written over by themselves.
    if (file.blocksOf(series, dayBeginMs, endMs).some(({ spanMs }) => spanMs < dayMs)) return;
    const minutes = earlier.rollupsOf(series, minuteMs, dayBeginMs, endMs);
    if (minutes && minutes.tMs.length > 0)
      file.putMinutes(
        series,
        dayBeginMs,
        dayMs,
        [...file.minutesOf(series, dayBeginMs, endMs)].reduce((known, more) => fuller(more, known), minutes),
      );
  }
}
