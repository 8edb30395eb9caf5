import { existsSync, mkdtempSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { DatabaseSync } from "node:sqlite";
import { createCalendar, logbookRecords, pastRecords } from "@drumlin/gateway/app";
import type { DrumWater, Fill } from "@drumlin/gateway/fills";
import { isRecorded, type Logbook, type LogbookOutcome, openLogbook } from "@drumlin/gateway/logbook";
import fc from "fast-check";
import { afterEach, beforeEach, describe, expect, it } from "vitest";
import { replaceNow } from "./replace-now.ts";

let folder: string;
let logbook: Logbook;
beforeEach(() => {
  folder = mkdtempSync(join(tmpdir(), "drumlin-records-"));
  logbook = openLogbook({ folder });
});
afterEach(() => {
  logbook.close();
  rmSync(folder, { recursive: true, force: true });
});

const word = (drum: string, atMs: number, verdict = "use") =>
  ({ kind: "drum-water", drum, atMs, verdict }) as unknown as DrumWater;
const fill = (drum: string, startedAtMs: number, revision = 0) =>
  ({ kind: "fill", id: `${drum}@${startedAtMs}`, drum, startedAtMs, revision }) as unknown as Fill;
const presence = (node: string, seq: number, atMs: number, firmware = "1") =>
  ({ kind: "presence", node, seq, atMs, firmware, online: true }) as unknown as LogbookOutcome;
const note = (seq: number, atMs: number, validFromMs?: number): LogbookOutcome => ({
  kind: "act-done",
  id: `${seq}.1`,
  act: {
    type: "note",
    id: `n${seq}`,
    by: "keeper",
    text: "x",
    ...(validFromMs === undefined ? {} : { validFromMs }),
  },
  atMs,
  refused: null,
});

describe("a logbook of before there were rows", () => {
  // What schema 2 was made with, word for word.
  const schema2 = `
    CREATE TABLE alarm (place INTEGER PRIMARY KEY, id TEXT NOT NULL UNIQUE, seq INTEGER NOT NULL, at INTEGER NOT NULL, key TEXT NOT NULL, change TEXT NOT NULL);
    CREATE INDEX alarm_seq ON alarm (seq);
    CREATE TABLE act (id TEXT PRIMARY KEY, at INTEGER NOT NULL, type TEXT NOT NULL, refused TEXT, act TEXT NOT NULL);
    CREATE TABLE line (seq INTEGER PRIMARY KEY, at INTEGER NOT NULL, yaml TEXT NOT NULL);
    CREATE TABLE rejection (code TEXT NOT NULL, node TEXT NOT NULL, count INTEGER NOT NULL, last_seq INTEGER NOT NULL, last_record INTEGER NOT NULL, last_at INTEGER NOT NULL, examples TEXT NOT NULL, PRIMARY KEY (code, node));
    CREATE TABLE fill (id TEXT PRIMARY KEY, drum TEXT NOT NULL, started INTEGER NOT NULL, fill TEXT NOT NULL);
    CREATE INDEX fill_started ON fill (started);
    CREATE TABLE drum_water (drum TEXT NOT NULL, at INTEGER NOT NULL, water TEXT NOT NULL, PRIMARY KEY (drum, at));
    CREATE TABLE derivation (job TEXT PRIMARY KEY, from_ms INTEGER NOT NULL, done INTEGER NOT NULL DEFAULT 0);
    PRAGMA user_version = 2;`;

  it("is copied, brought up, and everything in it is still there", () => {
    logbook.close();
    rmSync(join(folder, "logbook.sqlite"));
    const old = new DatabaseSync(join(folder, "logbook.sqlite"));
    old.exec(schema2);
    old
      .prepare("INSERT INTO fill VALUES (?, ?, ?, ?)")
      .run("fresh@5", "fresh", 5, JSON.stringify(fill("fresh", 5)));
    old.exec("INSERT INTO line VALUES (1, 2, 'drumlin: 1'); INSERT INTO derivation VALUES ('j', 7, 0)");
    old.close();
    logbook = openLogbook({ folder });
    expect(logbook.fill("fresh@5")).toEqual(fill("fresh", 5));
    expect(logbook.lastLine()).toBe("drumlin: 1");
    expect(logbook.derivations.waiting()).toEqual([{ job: "j", fromMs: 7 }]);
    logbook.record([presence("press", 3, 4)]);
    expect(logbook.lastPresences()).toHaveLength(1);
    expect(existsSync(join(folder, "logbook-before-10.sqlite"))).toBe(true);
  });
});

describe("records", () => {
  it("of every kind come out again, oldest first", () => {
    const told = [fill("fresh", 9), fill("salt", 3), presence("press", 1, 1), note(2, 20)];
    logbook.record(told);
    expect([...logbook.all("fill")]).toEqual([fill("salt", 3), fill("fresh", 9)]);
    expect([...logbook.all("presence")]).toEqual([presence("press", 1, 1)]);
    expect([...logbook.all("act-done")]).toMatchObject([{ id: "2.1", act: { text: "x" }, refused: null }]);
    expect([...logbook.all("alarm")]).toEqual([]);
  });

  it("only what is a record is one", () => {
    expect(
      ["alarm", "act-done", "start", "measurement", "constructor"].filter((kind) => isRecorded({ kind })),
    ).toEqual(["alarm", "act-done", "start"]);
  });

  it("a fill that was derived is not taken back by an entry that is run again", () => {
    logbook.record([fill("fresh", 1, 0), fill("fresh", 1, 2), fill("fresh", 1, 1)]);
    expect(logbook.fill("fresh@1")?.revision).toBe(2);
  });

  it("a node that says the same again is written once", () => {
    logbook.record([presence("press", 1, 1), presence("press", 5, 5), presence("press", 9, 9, "2")]);
    expect(logbook.lastPresences(9)).toEqual([presence("press", 1, 1)]);
    expect(logbook.lastPresences()).toEqual([presence("press", 9, 9, "2")]);
  });
});

describe("what happened in a stretch of time", () => {
  it("is in order of the time from which it counts, from (included) to (not included)", () => {
    logbook.record([
      note(4, 400, 150),
      note(2, 200),
      { ...note(3, 250), refused: { code: "no-such-drum" } } as LogbookOutcome,
      { kind: "line", seq: 1, atMs: 100, yaml: "a" },
      { kind: "start", seq: 5, atMs: 150 },
      presence("press", 6, 300),
    ]);
    const got = logbook.pastEvents(100, 300).map(({ kind, seq, atMs }) => [kind, seq, atMs]);
    expect(got).toEqual([
      ["line", 1, 100],
      ["act", 4, 150],
      ["start", 5, 150],
      ["act", 2, 200],
    ]);
    expect(logbook.pastEvents(300, 301)).toMatchObject([{ kind: "presence", what: { node: "press" } }]);
  });

  it("is all there, however many acts of one type came after it", () => {
    logbook.record(Array.from({ length: 1500 }, (_, index) => note(index + 1, 1000 + index)));
    expect(logbook.pastEvents(1000, 3000)).toHaveLength(1500);
    const { list } = logbookRecords(logbook, createCalendar());
    expect(list("act note", 2)).toMatchObject([{ atMs: 2498 }, { atMs: 2499, act: { id: "n1500" } }]);
    const { list: then } = pastRecords(logbook, createCalendar()).before(1003);
    expect(then("act note", 2)).toMatchObject([{ atMs: 1001 }, { atMs: 1002 }]);
    const calibrations = Array.from({ length: 1500 }, (_, index): LogbookOutcome => {
      const { atMs, id, ...done } = note(2000 + index, 5000 + index) as Extract<
        LogbookOutcome,
        { kind: "act-done" }
      >;
      const points = [{ read: 1, true: 2 }];
      const act = { type: "calibration", id, by: "keeper", channel: "press/ec-1", points } as const;
      return { ...done, id, atMs, act };
    });
    logbook.record(calibrations);
    expect(list("calibration", Number.POSITIVE_INFINITY)).toHaveLength(1500);
  });

  it("words of it are replaced by those that were derived, others stay", () => {
    logbook.record([word("fresh", 1), word("fresh", 5), word("fresh", 9), word("salt", 5)]);
    replaceNow(logbook.replacingWords(2, 9, [word("fresh", 6, "hold")]));
    expect([...logbook.all("drum-water")]).toHaveLength(4);
    expect(logbook.lastWords(9)).toEqual([word("salt", 5), word("fresh", 6, "hold")]);
  });
});

describe("the newest of each", () => {
  const drum = fc.constantFrom("fresh", "salt", "", "constructor");
  const at = fc.integer({ min: 0, max: 40 });
  it("is what a search through all of them finds", () => {
    fc.assert(
      fc.property(
        fc.array(fc.tuple(drum, at)),
        at,
        fc.integer({ min: 1, max: 3 }),
        (told, beforeMs, perDrum) => {
          const kept = mkdtempSync(join(folder, "run-"));
          const book = openLogbook({ folder: kept });
          try {
            book.record(told.flatMap(([name, ms]) => [word(name, ms), fill(name, ms)]));
            const names = [...new Set(told.map(([name]) => name))];
            const times = (name: string) =>
              [
                ...new Set(told.filter(([one, ms]) => one === name && ms < beforeMs).map(([, ms]) => ms)),
              ].sort((a, b) => a - b);
            const expected = (count: number) =>
              names
                .flatMap((name) =>
                  times(name)
                    .slice(-count)
                    .map((ms) => `${name}@${ms}`),
                )
                .sort();
            expect(
              book
                .lastWords(beforeMs)
                .map((one) => `${one.drum}@${one.atMs}`)
                .sort(),
            ).toEqual(expected(1));
            expect(
              book
                .lastFills(perDrum, beforeMs)
                .map(({ id }) => id)
                .sort(),
            ).toEqual(expected(perDrum));
          } finally {
            book.close();
          }
        },
      ),
      { numRuns: 20 },
    );
  });
});
