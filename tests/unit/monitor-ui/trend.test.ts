import type { AlarmChangeView, Buckets } from "@drumlin/gateway/contract";
import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { axisOf } from "../../../monitor-ui/src/trend/axis.ts";
import type { Series } from "../../../monitor-ui/src/trend/channels.ts";
import { csvOf } from "../../../monitor-ui/src/trend/csv.ts";
import { bucketAt, curveOn, doubtfulIn, emptyIn, rangeOf } from "../../../monitor-ui/src/trend/curve.ts";
import { standsOf } from "../../../monitor-ui/src/trend/stands.ts";
import { timeTicks } from "../../../monitor-ui/src/trend/time-axis.ts";
import {
  between,
  lastHours,
  moved,
  ofLink,
  spanOf,
  toLink,
  zoomed,
} from "../../../monitor-ui/src/trend/window.ts";

const now = Date.UTC(2026, 10, 25, 7, 18);
const hour = 3_600_000;

describe("the window of the trend", () => {
  it("goes on with now until it is moved, and again once it is moved back", () => {
    const day = lastHours(24, now);
    const earlier = moved(day, -6 * hour, now);
    expect([earlier.live, now - earlier.toMs, spanOf(earlier)]).toEqual([false, 6 * hour, 24 * hour]);
    expect(moved(earlier, 7 * hour, now)).toEqual(day);
  });

  it("zooms about a time, which stays where it is", () => {
    const half = zoomed(moved(lastHours(24, now), -24 * hour, now), 0.5, now - 36 * hour, now);
    expect([spanOf(half), half.fromMs]).toEqual([12 * hour, now - 42 * hour]);
  });

  it.each([
    [-5, -2],
    [-2, -5],
  ])("between two times in any order it stands from the earlier to the later: %s h and %s h", (a, b) => {
    const window = between(now + a * hour, now + b * hour, now);
    expect([window.live, window.fromMs, window.toMs]).toEqual([false, now - 5 * hour, now - 2 * hour]);
  });

  it("never leaves two minutes to two years, nor goes past now; its link gives it back", () => {
    const number = fc.double({ min: -1e12, max: 1e12, noNaN: true });
    fc.assert(
      fc.property(number, number, fc.double({ min: 1e-6, max: 1e6, noNaN: true }), (a, b, factor) => {
        const window = zoomed(between(now + a, now + b, now), factor, now - 1e9, now);
        expect(window.toMs).toBeLessThanOrEqual(now);
        expect(spanOf(window)).toBeGreaterThanOrEqual(2 * 60_000 - 1);
        expect(spanOf(window)).toBeLessThanOrEqual(731 * 86_400_000 + 1);
        const again = ofLink(new URLSearchParams(toLink(window)), now);
        if (window.fromMs > 2000) {
          expect(again.live).toBe(window.live);
          expect(Math.abs(again.fromMs - window.fromMs)).toBeLessThan(3000);
        }
      }),
      { numRuns: 200 },
    );
  });

  it.each(["", "hours=0", "hours=x", "from=5&to=4", "hours=-3"])(
    "a link that says nothing good is the last day: %s",
    (link) => {
      expect(ofLink(new URLSearchParams(link), now)).toEqual(lastHours(24, now));
    },
  );
});

describe("axes", () => {
  it.each([
    [0.3, 402, "uS/cm", true, "0.1 1 10 100 1000"],
    [380, 420, "uS/cm", false, "380 390 400 410 420"],
    [16, 17.2, "Cel", false, "16 16.5 17 17.5"],
    [0, 200, "L", false, "0 50 100 150 200"],
    [171, 171, "L", false, "165 170 175 180"],
    [-2, 3, "Cel", false, "-2 0 2 4"],
  ])("from %s to %s %s", (low, high, unit, isLog, words) => {
    const axis = axisOf(low, high, unit);
    expect([axis.isLog, axis.ticks.map((tick) => tick.words.replace(/\.0$/, "")).join(" ")]).toEqual([
      isLog,
      words,
    ]);
  });

  it("hold every value, the greater above the smaller", () => {
    const value = fc.double({ min: 0.001, max: 1e5, noNaN: true });
    fc.assert(
      fc.property(value, value, fc.constantFrom("uS/cm", "L", "Cel"), (a, b, unit) => {
        const [low, high] = [Math.min(a, b), Math.max(a, b)];
        const axis = axisOf(low, high, unit);
        expect(axis.y(high)).toBeGreaterThanOrEqual(-1e-9);
        expect(axis.y(low)).toBeLessThanOrEqual(1 + 1e-9);
        expect(axis.y(high)).toBeLessThanOrEqual(axis.y(low));
        expect(axis.ticks.length).toBeLessThanOrEqual(9);
      }),
    );
  });

  it("times are round by the house's own clock, across the hour that is missing in spring", () => {
    // Berlin, 29 March 2026: 02:00 becomes 03:00 (IANA zone data).
    const zone = "Europe/Berlin";
    const ticks = timeTicks(Date.UTC(2026, 2, 28, 20, 10), Date.UTC(2026, 2, 29, 10), 6, {
      zone,
      locale: "en-GB",
    });
    expect(ticks.map(({ words }) => words)).toEqual(["Sun 29", "03:00", "06:00", "09:00", "12:00"]);
    expect(ticks.map(({ ms }) => new Date(ms).toISOString().slice(11, 16))).toEqual([
      "23:00",
      "01:00",
      "04:00",
      "07:00",
      "10:00",
    ]);
    const two = timeTicks(now - 24 * hour, now, 6, { zone: "Asia/Kolkata", locale: "en-GB" });
    expect(two[0]?.words).toBe("18:00");
    expect(new Date(two[0]?.ms ?? 0).getUTCMinutes()).toBe(30);
  });
});

/** One bucket a minute; null is empty, a pair is lowest and highest. */
function bucketsOf(
  values: readonly (number | readonly [number, number] | null)[],
  flags: readonly number[] = [],
): Buckets {
  const low = values.map((one) => (one === null ? null : typeof one === "number" ? one : one[0]));
  const high = values.map((one) => (one === null ? null : typeof one === "number" ? one : one[1]));
  return {
    unit: "uS/cm",
    bucketMs: 60_000,
    t: values.map((_, at) => at * 60_000),
    min: low,
    mean: low,
    max: high,
    count: values.map((one) => (one === null ? 0 : 1)),
    flag: values.map((one, at) => (flags[at] ?? (one === null ? 9 : 1)) as 1),
  };
}

describe("curves", () => {
  const loaded = { fromMs: 0, toMs: 600_000 };
  it("a spike of one reading stands in the band, though the mean hardly moves", () => {
    const values = Array.from({ length: 10 }, (_, at): number | [number, number] =>
      at === 5 ? [10, 90] : 10,
    );
    const { band } = curveOn(bucketsOf(values), axisOf(0, 100, "L"), loaded);
    expect(band).toContain("L550.00 100.0");
  });

  it("gaps stay gaps, a lone reading is a dot", () => {
    const { mean } = curveOn(bucketsOf([5, 5, null, null, 7, null, null, 5, 5]), axisOf(0, 10, "L"), loaded);
    expect(mean.match(/M/g)).toHaveLength(3);
    expect(mean).toContain("h.01");
    expect(emptyIn([bucketsOf([5, null, null, 7]), bucketsOf([5, null, null, null])])).toEqual([
      { fromMs: 60_000, toMs: 180_000 },
    ]);
  });

  it("knows its range, what is doubtful, and what stands at a time", () => {
    const buckets = bucketsOf([1, [2, 8], null, 3], [1, 3, 9, 4]);
    expect(rangeOf([buckets])).toEqual({ low: 1, high: 8 });
    expect(rangeOf([bucketsOf([null])])).toBeNull();
    expect(doubtfulIn(buckets)).toEqual([
      { fromMs: 60_000, toMs: 120_000 },
      { fromMs: 180_000, toMs: 240_000 },
    ]);
    expect(bucketAt(buckets, 70_000)).toMatchObject({ min: 2, max: 8, flag: 3 });
    expect([bucketAt(buckets, 130_000), bucketAt(buckets, -1), bucketAt(buckets, 1e9)]).toEqual([
      null,
      null,
      null,
    ]);
  });
});

describe("at the cursor", () => {
  it("a probe that speaks once a minute has no empty tens of seconds: the nearer reading stands where the curve is drawn", () => {
    // Ten seconds each; readings at 0 s and 60 s, then nothing until 240 s.
    const values = Array.from({ length: 25 }, (_, at) => ({ 0: 120, 6: 126, 24: 150 })[at] ?? null);
    const minutes = bucketsOf(values);
    const buckets = { ...minutes, bucketMs: 10_000, t: minutes.t.map((ms) => ms / 6) };
    const means = [0, 20_000, 45_000, 60_000, 90_000, 240_000].map((ms) => bucketAt(buckets, ms)?.mean);
    expect(means).toEqual([120, 120, 126, 126, undefined, 150]);
  });
});

describe("alarms as stretches", () => {
  const change = (at: number, key: string, to: AlarmChangeView["to"]) =>
    ({ at: new Date(at).toISOString(), to, alarm: { key, attention: "tell" } }) as AlarmChangeView;
  it("last from raised to ended, seen or not; one that goes on has no end", () => {
    const changes = [
      change(5000, "b", "unacknowledged"),
      change(4000, "a", "returned-unacknowledged"),
      change(1000, "a", "unacknowledged"),
      change(2000, "a", "acknowledged"),
      change(6000, "a", "normal"),
      change(7000, "c", "latched-unacknowledged"),
    ];
    const found = standsOf(changes, 0, 10_000).map(({ key, fromMs, toMs }) => [key, fromMs, toMs]);
    expect(found).toEqual([
      ["a", 1000, 4000],
      ["b", 5000, null],
    ]);
    expect(standsOf(changes, 4500, 4800)).toEqual([]);
  });
});

describe("as a table", () => {
  it("has a row a bucket, names quoted where they need it (RFC 4180)", () => {
    const series = {
      title: 'Resin, "B"',
      unit: "uS/cm",
      buckets: bucketsOf([[1, 2], null]),
    } as unknown as Series;
    expect(csvOf([series])).toBe(
      'time,"Resin, ""B"" mean [uS/cm]","Resin, ""B"" min [uS/cm]","Resin, ""B"" max [uS/cm]","Resin, ""B"" count","Resin, ""B"" flag"\r\n' +
        "1970-01-01T00:00:00.000Z,1,1,2,1,1\r\n1970-01-01T00:01:00.000Z,,,,0,9\r\n",
    );
  });
});
