import {
  cpSync,
  existsSync,
  mkdirSync,
  mkdtempSync,
  readdirSync,
  readFileSync,
  rmSync,
  writeFileSync,
} from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { DatabaseSync } from "node:sqlite";
import { startGateway } from "@drumlin/gateway/app";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { backUp } from "../../gateway/src/app/backup/back-up.ts";
import { sumOf } from "../../gateway/src/app/backup/manifest.ts";
import { restore } from "../../gateway/src/app/backup/restore.ts";
import { drumlin } from "./command-line.ts";
import { smallestLine } from "./gateway-process.ts";

const onProgress = () => {};
let folder: string;
let backup: string;
let files: readonly string[];

beforeAll(async () => {
  folder = mkdtempSync(join(tmpdir(), "drumlin-newer-"));
  const data = join(folder, "data");
  backup = join(folder, "backup");
  mkdirSync(data);
  const where = { host: "127.0.0.1", port: 0 };
  const gateway = await startGateway({
    data,
    lineYaml: smallestLine,
    http: where,
    mqtt: where,
    log: () => {},
  });
  await gateway.stop();
  const manifest = await backUp({ data, to: backup, withSecrets: false, nowMs: 7, onProgress });
  files = manifest.files.map(({ name }) => name).filter((name) => /\.(sqlite|state)$/.test(name));
});
afterAll(() => rmSync(folder, { recursive: true, force: true }));

/** The backup with something done to one of its files, whose sum is right again afterwards. */
async function changed(name: string, change: (path: string) => void): Promise<string> {
  const from = mkdtempSync(join(folder, "changed-"));
  cpSync(backup, from, { recursive: true });
  const path = join(from, name);
  change(path);
  const manifest = JSON.parse(readFileSync(join(from, "manifest.json"), "utf8"));
  for (const file of manifest.files)
    if (file.name === name)
      Object.assign(file, { bytes: readFileSync(path).length, sha256: await sumOf(path) });
  writeFileSync(join(from, "manifest.json"), JSON.stringify(manifest));
  return from;
}

function raise(by: number) {
  return (path: string) => {
    const database = new DatabaseSync(path);
    const { user_version: schema } = database.prepare("PRAGMA user_version").get() as {
      user_version: number;
    };
    database.exec(`PRAGMA user_version = ${schema + by}`);
    database.close();
  };
}

describe("a backup that a newer version made", () => {
  it("holds each kind of file that has a schema", () => {
    expect(files.map((name) => name.replace(/\d{12}/, "N")).sort()).toEqual([
      ...[
        "accounts.sqlite",
        "checkpoint.state",
        "journal-N.sqlite",
        "logbook.sqlite",
        "notifications.sqlite",
      ],
      "series.sqlite",
    ]);
  });

  it("is refused, whichever of its files is newer, before anything is made or touched; one of this version is not", async () => {
    for (const name of files) {
      const from = await changed(name, raise(1));
      const data = join(folder, "made", name);
      await expect(restore({ from, data, onProgress })).rejects.toThrow(
        new RegExp(
          `/${name} was written by a newer Drumlin \\(schema \\d+; this one knows \\d+\\): nothing was put back\\. Restore it with that version\\.$`,
        ),
      );
      expect(existsSync(data)).toBe(false);
      const same = await changed(name, raise(0));
      await restore({ from: same, data, onProgress });
      expect(readdirSync(data)).toContain(name);
    }
  });

  it("leaves a folder into which a restore was cut off as it was: what lies there may be all that there is", async () => {
    const from = await changed("logbook.sqlite", raise(1));
    const data = join(folder, "cut-off");
    mkdirSync(join(data, "restoring"), { recursive: true });
    cpSync(join(backup, "manifest.json"), join(data, "restoring", "manifest.json"));
    cpSync(join(backup, "series.sqlite"), join(data, "series.sqlite"));
    await expect(restore({ from, data, onProgress })).rejects.toThrow("a newer Drumlin");
    expect(readdirSync(data).sort()).toEqual(["restoring", "series.sqlite"]);
    expect(readdirSync(join(data, "restoring"))).toEqual(["manifest.json"]);
  });

  it("on the command line it is one plain sentence", async () => {
    const from = await changed("series.sqlite", raise(4));
    const done = await drumlin(["restore", "--from", from, "--data", join(folder, "by-hand")]);
    expect(done).toMatchObject({ code: 1, out: "" });
    expect(done.errors.trim().split("\n")).toEqual([
      expect.stringMatching(/series\.sqlite was written by a newer Drumlin \(schema 7; this one knows 3\)/),
    ]);
  });
});

it("a file of a backup whose first page is damaged is no newer one: all the rest is put back", async () => {
  const journal = files.find((name) => name.startsWith("journal-")) as string;
  const from = await changed(journal, (path) => {
    const bytes = readFileSync(path);
    bytes.fill(0xa5, 40, 100);
    writeFileSync(path, bytes);
  });
  const data = join(folder, "damaged");
  await restore({ from, data, onProgress });
  expect(readdirSync(data)).toContain(journal);
});

it("a backup whose manifest is damaged, or of which a file is missing, is refused in plain words, and nothing is made", async () => {
  const from = await changed("series.sqlite", raise(0));
  const data = join(folder, "not-made");
  rmSync(join(from, "logbook.sqlite"));
  await expect(restore({ from, data, onProgress })).rejects.toThrow(
    /logbook\.sqlite is missing: nothing was put back\.$/,
  );
  writeFileSync(join(from, "manifest.json"), '{"drumlin": 1, "at');
  await expect(restore({ from, data, onProgress })).rejects.toThrow(
    /manifest\.json is damaged: nothing was put back\. Take another backup\.$/,
  );
  expect(existsSync(data)).toBe(false);
});
