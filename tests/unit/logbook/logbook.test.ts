import { mkdtempSync, readdirSync, readFileSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { DatabaseSync } from "node:sqlite";
import type { AlarmChange } from "@drumlin/gateway/alarms";
import { type Logbook, type LogbookOutcome, openLogbook } from "@drumlin/gateway/logbook";
import type { Rejection } from "@drumlin/gateway/readings";
import { afterEach, beforeEach, describe, expect, it } from "vitest";

let folder: string;
let logbook: Logbook;
beforeEach(() => {
  folder = mkdtempSync(join(tmpdir(), "drumlin-logbook-"));
  logbook = openLogbook({ folder });
});
afterEach(() => {
  logbook.close();
  rmSync(folder, { recursive: true, force: true });
});

function change(id: string, atMs: number): AlarmChange {
  return {
    kind: "alarm",
    id,
    atMs,
    from: "normal",
    to: "unacknowledged",
    why: "raised",
    by: null,
    annunciated: true,
    alarm: {
      key: "drum-high-high:fresh",
      occurrence: id,
      condition: "drum-high-high",
      subject: "fresh",
      attention: "wake",
      state: "unacknowledged",
      active: true,
      latched: false,
      under: null,
      judged: { now: true, because: null, sinceMs: atMs },
      raisedAtMs: atMs,
      clearedAtMs: null,
      acknowledgedAtMs: null,
      acknowledgedBy: null,
      shelvedUntilMs: null,
      value: 1,
      limit: 1,
      unit: "1",
      text: "",
      response: "",
    },
  };
}

function rejection(seq: number, more: Partial<Rejection> = {}): Rejection {
  return {
    kind: "rejection",
    seq,
    node: "press",
    topic: "drumlin/1/saltmarsh-house/press/readings",
    code: "unit-unknown",
    detail: `at ${seq}`,
    example: "{}",
    record: null,
    atMs: seq * 1000,
    ...more,
  } as Rejection;
}

describe("the logbook", () => {
  it("lists alarm changes newest first, page by page, none twice", () => {
    const changes = Array.from({ length: 5 }, (_, place) => change(`${place + 1}.1`, place * 1000));
    logbook.record(changes);
    const first = logbook.alarmChanges(2);
    const second = logbook.alarmChanges(2, first.at(-1)?.place);
    const third = logbook.alarmChanges(2, second.at(-1)?.place);
    expect([...first, ...second, ...third].map((one) => one.change)).toEqual([...changes].reverse());
    expect(logbook.alarmChanges(2, third.at(-1)?.place)).toEqual([]);
  });

  it("gives the changes after an entry, oldest first", () => {
    logbook.record([change("7.1", 1), change("7.2", 1), change("8.1", 2), change("12.1", 3)]);
    expect(logbook.alarmChangesAfter(7, 10).map(({ id }) => id)).toEqual(["8.1", "12.1"]);
    expect(logbook.alarmChangesAfter(0, 3).map(({ id }) => id)).toEqual(["7.1", "7.2", "8.1"]);
  });

  it("an entry that is run again writes nothing twice, also after it was opened anew", () => {
    const outcomes: LogbookOutcome[] = [
      change("3.1", 1),
      rejection(4),
      rejection(5, { record: 0 }),
      rejection(5, { record: 1 }),
      { kind: "line", seq: 2, atMs: 0, yaml: "drumlin: 1\n" },
    ];
    logbook.record(outcomes);
    logbook.close();
    logbook = openLogbook({ folder });
    logbook.record(outcomes);
    expect(logbook.alarmChanges(10)).toHaveLength(1);
    expect(logbook.rejections()).toMatchObject([{ code: "unit-unknown", node: "press", count: 3 }]);
  });

  it("counts rejections by code and node and keeps the last 20 examples of each", () => {
    for (let seq = 1; seq <= 30; seq += 1) logbook.record([rejection(seq)]);
    logbook.record([rejection(31, { node: null })]);
    const [foreign, press] = logbook.rejections();
    expect(foreign).toMatchObject({ node: null, count: 1, lastAtMs: 31_000 });
    expect(press).toMatchObject({ node: "press", count: 30, lastAtMs: 30_000 });
    expect(press?.examples.map(({ detail }) => detail)).toEqual(
      Array.from({ length: 20 }, (_, place) => `at ${30 - place}`),
    );
  });

  it("knows the line that came into force last, whatever the order of writing", () => {
    expect(logbook.lastLine()).toBeNull();
    logbook.record([
      { kind: "line", seq: 9, atMs: 2, yaml: "second" },
      { kind: "line", seq: 1, atMs: 1, yaml: "first" },
    ]);
    expect(logbook.lastLine()).toBe("second");
  });

  it("a batch is all or nothing", () => {
    const broken = { ...change("2.1", 2), atMs: Symbol("no number") } as unknown as AlarmChange;
    expect(() => logbook.record([change("1.1", 1), broken])).toThrow();
    expect(logbook.alarmChanges(10)).toEqual([]);
    logbook.record([change("1.1", 1)]);
    expect(logbook.alarmChanges(10)).toHaveLength(1);
  });

  it("keeps an act with what became of it", () => {
    const act = { type: "acknowledge", id: "a1", by: "operator", key: "k:s", occurrence: "1.1" } as const;
    logbook.record([{ kind: "act-done", id: "6.1", act, atMs: 5, refused: { code: "other-occurrence" } }]);
    const database = new DatabaseSync(join(folder, "logbook.sqlite"), { readOnly: true });
    const row = database.prepare("SELECT id, at, type, refused, act FROM act").get();
    database.close();
    expect(row).toMatchObject({ id: "6.1", at: 5, type: "acknowledge", refused: "other-occurrence" });
    expect(JSON.parse(row?.act as string)).toEqual(act);
  });

  it("leaves a file that a newer version wrote as it is, and uses another meanwhile", () => {
    logbook.close();
    const path = join(folder, "logbook.sqlite");
    const database = new DatabaseSync(path);
    database.exec("PRAGMA user_version = 99");
    database.close();
    const before = readFileSync(path);
    const faults: unknown[] = [];
    logbook = openLogbook({ folder, beforeRenewal: (fault) => faults.push(fault) });
    const used = join(folder, readdirSync(folder).find((name) => name.startsWith("logbook-for-")) as string);
    expect(faults).toEqual([{ why: "newer", aside: null, used, isWhole: false }]);
    expect(readFileSync(path)).toEqual(before);
  });
});

describe("calibrations", () => {
  it("come back in the order in which they were entered, valid from their entry where nothing else is said", () => {
    const calibration = (id: string, more: object) => ({
      kind: "act-done" as const,
      id: `${id}.1`,
      act: {
        id: `act-${id}`,
        by: "keeper",
        type: "calibration" as const,
        channel: "press/ec-1",
        points: [],
        ...more,
      },
      atMs: Number(id) * 1000,
      refused: null,
    });
    logbook.record([
      calibration("7", {}),
      calibration("3", { validFromMs: 50 }),
      { ...calibration("5", {}), refused: { code: "calibration-not-usable" } },
    ]);
    expect(logbook.calibrations().map(({ id, validFromMs }) => [id, validFromMs])).toEqual([
      ["act-3", 50],
      ["act-7", 7000],
    ]);
  });
});
