// A store of the first schema is moved into the new one: ended at each write of it by a kill, and by a power loss.
import {
  copyFileSync,
  existsSync,
  mkdtempSync,
  readdirSync,
  rmSync,
  statSync,
  truncateSync,
  writeFileSync,
} from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { DatabaseSync, StatementSync } from "node:sqlite";
import { afterEach, expect, it, vi } from "vitest";
import type { SeriesRow } from "../../../gateway/src/series/series-store.ts";
import { leaveEarlier } from "../../../gateway/src/series/sqlite/earlier-store.ts";
import { setEarlierBeside } from "../../../gateway/src/series/sqlite/schema.ts";
import { storeInOneThread, writeEarlier } from "./store-in-one-thread.ts";

const dayMs = 86_400_000;
const names = ["reading/press/ec-1[S/m]", "point/supply/flow"];
/** Three days; the second series has none on the middle one. */
const earlierRows: SeriesRow[] = names.flatMap((series, index) =>
  [0, 1, 2]
    .filter((day) => index === 0 || day !== 1)
    .flatMap((day) =>
      [0, 1, 2, 3].map(
        (at): SeriesRow => ({ series, tMs: day * dayMs + at * 7_200_000, value: day + at / 10, flag: 1 }),
      ),
    ),
);
/** What came to the new store: it stands above what is moved, at one time in place of it. */
const laterRows: SeriesRow[] = [
  { series: names[0] as string, tMs: 2 * dayMs + 7_200_000, value: 77, flag: 3 },
  { series: names[0] as string, tMs: 2 * dayMs + 7_300_000, value: 78, flag: 1 },
  // So much later that the rows before it are sealed.
  { series: names[0] as string, tMs: 2 * dayMs + 70_000_000, value: 79, flag: 1 },
];

function expected(series: string): SeriesRow[] {
  const byTime = new Map<number, SeriesRow>();
  for (const row of [...earlierRows, ...laterRows]) if (row.series === series) byTime.set(row.tMs, row);
  return [...byTime.values()].sort((a, b) => a.tMs - b.tMs);
}

const folders: string[] = [];
function folder(): string {
  const path = mkdtempSync(join(tmpdir(), "drumlin-moved-"));
  folders.push(path);
  return path;
}
afterEach(() => {
  vi.restoreAllMocks();
  for (const path of folders.splice(0)) rmSync(path, { recursive: true, force: true });
});

function copyOf(lived: string, logBytes = Number.POSITIVE_INFINITY): string {
  const copy = folder();
  for (const name of readdirSync(lived))
    if (!name.endsWith("-shm")) copyFileSync(join(lived, name), join(copy, name));
  const log = join(copy, "series.sqlite-wal");
  if (existsSync(log) && statSync(log).size > logBytes) truncateSync(log, logBytes);
  return copy;
}

/** Whatever a start finds: all rows are there, before and after the rest is moved and when the earlier store has gone. */
function expectWhole(found: string, what: string): void {
  const store = storeInOneThread(found);
  const rows = () => names.map((name) => store.rows(name));
  const all = names.map(expected);
  expect(rows(), `${what}, at the start`).toEqual(all);
  while (store.moving?.step()) expect(rows(), `${what}, going on`).toEqual(all);
  store.sealAll();
  expect(rows(), `${what}, moved`).toEqual(all);
  store.reader.earlier?.close();
  store.reader.earlier = null;
  leaveEarlier(store.file, join(found, "series-1.sqlite"));
  expect(rows(), `${what}, left`).toEqual(all);
  for (const [index, name] of names.entries())
    expect(
      store.buckets(name, 0, 3 * dayMs, 3).count.reduce((sum, one) => sum + one, 0),
      `${what}, rolled up`,
    ).toBe(all[index]?.length);
  store.close();
}

it("killed at each write of a move, and with the log cut to its last sync or to half of what came since", () => {
  const lived = folder();
  writeEarlier(lived, earlierRows);
  const store = storeInOneThread(lived);
  store.database.exec("PRAGMA wal_autocheckpoint = 0");
  store.add(laterRows);
  store.commit(1, true);
  store.sealAll();
  store.commit(2, true);
  const log = join(lived, "series.sqlite-wal");
  const synced = statSync(log).size;
  const found: [string, string][] = [];
  let writes = 0;
  const run = StatementSync.prototype.run;
  vi.spyOn(StatementSync.prototype, "run").mockImplementation(function (this: StatementSync, ...values) {
    const done = run.apply(this, values as never);
    writes += 1;
    found.push([`write ${writes}`, copyOf(lived)]);
    return done;
  });
  for (let isMore = true, moves = 1; isMore; moves += 1) {
    isMore = store.moving?.step() ?? false;
    const since = statSync(log).size - synced;
    for (const share of [0, 0.5, 1])
      found.push([
        `${moves} moves, ${share} of the log since`,
        copyOf(lived, synced + Math.floor(since * share)),
      ]);
  }
  vi.restoreAllMocks();
  store.close();
  // Five days of series, each of some writes.
  expect(writes).toBeGreaterThanOrEqual(5 * 4);
  for (const [what, path] of found) expectWhole(path, what);
});

it("killed while the earlier store is set beside, and while it is taken away", () => {
  const path = (of: string) => join(of, "series.sqlite");
  const beside = (of: string) => join(of, "series-1.sqlite");
  const begun = (): string => {
    const made = folder();
    writeEarlier(made, earlierRows);
    copyFileSync(beside(made), path(made));
    rmSync(beside(made));
    return made;
  };
  const cuts: Readonly<Record<string, (of: string) => void>> = {
    "before anything": () => {},
    "its log put into it": (of) => {
      const database = new DatabaseSync(path(of));
      database.exec("PRAGMA journal_mode = WAL");
      database.exec("PRAGMA journal_mode = DELETE");
      database.close();
    },
    renamed: (of) => setEarlierBeside(path(of), () => {}),
    "renamed, the new file empty": (of) => {
      setEarlierBeside(path(of), () => {});
      writeFileSync(path(of), "");
    },
    "renamed, the new file begun": (of) => {
      setEarlierBeside(path(of), () => {});
      storeInOneThread(of).close();
    },
  };
  for (const [what, cut] of Object.entries(cuts)) {
    const found = begun();
    cut(found);
    setEarlierBeside(path(found), () => {});
    const store = storeInOneThread(found);
    store.add(laterRows);
    store.commit(1, true);
    store.close();
    expectWhole(found, what);
  }
  // Some of its files are gone, the first one first.
  for (const gone of [0, 1, 3]) {
    const found = begun();
    setEarlierBeside(path(found), () => {});
    const store = storeInOneThread(found);
    store.add(laterRows);
    store.commit(1, true);
    while (store.moving?.step());
    store.close();
    for (const suffix of ["", "-journal", "-wal", "-shm"].slice(0, gone))
      rmSync(beside(found) + suffix, { force: true });
    expectWhole(found, `${gone} files gone`);
  }
});
