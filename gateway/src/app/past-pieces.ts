import { channelOfReadingSeries, seriesOf } from "../measurements/index.ts";
import { type NamedRows, NamedRowsGathered, type SeriesStore } from "../series/index.ts";
import type { Calendar } from "./calendar.ts";
import { type Interval, runHistory } from "./history.ts";
import { outcomeInCalendar } from "./in-calendar.ts";
import { pastLine } from "./past-line.ts";
import { type PastBook, pastRecords } from "./past-records.ts";
import type { Outcome } from "./pipeline.ts";
import { isDerived } from "./revise-records.ts";

/** A piece has no more rows, or records, than these: some ms of work. */
const rowsOfPiece = 2000;
const recordsOfPiece = 1000;

/** A part of what a past run gives, in calendar time: rows of measurements, and what is to be recorded. */
export interface PastPiece {
  readonly rows: NamedRows;
  readonly records: readonly Outcome[];
}

/** What is to be run anew, calendar time: the readings of `stretch`; rows are given of `interval` alone. */
export interface PastAsked {
  readonly stretch: Interval;
  readonly interval: Interval;
}

/** Runs a stretch anew, a piece at a time; once aborted it throws. */
export type PastRun = (asked: PastAsked, signal?: AbortSignal) => AsyncIterable<PastPiece>;

interface PastStores {
  readonly series: Pick<SeriesStore, "range" | "names">;
  readonly logbook: PastBook;
  readonly calendar: Calendar;
}

/** A past run in the thread of whoever asks, over these stores. */
export function pastPieces({ series, logbook, calendar }: PastStores): PastRun {
  return async function* ({ stretch, interval }) {
    const today = logbook.lastLine();
    const heard = new Set((await series.names()).map((name) => channelOfReadingSeries(name)?.channel));
    const outcomes = runHistory(
      {
        series,
        records: pastRecords(logbook, calendar),
        readLine: (yaml) => pastLine(yaml, today, (channel) => heard.has(channel)),
      },
      { fromMs: calendar.engineOf(stretch.fromMs), toMs: calendar.engineOf(stretch.toMs) },
    );
    let rows = new NamedRowsGathered(rowsOfPiece);
    let records: Outcome[] = [];
    for await (const some of outcomes)
      for (const outcome of some) {
        if (outcome.kind === "measurement") {
          const tMs = calendar.at(outcome.tMs);
          const { value, flag } = outcome;
          if (tMs < interval.fromMs || tMs >= interval.toMs) continue;
          rows.add(seriesOf(outcome), tMs, value, flag);
        } else if (isDerived(outcome)) records.push(outcomeInCalendar(outcome, calendar.at, null));
        if (rows.size < rowsOfPiece && records.length < recordsOfPiece) continue;
        yield { rows: rows.rows(), records };
        rows = new NamedRowsGathered(rowsOfPiece);
        records = [];
      }
    yield { rows: rows.rows(), records };
  };
}
