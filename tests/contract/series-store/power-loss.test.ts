import { spawnSync } from "node:child_process";
import { copyFileSync, mkdtempSync, readFileSync, rmSync, statSync, truncateSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { fileURLToPath } from "node:url";
import type { SeriesRow } from "@drumlin/gateway/series";
import fc from "fast-check";
import { afterEach, expect, it } from "vitest";
import { storeInOneThread } from "../../unit/series/store-in-one-thread.ts";

const folders: string[] = [];
function folder(): string {
  const path = mkdtempSync(join(tmpdir(), "drumlin-power-"));
  folders.push(path);
  return path;
}
afterEach(() => {
  for (const path of folders.splice(0)) rmSync(path, { recursive: true, force: true });
});

it("each barrier, one without rows too, each write of its own, and leaving an earlier store wait for the disk; a batch, what is put aside and what was sent do not", () => {
  const trace = join(folder(), "trace");
  const script = fileURLToPath(new URL("./barriers.ts", import.meta.url));
  const calls = "trace=fsync,fdatasync,access,faccessat,faccessat2,unlink,unlinkat";
  const done = spawnSync(
    process.env.DRUMLIN_STRACE ?? "strace",
    ["-f", "-e", calls, "-o", trace, process.execPath, script, folder()],
    { encoding: "utf8" },
  );
  expect(done.stderr).toBe("");
  let inside: string | null = null;
  let isUnlinked = false;
  const syncs = new Map<string, number[]>();
  for (const line of readFileSync(trace, "utf8").split("\n")) {
    const [, edge, kind] = /drumlin-mark\/(begin|end)-([a-z-]+)/.exec(line) ?? [];
    if (kind !== undefined) {
      inside = edge === "begin" ? kind : null;
      if (inside) syncs.set(inside, [...(syncs.get(inside) ?? []), 0]);
      isUnlinked = false;
    } else if (/\bunlink(at)?\(.*series-1\.sqlite"/.test(line)) isUnlinked = true;
    // What comes after the earlier store is gone comes too late.
    else if (inside !== null && !isUnlinked && /\bf(data)?sync(\(\d+| resumed>)\)\s+= 0/.test(line)) {
      const counts = syncs.get(inside) as number[];
      counts[counts.length - 1] = (counts.at(-1) as number) + 1;
    }
  }
  expect(Object.fromEntries(syncs)).toEqual({
    barrier: [1, 1, 1],
    "empty-barrier": [1, 1, 1],
    batch: [0, 0, 0],
    write: [1],
    stage: [0],
    sent: [0],
    owe: [1],
    paid: [0],
    leave: [1],
  });
});

const series = ["point/supply/flow", "reading/press/ec-1[S/m]"];
const hourMs = 3_600_000;
/** Two rows of an entry; later entries come back to hours that are sealed. */
const rowsOf = (seq: number): SeriesRow[] =>
  series.map((name, index) => ({
    series: name,
    tMs: (seq % 5) * hourMs * 2 + seq * 1000 + index,
    value: seq,
    flag: 1,
  }));

it("files cut back to anything since their last sync: all up to the barrier is there, an entry is there whole or not at all; run again, nothing is lost or twice", () => {
  const step = fc.constantFrom("add", "add", "add", "batch", "barrier", "seal");
  fc.assert(
    fc.property(
      fc.array(step, { minLength: 5, maxLength: 40 }),
      fc.double({ min: 0, max: 1, noNaN: true }),
      (steps, share) => {
        const [lived, cut] = [folder(), folder()];
        const store = storeInOneThread(lived);
        store.database.exec("PRAGMA wal_autocheckpoint = 0");
        const log = join(lived, "series.sqlite-wal");
        store.commit(0, true);
        let [seq, syncedSeq, syncedBytes] = [0, 0, statSync(log).size];
        for (const what of steps) {
          if (what === "add") {
            seq += 1;
            store.add(rowsOf(seq));
          } else if (what === "seal") store.sealAll();
          else store.commit(seq, what === "barrier");
          if (what !== "barrier") continue;
          [syncedSeq, syncedBytes] = [seq, statSync(log).size];
        }
        // What the disk has of the log for sure, and some of what it was given since.
        const bytes = syncedBytes + Math.floor((statSync(log).size - syncedBytes) * share);
        for (const name of ["series.sqlite", "series.sqlite-wal"])
          copyFileSync(join(lived, name), join(cut, name));
        truncateSync(join(cut, "series.sqlite-wal"), bytes);
        store.close();

        const again = storeInOneThread(cut);
        const { stored_seq: storedSeq } = again.database.prepare("SELECT stored_seq FROM meta").get() as {
          stored_seq: number;
        };
        expect(storedSeq).toBeGreaterThanOrEqual(syncedSeq);
        const upTo = (last: number, name: string) =>
          Array.from({ length: last }, (_, index) => rowsOf(index + 1))
            .flat()
            .filter((row) => row.series === name)
            .sort((a, b) => a.tMs - b.tMs);
        for (const name of series) expect(again.rows(name)).toEqual(upTo(storedSeq, name));
        for (let next = storedSeq + 1; next <= seq; next += 1) again.add(rowsOf(next));
        again.commit(seq, true);
        again.sealAll();
        for (const name of series) expect(again.rows(name)).toEqual(upTo(seq, name));
        again.close();
      },
    ),
    { numRuns: Number(process.env.DRUMLIN_RUNS ?? 12) },
  );
});
