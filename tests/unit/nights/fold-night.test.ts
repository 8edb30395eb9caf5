import type { DrumWater, Fill } from "@drumlin/gateway/fills";
import { foldNight, type NightRecords } from "@drumlin/gateway/nights";
import { expect, it } from "vitest";

const hourMs = 3_600_000;
const [fromMs, toMs] = [40 * hourMs, 50 * hourMs];
const none = {
  ...{ drums: ["mix"], titleOf: (id: string) => id, fills: [], gaps: [], draws: [], floats: [], batches: [] },
  ...{ wordsBefore: [], words: [], alarmsBefore: [], alarms: [], acts: [], works: [], nodeStarts: [] },
} satisfies NightRecords;
const nightAt = (nowMs: number, records: Partial<NightRecords>) =>
  foldNight({ date: "2026-03-03", timezone: "UTC", fromMs, toMs }, { ...none, ...records }, nowMs);
const gap = (from: number, to: number | null) => ({
  ...{ kind: "gap" as const, id: `press/ec@${from}`, of: "channel" as const, subject: "press/ec" },
  ...{ fromMs: from, toMs: to },
});
const word = (atMs: number, verdict: DrumWater["verdict"], reasons: string[], more: object = {}) =>
  ({
    ...{ kind: "drum-water", drum: "mix", verdict, sinceMs: fromMs + 1, reasons, blend25: 1, unwatched: 0 },
    ...{ atMs, ...more },
  }) as DrumWater;
const firstOf = (records: Partial<NightRecords>) => nightAt(toMs, records).first.map(({ text }) => text);

it.each([
  [1, 10, "10 min"],
  [10, 15, "15 min"],
])(
  "after %i h of a night, %i min of them not heard: so many, not that share of the whole night",
  (hours, minutes, said) => {
    const begin = fromMs + 60_000;
    const night = nightAt(fromMs + hours * hourMs, { gaps: [gap(begin, begin + minutes * 60_000)] });
    expect(night.unwatchedMs).toBe(minutes * 60_000);
    expect(night.first.map(({ text }) => text)).toEqual([`${said} of the night were not watched`]);
  },
);
it("what is not heard still counts up to now", () => {
  expect(nightAt(fromMs + hourMs, { gaps: [gap(fromMs + hourMs / 2, null)] })).toMatchObject({
    watched: 0.5,
    unwatchedMs: hourMs / 2,
  });
});
it("a word that stays tells its reasons of now", () => {
  const words = [word(fromMs + 1, "hold", ["over"]), word(fromMs + 5, "hold", ["over", "chlorine"])];
  expect(firstOf({ words })).toEqual(["mix: hold, over, chlorine"]);
  const wordsBefore = [word(1, "unknown", ["no fill was seen yet"])];
  const later = [word(fromMs + 5, "unknown", ["30 % unwatched"])];
  expect(firstOf({ wordsBefore, words: later })).toEqual(["mix: unknown, 30 % unwatched"]);
  expect(nightAt(toMs, { wordsBefore, words: later }).drums[0]?.words).toHaveLength(1);
});
it("each word once, since it was said first", () => {
  const words = [
    word(fromMs + 1, "hold", ["over"]),
    word(fromMs + 5, "hold", ["chlorine"]),
    word(fromMs + 9, "use", [], { sinceMs: fromMs + 9 }),
  ];
  expect(nightAt(toMs, { words }).drums[0]?.words).toMatchObject([
    { verdict: "hold", sinceMs: fromMs + 1, reasons: ["chlorine"] },
    { verdict: "use", sinceMs: fromMs + 9 },
  ]);
});
it("salt that is mixed asks for nothing; used up while the word stays hold, it does", () => {
  const mixing = word(fromMs + 1, "hold", ["not ready"], { batch: "mixing" });
  expect(firstOf({ words: [mixing] })).toEqual([]);
  const heel = word(fromMs + 5, "hold", ["only the heel is left"], { batch: "heel" });
  expect(firstOf({ words: [mixing, heel] })).toEqual(["mix: hold, only the heel is left"]);
});
it("a fill over its begin is in it; one that ended as it began, or was withdrawn, is not", () => {
  const fill = (id: string, from: number, to: number, more: object = {}) =>
    ({
      kind: "fill",
      id,
      drum: "mix",
      startedAtMs: from,
      endedAtMs: to,
      litres: 20,
      mean25: 1,
      peak25: 1,
      watched: 1,
      ...more,
    }) as Fill;
  const fills = [
    fill("over", fromMs - 60_000, fromMs + 60_000),
    fill("before", fromMs - 60_000, fromMs),
    fill("gone", fromMs + 1, fromMs + 2, { withdrawn: true }),
  ];
  expect(nightAt(toMs, { fills })).toMatchObject({ litres: 20, fills: [{ id: "over" }] });
});
it("of nothing it says nothing", () => {
  const night = nightAt(toMs, {});
  expect(night).toMatchObject({ litres: null, watched: 1, unwatchedMs: 0, first: [], fills: [] });
  expect(night.drums).toMatchObject([{ litres: null, mean25: null, watched: null, words: [] }]);
});
