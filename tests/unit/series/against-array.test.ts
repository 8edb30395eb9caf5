import { copyFileSync, existsSync, mkdtempSync, rmSync, statSync, truncateSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import type { SeriesRow } from "@drumlin/gateway/series";
import fc from "fast-check";
import { afterEach, expect, it } from "vitest";
import { precedence, storeInOneThread } from "./store-in-one-thread.ts";

const minuteMs = 60_000;
const hourMs = 3_600_000;
const dayMs = 24 * hourMs;
const keepMs = 3 * dayMs;
const beginMs = Date.UTC(2026, 2, 28, 22);
const names = ["point/supply/flow", "point/supply/Flow", "reading/press/ec-1[S/m]"] as const;
const folders: string[] = [];
const folder = () => {
  const path = mkdtempSync(join(tmpdir(), "drumlin-array-"));
  folders.push(path);
  return path;
};
afterEach(() => {
  for (const path of folders.splice(0)) rmSync(path, { recursive: true, force: true });
});

type Store = ReturnType<typeof storeInOneThread>;

function open(path: string): Store {
  const store = storeInOneThread(path);
  // What the disk has is then what the log had at its last sync.
  store.database.exec("PRAGMA wal_autocheckpoint = 0");
  return store;
}

/** All that was ever said, in its order: what stands at a time is what was said last. Shares nothing with the store. */
class Said {
  readonly entries: (readonly SeriesRow[])[] = [];
  /** Rows of a series by time, of entries up to `seq`. */
  of(series: string, seq = this.entries.length): SeriesRow[] {
    const stands = this.entries
      .slice(0, seq)
      .flat()
      .filter((row) => row.series === series);
    const last = stands.filter((row, at) => !stands.some((one, later) => later > at && one.tMs === row.tMs));
    return last.sort((a, b) => a.tMs - b.tMs);
  }
}

/** InfluxDB as it is seen from here: a later point at the same time stands in the place of the earlier one. */
class FarStore {
  readonly points = new Map<string, SeriesRow>();
  /** One batch, or one stretch that is owed; false when there was nothing. */
  turn(store: Store, isOwedFirst: boolean): boolean {
    const [owed] = store.followers.owed("influx", 1);
    const batch = store.followers.next("influx");
    if (owed && (isOwedFirst || !batch)) {
      for (const row of store.rows(owed.series, owed.fromMs, owed.toMs)) this.put(row);
      store.followers.paid("influx", owed);
      return true;
    }
    if (!batch) return false;
    for (const [at, tMs] of batch.tMs.entries()) {
      const value = batch.values[at] as number;
      this.put({
        series: batch.names[batch.series[at] as number] as string,
        tMs,
        value: Number.isNaN(value) ? null : value,
        flag: batch.flags[at] as SeriesRow["flag"],
      });
    }
    store.followers.sent("influx", batch.id);
    return true;
  }
  private put(row: SeriesRow): void {
    this.points.set(`${row.series} ${row.tMs}`, row);
  }
}

const value = fc.oneof(
  { weight: 6, arbitrary: fc.integer({ min: -9000, max: 9000 }).map((k) => k / 100) },
  fc.constantFrom<(number | null)[]>(null, 0, -0, 1e308, -1e308, 5e-324, 1 / 3),
);
/** How long before now, mostly now; late ones often meet what stands, and borders of hours and days. */
const agoMs = fc.oneof(
  { weight: 3, arbitrary: fc.constant(0) },
  fc
    .tuple(fc.integer({ min: 0, max: 70 }), fc.constantFrom(0, 1, 5000, hourMs - 1))
    .map(([h, ms]) => h * hourMs + ms),
);
const said = fc.array(
  fc.record({ name: fc.constantFrom(...names), agoMs, value, flag: fc.constantFrom(1, 2, 3, 4) }),
  {
    minLength: 1,
    maxLength: 6,
  },
);
const operation = fc.oneof(
  {
    weight: 6,
    arbitrary: fc.record({
      kind: fc.constant("say" as const),
      said,
      forMs: fc.integer({ min: 0, max: 9 * hourMs }),
    }),
  },
  { weight: 2, arbitrary: fc.constant({ kind: "commit" as const }) },
  { weight: 2, arbitrary: fc.constant({ kind: "barrier" as const }) },
  { weight: 3, arbitrary: fc.constant({ kind: "seal" as const }) },
  fc.constant({ kind: "sweep" as const }),
  {
    weight: 2,
    arbitrary: fc.record({ kind: fc.constant("read" as const), count: fc.integer({ min: 1, max: 300 }) }),
  },
  { weight: 2, arbitrary: fc.record({ kind: fc.constant("send" as const), isOwedFirst: fc.boolean() }) },
  fc.constant({ kind: "restart" as const }),
  {
    weight: 2,
    arbitrary: fc.record({
      kind: fc.constant("power-loss" as const),
      share: fc.double({ min: 0, max: 1, noNaN: true }),
    }),
  },
);
type Operation = typeof operation extends fc.Arbitrary<infer Value> ? Value : never;

/** A store that is lived with, and what should be in it. */
class Life {
  private path = folder();
  private store = open(this.path);
  readonly known = new Said();
  readonly far = new FarStore();
  private nowMs = beginMs;
  private synced = { seq: 0, bytes: 0 };
  /** Rows of days that began before may have been let go. */
  private keptFromMs = Number.NEGATIVE_INFINITY;

  constructor() {
    this.store.followers.follow("influx");
    this.barrier();
  }

  private get logBytes(): number {
    const log = join(this.path, "series.sqlite-wal");
    return existsSync(log) ? statSync(log).size : 0;
  }

  private barrier(): void {
    this.store.commit(this.known.entries.length, true);
    this.synced = { seq: this.known.entries.length, bytes: this.logBytes };
  }

  take(operation: Operation): void {
    const { store } = this;
    if (operation.kind === "say") {
      this.nowMs += operation.forMs;
      const rows = operation.said.map(
        (one): SeriesRow => ({
          series: one.name,
          tMs: this.nowMs - one.agoMs,
          value: one.value,
          flag: one.value === null ? 9 : (one.flag as SeriesRow["flag"]),
        }),
      );
      // A plain row at the newest time, so that the newest time is known.
      rows.push({ series: names[0], tMs: this.nowMs, value: 1, flag: 1 });
      this.known.entries.push(rows);
      store.add(rows);
    } else if (operation.kind === "commit") store.commit(this.known.entries.length);
    else if (operation.kind === "barrier") this.barrier();
    else if (operation.kind === "seal") store.sealing.step();
    else if (operation.kind === "sweep") this.sweep();
    else if (operation.kind === "read") this.compare(operation.count);
    else if (operation.kind === "send") this.far.turn(store, operation.isOwedFirst);
    else if (operation.kind === "restart") {
      this.barrier();
      store.close();
      this.store = open(this.path);
      this.synced = { seq: this.known.entries.length, bytes: this.logBytes };
    } else this.losePower(operation.share);
  }

  private sweep(): void {
    while (this.store.retaining({ keepMs, keepBytes: Number.POSITIVE_INFINITY }).step());
    this.keptFromMs = Math.max(this.keptFromMs, this.nowMs - keepMs);
  }

  private losePower(share: number): void {
    const bytes = this.synced.bytes + Math.floor((this.logBytes - this.synced.bytes) * share);
    const cut = folder();
    for (const name of ["series.sqlite", "series.sqlite-wal"])
      if (existsSync(join(this.path, name))) copyFileSync(join(this.path, name), join(cut, name));
    if (this.logBytes > 0) truncateSync(join(cut, "series.sqlite-wal"), bytes);
    this.store.close();
    this.path = cut;
    this.store = open(cut);
    const meta = this.store.database.prepare("SELECT stored_seq FROM meta").get() as { stored_seq: number };
    expect(meta.stored_seq).toBeGreaterThanOrEqual(this.synced.seq);
    // The journal has every entry, and runs again what the store does not have.
    for (const rows of this.known.entries.slice(meta.stored_seq)) this.store.add(rows);
    this.synced = { seq: meta.stored_seq, bytes: this.logBytes };
  }

  private isKept = ({ tMs }: SeriesRow) => tMs >= this.keptFromMs;

  compare(count: number): void {
    for (const series of names) {
      const all = this.known.of(series);
      const found = this.store.rows(series);
      expect(found.filter(this.isKept)).toEqual(all.filter(this.isKept));
      expect(found.length).toBe(new Set(found.map(({ tMs }) => tMs)).size);
      const [fromMs, toMs] = [this.nowMs - 40 * hourMs, this.nowMs + 1];
      const buckets = this.store.buckets(series, fromMs, toMs, count);
      const unitMs = buckets.bucketMs >= hourMs ? hourMs : buckets.bucketMs >= minuteMs ? minuteMs : 1;
      const lastMs = Math.ceil(toMs / unitMs) * unitMs;
      const firstMs = unitMs === 1 ? fromMs : (buckets.t[0] as number);
      for (const [at, from] of buckets.t.entries()) {
        const inside = all.filter(
          ({ tMs }) => tMs >= Math.max(firstMs, from) && tMs < Math.min(from + buckets.bucketMs, lastMs),
        );
        const values = inside.flatMap((row) => (row.value === null ? [] : [row.value]));
        const rank = inside.reduce((worst, row) => Math.max(worst, precedence.indexOf(row.flag)), 0);
        // ±0 are one value here.
        expect([
          buckets.count[at],
          (buckets.min[at] ?? 0) + 0,
          (buckets.max[at] ?? 0) + 0,
          buckets.flag[at],
        ]).toEqual([
          values.length,
          values.length > 0 ? Math.min(...values) + 0 : 0,
          values.length > 0 ? Math.max(...values) + 0 : 0,
          precedence[rank],
        ]);
      }
    }
  }

  end(): void {
    this.barrier();
    this.store.sealAll();
    this.compare(40);
    while (this.far.turn(this.store, true));
    for (const series of names)
      for (const row of this.known.of(series).filter(this.isKept))
        expect(this.far.points.get(`${series} ${row.tMs}`)).toEqual(row);
    this.store.close();
  }
}

it("adds, late adds, batches, seals, sweeps, restarts, power losses in any order: rows and buckets are what an array says, and so is InfluxDB in the end", () => {
  fc.assert(
    fc.property(fc.array(operation, { minLength: 10, maxLength: 60 }), (operations) => {
      const life = new Life();
      for (const one of operations) life.take(one);
      life.end();
    }),
    { numRuns: Number(process.env.DRUMLIN_RUNS ?? 8) },
  );
});
