// The disk fails in the middle of sealing: at each of its writes, at its commit, and when it is full.
import { mkdtempSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { DatabaseSync, StatementSync } from "node:sqlite";
import type { SeriesRow } from "@drumlin/gateway/series";
import { afterEach, expect, it, vi } from "vitest";
import { storeInOneThread } from "./store-in-one-thread.ts";

const hourMs = 3_600_000;
const dayMs = 24 * hourMs;
const beginMs = Date.UTC(2026, 2, 1);
const names = ["point/supply/flow", "point/supply/conductivity25", "reading/press/ec-1[S/m]"];
const folders: string[] = [];
afterEach(() => {
  vi.restoreAllMocks();
  for (const path of folders.splice(0)) rmSync(path, { recursive: true, force: true });
});

const rowsFrom = (fromMs: number, toMs: number, value: number): SeriesRow[] =>
  names.flatMap((series, at) =>
    Array.from({ length: Math.floor((toMs - fromMs) / (hourMs / 2)) }, (_, n) => ({
      ...{ series, tMs: fromMs + n * (hourMs / 2), value: value + at * 1000 + n, flag: 1 as const },
    })),
  );

/** Two days and a half: some of it sealed, some in its place again as it came late, the rest waiting; somebody follows. */
function lived() {
  const path = mkdtempSync(join(tmpdir(), "drumlin-seal-fails-"));
  folders.push(path);
  const store = storeInOneThread(path);
  store.followers.follow("influx");
  store.add(rowsFrom(beginMs, beginMs + 6 * hourMs, 1));
  store.commit();
  store.sealAll();
  store.add(rowsFrom(beginMs + 2 * hourMs, beginMs + 3 * hourMs, 500));
  store.commit();
  store.add(rowsFrom(beginMs + 6 * hourMs, beginMs + 60 * hourMs, 7));
  store.commit(1, true);
  return { path, store };
}
type Store = ReturnType<typeof storeInOneThread>;

const seen = (store: Store) => ({
  rows: names.map((name) => store.rows(name)),
  sums: names.map((name) => store.buckets(name, beginMs, beginMs + 3 * dayMs, 12)),
  latest: names.map((name) => store.latestMs(name)),
});

/** All that a follower is given, the last word of each row. */
function followed(store: Store): Map<string, number | null> {
  const far = new Map<string, number | null>();
  for (const range of store.followers.owed("influx", 1000)) {
    for (const { series, tMs, value } of store.rows(range.series, range.fromMs, range.toMs))
      far.set(`${series} ${tMs}`, value);
    store.followers.paid("influx", range);
  }
  for (let batch = store.followers.next("influx"); batch; batch = store.followers.next("influx")) {
    for (const [row, tMs] of batch.tMs.entries())
      far.set(`${batch.names[batch.series[row] as number]} ${tMs}`, batch.values[row] as number);
    store.followers.sent("influx", batch.id);
  }
  return far;
}

/** What the thread that seals does when a step fails. */
function tries(store: Store): boolean {
  try {
    store.sealAll();
    return true;
  } catch {
    store.file.forgetParts();
    store.sealing.look();
    return false;
  }
}

/** After the failure, after the next try, and after a start, all is as it was before. */
function expectUnharmed({ path, store }: ReturnType<typeof lived>, what: string): void {
  const wanted = seen(reference.store);
  expect(seen(store), `${what}, failed`).toEqual(wanted);
  expect(tries(store), what).toBe(true);
  expect(seen(store), `${what}, sealed`).toEqual(wanted);
  store.close();
  const again = storeInOneThread(path);
  expect(seen(again), `${what}, started again`).toEqual(wanted);
  expect(followed(again), `${what}, followed`).toEqual(allFollowed);
  again.close();
}

let reference: ReturnType<typeof lived>;
let allFollowed: ReadonlyMap<string, number | null>;
function begin(): void {
  reference = lived();
  allFollowed = new Map(
    names.flatMap((name) => reference.store.rows(name).map(({ tMs, value }) => [`${name} ${tMs}`, value])),
  );
  expect(allFollowed.size).toBe(3 * 120);
}

const failed = () => Object.assign(new Error("disk I/O error"), { errcode: 778 });

it("a write that fails: nothing of that step stands, and the next try does all of it", () => {
  begin();
  const run = StatementSync.prototype.run;
  let writes = 0;
  for (let at = 1; at === 1 || at <= writes; at += 1) {
    const life = lived();
    let done = 0;
    const spy = vi.spyOn(StatementSync.prototype, "run").mockImplementation(function (
      this: StatementSync,
      ...values
    ) {
      done += 1;
      if (done === at) throw failed();
      return run.apply(this, values as never);
    });
    const isWhole = tries(life.store);
    spy.mockRestore();
    // The first life tells how many writes there are.
    if (at === 1) writes = countWrites();
    expect(isWhole, `write ${at} of ${writes}`).toBe(false);
    expectUnharmed(life, `write ${at}`);
  }
  expect(writes).toBeGreaterThan(30);
}, 120_000);

function countWrites(): number {
  const { store } = lived();
  const spy = vi.spyOn(StatementSync.prototype, "run");
  store.sealAll();
  const { length } = spy.mock.calls;
  spy.mockRestore();
  store.close();
  return length;
}

it("a commit that fails, and a failure that SQLite has rolled back itself", () => {
  begin();
  const exec = DatabaseSync.prototype.exec;
  for (const isRolledBack of [false, true]) {
    const life = lived();
    let isFirst = true;
    const spy = vi.spyOn(DatabaseSync.prototype, "exec").mockImplementation(function (
      this: DatabaseSync,
      sql,
    ) {
      if (sql === "COMMIT" && isFirst) {
        isFirst = false;
        if (isRolledBack) exec.call(this, "ROLLBACK");
        throw failed();
      }
      return exec.call(this, sql);
    });
    expect(tries(life.store)).toBe(false);
    spy.mockRestore();
    expectUnharmed(life, isRolledBack ? "rolled back" : "not committed");
  }
});

it("a disk without room for it, from none at all to just too little", () => {
  begin();
  let failures = 0;
  for (let room = 0; room < 12; room += 1) {
    const life = lived();
    const { database } = life.store;
    const { page_count: pages } = database.prepare("PRAGMA page_count").get() as { page_count: number };
    database.exec(`PRAGMA max_page_count = ${pages + room}`);
    if (!tries(life.store)) failures += 1;
    expect(seen(life.store), `${room} pages`).toEqual(seen(reference.store));
    database.exec("PRAGMA max_page_count = 1000000");
    expectUnharmed(life, `${room} pages`);
  }
  expect(failures).toBeGreaterThan(0);
}, 120_000);
