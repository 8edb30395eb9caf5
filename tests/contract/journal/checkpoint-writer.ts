// `checkpoint-writer.ts FOLDER [series]`: saves one checkpoint after the other, each with its whole copy, until it is killed; prints
// the number of each that was saved. Both rows of a checkpoint hold its number. With `series` it is written on the thread of
// the series store, whose barrier is before each.
import { openJournal } from "@drumlin/gateway/journal";
import { openSqliteSeries } from "@drumlin/gateway/series";

const [, , folder = "", beside] = process.argv;
const series = beside === "series" ? await openSqliteSeries({ folder }) : null;
const journal = await openJournal({
  folder,
  now: Date.now,
  copyEveryMs: 0,
  ...(series ? { takeIn: (service, data) => series.takeIn(service, data) } : {}),
});
const row = (key: string, plain: unknown) => ({ stage: "a", key, plain });
// Enough that a copy takes a moment.
const filler = new Uint8Array(40_000);
for (let seq = journal.lastSeq + 1; ; seq += 1) {
  await journal.append({ kind: "tick" });
  series?.add({ series: "point/supply/flow", tMs: seq, value: seq, flag: 1 });
  await journal.saveCheckpoint(
    {
      seq,
      versions: { a: 1 },
      rows: [row("x", seq), row(`f${seq % 50}`, filler), row("y", seq)],
    },
    series?.sync().then(() => true),
  );
  console.log(seq);
}
