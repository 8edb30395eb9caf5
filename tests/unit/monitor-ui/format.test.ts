import { afterEach, describe, expect, it } from "vitest";
import { ofDevice, usual } from "../../../monitor-ui/src/data/settings.ts";
import { hourAndMinute } from "../../../monitor-ui/src/format/hour-and-minute.ts";
import { timeFor, timeIn } from "../../../monitor-ui/src/format/night-words.ts";
import { duration, figure, timeOfDay } from "../../../monitor-ui/src/format/numbers.ts";
import {
  changeWords,
  notJudgedWords,
  reasonWords,
  stateWords,
} from "../../../monitor-ui/src/format/words.ts";
import { dayAndTime, timeTicks } from "../../../monitor-ui/src/trend/time-axis.ts";

describe("what stands on the screen", () => {
  it.each([
    // Near pure water the third decimal decides: ASTM D1193 type I allows at most 0.056 uS/cm.
    [0.055, "0.055"],
    [0, "0.00"],
    [0.0996, "0.10"],
    [9.996, "10.0"],
    [99.96, "100"],
    [7.42, "7.42"],
    [41.26, "41.3"],
    [412.4, "412"],
    [-3.456, "-3.46"],
  ])("figure(%d) is %s", (value, text) => expect(figure(value)).toBe(text));
  it.each([
    [-5, "0 s"],
    [45_000, "45 s"],
    [72 * 60_000, "1 h 12 min"],
    [120 * 60_000, "2 h"],
    [3 * 86_400_000, "3 days"],
  ])("duration(%d ms) is %s", (ms, text) => expect(duration(ms)).toBe(text));
  it("words for what is not judged, for states and for reasons", () => {
    expect(notJudgedWords("no-flow")).toBe("not judged: no water running");
    expect(notJudgedWords(null)).toBe("");
    expect(stateWords("returned-unacknowledged")).toBe("ended, not seen yet");
    expect(reasonWords(["temperature-lost", "unproven"])).toBe(
      "temperature probe lost, probe not proved lately",
    );
    expect(changeWords("attention-raised")).toBe("more urgent now");
  });
  it("a word of a newer gateway is shown as it came", () => {
    expect(stateWords("half-seen" as never)).toBe("half-seen");
    expect(changeWords("constructor" as never)).toBe("constructor");
    expect(notJudgedWords("asleep" as never)).toBe("not judged: asleep");
  });
});

describe("the time of day, as a locale writes it", () => {
  afterEach(() => {
    ofDevice.value = null;
  });
  it.each([
    ["2026-11-26T23:40:00Z", "00:40"],
    ["2026-11-27T05:59:00Z", "06:59"],
    ["2026-11-26T19:59:00Z", "Thu 20:59"],
    ["2026-11-24T04:02:00Z", "Tue 05:02"],
    ["2026-11-19T04:02:00Z", "19 Nov 05:02"],
  ])("of a night from 26 November, 21:00 in Berlin, %s is %s", (iso, text) => {
    ofDevice.value = { ...usual, numbers: "en-GB" };
    expect(timeFor({ timezone: "Europe/Berlin", from: "2026-11-26T20:00:00Z" }, iso)).toBe(text);
  });
  // Berlin, 25 October 2026: 03:00 becomes 02:00 (IANA zone data).
  it.each([
    ["2026-10-24T23:59:00Z", "01:59"],
    ["2026-10-25T00:39:00Z", "02:39 GMT+2"],
    ["2026-10-25T01:40:00Z", "02:40 GMT+1"],
    ["2026-10-25T02:00:00Z", "03:00"],
  ])("a time that the night has twice comes with its offset: %s is %s", (iso, text) => {
    ofDevice.value = { ...usual, numbers: "en-GB" };
    expect(timeIn("Europe/Berlin", iso)).toBe(text);
  });
  const afternoon = Date.UTC(2026, 10, 25, 15, 28);
  const night = Date.UTC(2026, 10, 25, 3, 5);
  // Space and its narrow, unbroken kind are one here.
  const plain = (text: string) => text.replaceAll(/[\u00a0\u202f]/g, " ");
  it.each([
    ["en-US", "3:28 PM", "3:05 AM", "Wed, Nov 25, 3:05 AM", "4:00 AM"],
    ["en-GB", "15:28", "03:05", "Wed 25 Nov, 03:05", "04:00"],
    ["de-DE", "15:28", "03:05", "Mi., 25. Nov., 03:05", "04:00"],
  ] as const)("%s: %s, %s", (numbers, ...said) => {
    ofDevice.value = { ...usual, numbers };
    expect(
      [
        timeOfDay(new Date(afternoon), "UTC"),
        timeOfDay(new Date(night), "UTC"),
        dayAndTime(night, "UTC"),
        timeTicks(night, night + 3_600_000, 1, { zone: "UTC" })[0]?.words ?? "",
      ].map(plain),
    ).toEqual(said);
  });
  it("figures that stand in a column keep two digits, also where the language would write one", () => {
    expect(new Date(night).toLocaleTimeString("es-ES", { ...hourAndMinute("es-ES"), timeZone: "UTC" })).toBe(
      "03:05",
    );
  });
});
