// node barriers.ts FOLDER: batches, barriers, barriers without a row, what a derivation puts aside, what a follower says, and
// leaving a store of the first schema, each between two marks that strace sees.
import { accessSync, mkdirSync } from "node:fs";
import { join } from "node:path";
import { leaveEarlier } from "../../../gateway/src/series/sqlite/earlier-store.ts";
import { storeInOneThread, writeEarlier } from "../../unit/series/store-in-one-thread.ts";

const [folder] = process.argv.slice(2);
const store = storeInOneThread(folder as string);
store.database.exec("PRAGMA wal_autocheckpoint = 0");

/** A look at a file that is not there: seen from outside, and nothing else. */
function mark(name: string): void {
  try {
    accessSync(`/drumlin-mark/${name}`);
  } catch {
    // It is never there.
  }
}

for (let seq = 1; seq <= 9; seq += 1) {
  const kind = ["batch", "barrier", "empty-barrier"][seq % 3] as string;
  if (kind !== "empty-barrier")
    store.add([{ series: "point/supply/flow", tMs: seq * 1000, value: seq, flag: 1 }]);
  mark(`begin-${kind}`);
  store.commit(kind === "empty-barrier" ? null : seq, kind !== "batch");
  mark(`end-${kind}`);
}
mark("begin-write");
store.write([{ series: "point/supply/flow", tMs: 500, value: 7, flag: 1 }]);
mark("end-write");
const flow = { series: "point/supply/flow", fromMs: 0, toMs: 20_000 };
store.followers.follow("influx");
// Each right after a write that waited for the disk.
const steps: Readonly<Record<string, () => void>> = {
  stage: () => store.stage("job", [{ series: flow.series, tMs: 600, value: 7, flag: 1 }]),
  sent: () => store.followers.sent("influx", 1),
  owe: () => store.followers.owe("influx", [flow]),
  paid: () => store.followers.paid("influx", flow),
};
for (const [kind, work] of Object.entries(steps)) {
  store.commit(null, true);
  mark(`begin-${kind}`);
  work();
  mark(`end-${kind}`);
}
store.close();

const moved = join(folder as string, "moved");
mkdirSync(moved);
writeEarlier(moved, [{ series: "point/supply/flow", tMs: 1000, value: 3, flag: 1 }]);
const moving = storeInOneThread(moved);
moving.database.exec("PRAGMA wal_autocheckpoint = 0");
while (moving.moving?.step());
mark("begin-leave");
moving.reader.earlier?.close();
moving.reader.earlier = null;
leaveEarlier(moving.file, join(moved, "series-1.sqlite"));
mark("end-leave");
moving.close();
