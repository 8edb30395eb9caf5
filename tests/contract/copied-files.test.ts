import { copyFileSync, mkdtempSync, readdirSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { openAccounts } from "@drumlin/gateway/accounts";
import { openJournal } from "@drumlin/gateway/journal";
import { openLogbook } from "@drumlin/gateway/logbook";
import { openSqliteSeries } from "@drumlin/gateway/series";
import { afterEach, expect, it } from "vitest";

const folders: string[] = [];
function folder(): string {
  const path = mkdtempSync(join(tmpdir(), "drumlin-copied-"));
  folders.push(path);
  return path;
}
afterEach(() => {
  for (const path of folders.splice(0)) rmSync(path, { recursive: true, force: true });
});

it("after a clean stop the files alone, without their logs, are a whole copy", async () => {
  const path = folder();
  const journal = await openJournal({ folder: path, now: () => 1000 });
  const series = await openSqliteSeries({ folder: path });
  const logbook = openLogbook({ folder: path });
  const accounts = openAccounts({ folder: path, now: () => 1000 });
  await journal.append({ kind: "line", yaml: "drumlin: 1\n" });
  await series.write([{ series: "point/supply/flow", tMs: 1, value: 7, flag: 1 }]);
  logbook.record([{ kind: "line", seq: 1, atMs: 1000, yaml: "drumlin: 1\n" }]);
  accounts.tokens.add("display", "viewer", "test");
  // A command beside the gateway has them open too.
  const beside = openAccounts({ folder: path, now: () => 1000 });
  accounts.close();
  logbook.close();
  await series.close();
  await journal.close();

  const copy = folder();
  for (const name of readdirSync(path).filter((name) => name.endsWith(".sqlite")))
    copyFileSync(join(path, name), join(copy, name));
  beside.close();
  const journalAgain = await openJournal({ folder: copy, now: () => 2000 });
  expect(journalAgain.lastSeq).toBe(1);
  await journalAgain.close();
  const seriesAgain = await openSqliteSeries({ folder: copy });
  expect((await seriesAgain.latest("point/supply/flow"))?.value).toBe(7);
  await seriesAgain.close();
  const logbookAgain = openLogbook({ folder: copy });
  expect(logbookAgain.lastLine()).toBe("drumlin: 1\n");
  logbookAgain.close();
  const accountsAgain = openAccounts({ folder: copy, now: () => 2000 });
  expect(accountsAgain.tokens.list().map(({ name }) => name)).toEqual(["display"]);
  accountsAgain.close();
});
