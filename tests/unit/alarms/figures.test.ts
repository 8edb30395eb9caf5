import { type AlarmChange, alarmFigures, conditionRows, figuresSentence } from "@drumlin/gateway/alarms";
import { readLine } from "@drumlin/gateway/line";
import { describe, expect, it } from "vitest";
import { AlarmLife } from "../notifications/alarm-life.ts";

const minute = 60_000;
const day = 24 * 60 * minute;
const from = Date.parse("2026-03-02T00:00:00Z");
const week = { fromMs: from, toMs: from + 7 * day };

/** What happened, by the minute. */
function changesOf(
  said: readonly (readonly [atMin: number, what: "raise" | "return" | "see", alarm: number])[],
): readonly AlarmChange[] {
  const life = new AlarmLife(["wake", "tell", "today"]);
  for (const [atMin, what, alarm] of said) life.do(what, alarm, from + atMin * minute);
  return life.changes;
}

describe("figures of a week", () => {
  it("counts calls, what needed a person, and how soon it was seen", () => {
    const changes = changesOf([
      [0, "raise", 0],
      [4, "see", 0],
      [9, "return", 0],
      [100, "raise", 1],
      [110, "return", 1],
      [140, "see", 1],
      [200, "raise", 2],
    ]);
    const standing = changes.slice(-1).map(({ alarm }) => alarm);
    const figures = alarmFigures(changes, standing, week);
    expect(figures).toMatchObject({
      calls: 2,
      needed: 1,
      seenWithin10Min: 0.5,
      medianUntilSeenMs: 22 * minute,
      stale: ["test:a2"],
      chattering: [],
    });
    expect(figures.callsPerDay).toBeCloseTo(2 / 7, 12);
    expect(figuresSentence(figures)).toBe("2 calls, 1 seen while it stood.");
  });

  it("finds what comes and goes, and says what to change", () => {
    const changes = changesOf(
      Array.from({ length: 5 }, (_, n) => [
        [n * 3, "raise", 1],
        [n * 3 + 1, "return", 1],
        [n * 3 + 2, "see", 1],
      ]).flat() as never,
    );
    const figures = alarmFigures(changes, [], week);
    expect(figures.chattering).toEqual(["test:a1"]);
    expect(figuresSentence(figures)).toBe("5 calls, none seen while it stood; 5 came from test: change it?");
  });

  it("says so when nothing happened", () => {
    expect(figuresSentence(alarmFigures([], [], week))).toBe("No calls.");
  });
});

describe("work in progress", () => {
  it("silences what that stage or drum can cause, never a stop, a flood or another drum", () => {
    const read = readLine(`drumlin: 1
site: saltmarsh-house
points: { supply: { conductivity: press/ec-1 }, after-resin: { conductivity: press/ec-2 } }
stages: { resin: { kind: resin, from: supply, to: after-resin } }
drums:
  fresh: { volume: 200 L, fed_by: supply, stop: drums/f-1, level: { channel: drums/l-1, as: volume } }
  mix: { volume: 200 L, fed_by: after-resin, stop: drums/f-2, level: { channel: drums/l-2, as: volume } }
`);
    if (!read.ok) throw new Error(JSON.stringify(read.faults));
    const { line } = read;
    const silenced = conditionRows.flatMap((row) =>
      row.subjects(line).flatMap((subject) => {
        const works = row.work?.(line, subject) ?? [];
        return works.map((work) => ({ row: row.id, subject, work }));
      }),
    );
    expect(silenced.length).toBeGreaterThan(4);
    for (const { row, subject, work } of silenced) {
      expect(["drum-not-stopping", "drum-high-high", "site-silent", "node-silent"]).not.toContain(row);
      if (work.kind !== "stage") expect(work.id).toBe(subject.id);
    }
  });
});
