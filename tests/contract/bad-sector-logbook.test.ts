import {
  copyFileSync,
  mkdtempSync,
  readdirSync,
  readFileSync,
  rmSync,
  statSync,
  writeFileSync,
} from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { openLogbook } from "@drumlin/gateway/logbook";
import { afterAll, describe, expect, it } from "vitest";
import { failingDisks, folderOn, pageBytes, spoilPage } from "./failing-disk.ts";

const onDisk = await failingDisks();
afterAll(() => onDisk[0]?.unmount());

const notes = 3000;
const act = (n: number) =>
  ({
    kind: "act-done",
    id: `act-${n}`,
    atMs: n,
    seq: n,
    refused: null,
    act: { id: `act-${n}`, type: "note", by: "Wren", text: `note ${n} `.padEnd(200, "reed ") },
  }) as never;

function fill(folder: string) {
  const logbook = openLogbook({ folder });
  for (let n = 1; n <= notes; n += 1) logbook.record([act(n)], n);
  return logbook;
}
const idsIn = (logbook: ReturnType<typeof fill>) =>
  [...logbook.all("act-done")].map((one) => Number((one as { id: string }).id.slice("act-".length)));

/** Two pages of a logbook are bad, 40 apart: all that lies on others is there, in its order, with its number. */
async function expectKept(folder: string, strike: (path: string, page: number) => Promise<void> | void) {
  fill(folder).close();
  const path = join(folder, "logbook.sqlite");
  const middle = Math.floor(statSync(path).size / pageBytes / 2);
  await strike(path, middle);
  await strike(path, middle + 40);
  const told: unknown[] = [];
  const logbook = openLogbook({ folder, nowMs: 7, beforeRenewal: (fault) => told.push(fault.why) });
  expect(told).toEqual(["damaged"]);
  const ids = idsIn(logbook);
  // A page holds some ten of them.
  expect(ids.length).toBeGreaterThan(notes - 50);
  expect(ids).toEqual([...ids].sort((a, b) => a - b));
  expect(logbook.page("act-done", 1)[0]?.place).toBe(notes);
  logbook.close();
}

it("a logbook with two garbled pages keeps what lies before, between and after them", async () => {
  const folder = mkdtempSync(join(tmpdir(), "drumlin-garbled-"));
  await expectKept(folder, (path, page) => {
    const bytes = readFileSync(path);
    bytes.fill(0xa5, page * pageBytes, (page + 1) * pageBytes);
    writeFileSync(path, bytes);
  });
  rmSync(folder, { recursive: true });
});

describe.each(onDisk)("a disk that does not give a page of the logbook", (failing) => {
  it("of its file", async () => {
    await expectKept(folderOn(failing), (path, page) => spoilPage(failing, path, page));
  });

  it("of its file the first: it is set aside as it is, and another one is begun", async () => {
    const folder = folderOn(failing);
    fill(folder).close();
    await spoilPage(failing, join(folder, "logbook.sqlite"), 0);
    const told: unknown[] = [];
    const logbook = openLogbook({ folder, nowMs: 7, beforeRenewal: (fault) => told.push(fault.why) });
    expect(told).toEqual(["damaged"]);
    logbook.close();
    expect(readdirSync(folder).some((name) => name.startsWith("logbook.sqlite.damaged-"))).toBe(true);
  });

  it("of the log beside it: what its file has is kept", async () => {
    const lived = folderOn(failing);
    fill(lived).close();
    const going = openLogbook({ folder: lived });
    for (let n = notes + 1; n <= notes + 50; n += 1) going.record([act(n)], n);
    const folder = folderOn(failing);
    for (const name of ["logbook.sqlite", "logbook.sqlite-wal"])
      copyFileSync(join(lived, name), join(folder, name));
    going.close();
    const log = join(folder, "logbook.sqlite-wal");
    await spoilPage(failing, log, Math.floor(statSync(log).size / pageBytes / 2));
    const told: unknown[] = [];
    const logbook = openLogbook({ folder, nowMs: 7, beforeRenewal: (fault) => told.push(fault.why) });
    expect(told).toEqual(["damaged"]);
    expect(idsIn(logbook).length).toBeGreaterThanOrEqual(notes);
    logbook.close();
    expect(readdirSync(folder).some((name) => name.startsWith("logbook.sqlite.damaged-"))).toBe(true);
  });
});
