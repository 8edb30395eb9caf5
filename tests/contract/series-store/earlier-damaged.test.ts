// A store of the first schema that is damaged before it is moved, or while it is: what can be read of it is there, before and after.
import { copyFileSync, mkdtempSync, readdirSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { DatabaseSync } from "node:sqlite";
import { openSqliteSeries, type SeriesRow } from "@drumlin/gateway/series";
import { afterEach, describe, expect, it } from "vitest";
import { mendStore } from "../../../gateway/src/series/sqlite/soundness.ts";
import { storeInOneThread, writeEarlier } from "../../unit/series/store-in-one-thread.ts";

const dayMs = 86_400_000;
const days = 6;
const everyMs = 120_000;
const names = ["reading/press/ec-1[S/m]", "point/supply/flow"];
const perSeries = (days * dayMs) / everyMs;
const valueAt = (index: number, tMs: number) => tMs / everyMs + index / 10;
const earlierRows = names.flatMap((series, index) =>
  Array.from({ length: perSeries }, (_, at): SeriesRow => {
    const tMs = at * everyMs;
    return { series, tMs, value: valueAt(index, tMs), flag: 1 };
  }),
);

const folders: string[] = [];
function folder(): string {
  const path = mkdtempSync(join(tmpdir(), "drumlin-earlier-"));
  folders.push(path);
  return path;
}
afterEach(() => {
  for (const path of folders.splice(0)) rmSync(path, { recursive: true, force: true });
});

/** A folder with the store under the name given, and its pages of a table. */
function earlier(name: string): { readonly path: string; readonly pagesOf: (table: string) => number[] } {
  const path = folder();
  writeEarlier(path, earlierRows);
  const database = new DatabaseSync(join(path, "series-1.sqlite"));
  const pages = database
    .prepare("SELECT name, pageno FROM dbstat WHERE pagetype = 'leaf' ORDER BY pageno")
    .all();
  database.close();
  copyFileSync(join(path, "series-1.sqlite"), join(path, `${name}.new`));
  rmSync(join(path, "series-1.sqlite"));
  copyFileSync(join(path, `${name}.new`), join(path, name));
  rmSync(join(path, `${name}.new`));
  const pagesOf = (table: string) =>
    pages.filter((page) => page.name === table).map(({ pageno }) => pageno as number);
  return { path, pagesOf };
}

function garble(file: string, page: number): void {
  const bytes = readFileSync(file);
  bytes.fill(0xa5, (page - 1) * 4096, page * 4096);
  writeFileSync(file, bytes);
}

/** What the store gives of each series, now and once all is moved; each row as it was written. */
async function lookAt(path: string) {
  const told: string[] = [];
  const store = await openSqliteSeries({
    folder: path,
    againMs: 20,
    beforeRenewal: ({ why }) => told.push(why),
    onMended: ({ why }) => told.push(`mended: ${why}`),
  });
  const counts = async () => {
    const found: number[] = [];
    for (const [index, name] of names.entries()) {
      let count = 0;
      for await (const rows of store.range(name, -dayMs, 10 * days * dayMs))
        for (const { tMs, value } of rows) {
          expect(value).toBe(valueAt(index, tMs));
          count += 1;
        }
      found.push(count);
    }
    return found;
  };
  const atOnce = await counts();
  await expect.poll(() => store.moveProgress()).toBe(null);
  const moved = await counts();
  const inBuckets: number[] = [];
  for (const name of names)
    inBuckets.push(
      (await store.buckets(name, 0, days * dayMs, days)).count.reduce((sum, one) => sum + one, 0),
    );
  const trouble = store.trouble()?.kind ?? null;
  await store.close();
  const files = readdirSync(path).filter((name) => name.includes("damaged"));
  return {
    atOnce,
    moved,
    inBuckets,
    trouble,
    told,
    aside: files.map((name) => name.replace(/-\d{8}T.*/, "")),
  };
}

describe("a store of the first schema", () => {
  it("is moved to its end though it is done before the store is open, and says so", async () => {
    const { path } = earlier("series.sqlite");
    const { atOnce, moved, aside, told } = await lookAt(path);
    expect([atOnce, moved, aside, told]).toEqual([[perSeries, perSeries], [perSeries, perSeries], [], []]);
  });

  it.each(["series.sqlite", "series-1.sqlite"])(
    "with a bad page of rows (%s) loses those, keeps their roll-ups, and is set aside when all else is moved",
    async (name) => {
      const { path, pagesOf } = earlier(name);
      const pages = pagesOf("row");
      garble(join(path, name), pages[Math.floor(pages.length / 3)] as number);
      const { atOnce, moved, inBuckets, trouble, told, aside } = await lookAt(path);
      // A page of 4 KiB holds some hundreds of rows.
      const lost = 2 * perSeries - atOnce.reduce((sum, one) => sum + one, 0);
      expect(lost).toBeGreaterThan(50);
      expect(lost).toBeLessThan(400);
      expect(moved).toEqual(atOnce);
      expect(inBuckets).toEqual([perSeries, perSeries]);
      expect(trouble).toBe("unreadable");
      expect(told.filter((why) => why !== "missing")).toEqual([]);
      expect(aside).toEqual(["series-1.sqlite.damaged"]);
    },
  );

  it("with bad pages at its end and its beginning loses no others", async () => {
    const { path, pagesOf } = earlier("series.sqlite");
    const pages = pagesOf("row");
    for (const page of [pages[0], pages.at(-1)]) garble(join(path, "series.sqlite"), page as number);
    const { atOnce, moved, inBuckets } = await lookAt(path);
    expect(2 * perSeries - atOnce.reduce((sum, one) => sum + one, 0)).toBeLessThan(800);
    expect(moved).toEqual(atOnce);
    expect(inBuckets).toEqual([perSeries, perSeries]);
  });

  it("of which no row can be read gives its roll-ups, and keeps nobody from anything", async () => {
    const { path } = earlier("series.sqlite");
    const database = new DatabaseSync(join(path, "series.sqlite"));
    const { rootpage } = database.prepare("SELECT rootpage FROM sqlite_schema WHERE name = 'row'").get() as {
      rootpage: number;
    };
    database.close();
    garble(join(path, "series.sqlite"), rootpage);
    const { moved, inBuckets, aside } = await lookAt(path);
    expect([moved, inBuckets, aside]).toEqual([[0, 0], [perSeries, perSeries], ["series-1.sqlite.damaged"]]);
  });

  it("that lost its last third is read as far as it goes", async () => {
    const { path } = earlier("series.sqlite");
    const bytes = readFileSync(join(path, "series.sqlite"));
    writeFileSync(join(path, "series.sqlite"), bytes.subarray(0, Math.floor(bytes.length / 12) * 8));
    const { atOnce, moved } = await lookAt(path);
    expect(Math.min(...atOnce)).toBeGreaterThan(perSeries / 2);
    expect(moved).toEqual(atOnce);
  });

  it.each([
    ["without anything in it", new Uint8Array()],
    ["that is none", new Uint8Array(100_000).fill(0x5a)],
  ])("%s is set aside and said: the gateway starts", async (_, bytes) => {
    const path = folder();
    writeFileSync(join(path, "series-1.sqlite"), bytes);
    const { moved, told, aside } = await lookAt(path);
    expect([moved, told, aside]).toEqual([[0, 0], ["damaged", "missing"], ["series-1.sqlite.damaged"]]);
  });
});

it("a new store that was damaged and made again while it took the rows of an earlier one takes them again", () => {
  const { path } = earlier("series-1.sqlite");
  const store = storeInOneThread(path);
  store.add([{ series: names[0] as string, tMs: dayMs / 2 + 1, value: 7, flag: 1 }]);
  store.commit(1, true);
  while (store.moving?.step());
  // The blocks of a page that can't be read are not carried over.
  store.database.exec(`DELETE FROM block WHERE begin < ${2 * dayMs}`);
  mendStore(store.database);
  store.close();
  const again = storeInOneThread(path);
  while (again.moving?.step());
  expect(again.rows(names[0] as string)).toHaveLength(perSeries + 1);
  expect(again.rows(names[1] as string)).toHaveLength(perSeries);
  expect(again.buckets(names[1] as string, 0, days * dayMs, days).count).toEqual(
    Array.from({ length: days }, () => dayMs / everyMs),
  );
  again.close();
});
