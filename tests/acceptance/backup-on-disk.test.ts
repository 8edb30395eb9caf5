// What a power loss can't take: in which order a backup and a restore wait for the disk.
import fs, { mkdirSync, mkdtempSync, rmSync, writeFileSync } from "node:fs";
import promises from "node:fs/promises";
import { syncBuiltinESMExports } from "node:module";
import { tmpdir } from "node:os";
import { join, relative } from "node:path";
import { DatabaseSync } from "node:sqlite";
import { openJournal } from "@drumlin/gateway/journal";
import { afterEach, beforeEach, expect, it } from "vitest";
import { backUp } from "../../gateway/src/app/backup/back-up.ts";
import { restore } from "../../gateway/src/app/backup/restore.ts";

const { open } = promises;
const { renameSync, rmSync: remove } = fs;
const journal = "journal-000000000001.sqlite";
let place: string;
let data: string;
let state: DatabaseSync;

beforeEach(async () => {
  place = mkdtempSync(join(tmpdir(), "drumlin-backup-on-disk-"));
  data = join(place, "data");
  mkdirSync(join(data, "secrets"), { recursive: true });
  writeFileSync(join(data, "secrets", "smtp-password"), "sm7p-s3cret");
  const entries = await openJournal({ folder: data, now: () => 7 });
  for (let seq = 1; seq <= 5; seq += 1)
    await entries.append({ kind: "message", topic: "t", payload: Uint8Array.of(seq) });
  await entries.close();
  new DatabaseSync(join(data, "logbook.sqlite")).exec("CREATE TABLE act (id INTEGER PRIMARY KEY)");
  state = new DatabaseSync(join(data, "checkpoint.state"));
  state.exec("CREATE TABLE meta (seq INTEGER NOT NULL); INSERT INTO meta VALUES (3)");
});
afterEach(() => {
  Object.assign(promises, { open });
  Object.assign(fs, { renameSync, rmSync: remove });
  syncBuiltinESMExports();
  state.close();
  rmSync(place, { recursive: true, force: true });
});

/** From now on: what in this folder is waited for until the disk has it, renamed and taken away, in order. */
function doneIn(folder: string): readonly string[] {
  const done: string[] = [];
  const note = (what: string, path: unknown) => done.push(`${what} ${relative(folder, String(path)) || "."}`);
  Object.assign(promises, {
    async open(...given: Parameters<typeof open>) {
      const handle = await open(...given);
      const sync = handle.sync.bind(handle);
      handle.sync = async () => {
        note("disk has", given[0]);
        await sync();
      };
      return handle;
    },
  });
  Object.assign(fs, {
    renameSync(from: string, to: string) {
      note("renamed to", to);
      renameSync(from, to);
    },
    rmSync(path: string, options: object) {
      note("gone", path);
      remove(path, options);
    },
  });
  syncBuiltinESMExports();
  return done;
}

const backedUp = (to: string, onProgress: (at: { file: string }) => void = () => {}) =>
  backUp({ data, to, withSecrets: true, nowMs: 7, onProgress });
const files = ["checkpoint.state", "logbook.sqlite", "instance", "secrets/smtp-password", journal];

it("a backup bears its manifest only once the disk has every copy under its name, and is done once it has the manifest's", async () => {
  const to = join(place, "copies");
  const done = doneIn(to);
  await backedUp(to);
  expect(done).toEqual([
    ...files.map((name) => `disk has ${name}`),
    "disk has .",
    "disk has secrets",
    "disk has manifest.json.new",
    "renamed to manifest.json",
    "disk has .",
  ]);
});

it("a restore marks the folder before the first file is put into its place, until the disk has all of them there", async () => {
  const [from, to] = [join(place, "copies"), join(place, "back")];
  await backedUp(from);
  const done = doneIn(to);
  await restore({ from, data: to, onProgress: () => {} });
  expect(done).toEqual([
    ...files.map((name) => `disk has restoring/${name}`),
    "disk has restoring/manifest.json.new",
    "renamed to restoring/manifest.json",
    "disk has restoring",
    ...files.map((name) => `renamed to ${name}`),
    "disk has .",
    "disk has secrets",
    "gone restoring/manifest.json",
    "gone restoring",
    "disk has .",
  ]);
});

it("a backup's state is that of its begin: no store may be older than it", async () => {
  const manifest = await backedUp(join(place, "copies"), ({ file }) => {
    if (file === "logbook.sqlite") state.exec("UPDATE meta SET seq = 5");
  });
  expect(manifest).toMatchObject({ checkpointSeq: 3, journalSeq: 5 });
});
