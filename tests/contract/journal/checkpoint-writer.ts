// `checkpoint-writer.ts FOLDER`: saves one checkpoint after the other, each with its whole copy, until it is killed; prints
// the number of each that was saved. Both rows of a checkpoint hold its number.
import { openJournal } from "@drumlin/gateway/journal";

const journal = await openJournal({ folder: process.argv[2] as string, now: Date.now, copyEveryMs: 0 });
const row = (key: string, plain: unknown) => ({ stage: "a", key, plain });
// Enough that a copy takes a moment.
const filler = new Uint8Array(40_000);
for (let seq = journal.lastSeq + 1; ; seq += 1) {
  await journal.append({ kind: "tick" });
  await journal.saveCheckpoint({
    seq,
    versions: { a: 1 },
    rows: [row("x", seq), row(`f${seq % 50}`, filler), row("y", seq)],
  });
  console.log(seq);
}
