import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { InDoubt, inDoubtMs, stretchesOf } from "../../../gateway/src/series/influx/in-doubt.ts";
import { InfluxError, outcomeOf } from "../../../gateway/src/series/influx/influx-outcome.ts";
import { rowsAsBatch } from "../../../gateway/src/series/influx/rows-as-batch.ts";

const dayMs = 86_400_000;
const row = fc.record({
  series: fc.constantFrom("a", "b"),
  tMs: fc.integer({ min: -3 * dayMs, max: 3 * dayMs }),
  value: fc.constant(1),
  flag: fc.constant(1 as const),
});

describe("stretches of writes without an answer", () => {
  it("hold every row of the piece, begin and end with one, within a day of one series", () => {
    fc.assert(
      fc.property(fc.array(row, { minLength: 1, maxLength: 30 }), fc.nat(30), fc.nat(30), (rows, a, b) => {
        const [from, to] = [Math.min(a, rows.length), Math.min(b, rows.length)];
        const piece = rows.slice(from, to);
        const stretches = stretchesOf(rowsAsBatch(rows), from, to);
        for (const { series, tMs } of piece)
          expect(
            stretches.filter((one) => one.series === series && one.fromMs <= tMs && tMs < one.toMs),
          ).toHaveLength(1);
        for (const { series, fromMs, toMs } of stretches) {
          const times = piece.filter((one) => one.series === series).map(({ tMs }) => tMs);
          expect(times).toContain(fromMs);
          expect(times).toContain(toMs - 1);
          expect(Math.floor(fromMs / dayMs)).toBe(Math.floor((toMs - 1) / dayMs));
        }
      }),
    );
  });

  it("are over when nothing has failed on them for five minutes; one that fails again waits anew, whole", () => {
    const doubts = new InDoubt();
    const first = { series: "a", fromMs: 100, toMs: 200 };
    const other = { series: "b", fromMs: 100, toMs: 200 };
    doubts.note([first, other], 0);
    expect(doubts.over(inDoubtMs - 1)).toEqual([]);
    doubts.note([{ series: "a", fromMs: 150, toMs: 900 }], 1000);
    expect(doubts.over(inDoubtMs)).toEqual([other]);
    doubts.settled(inDoubtMs);
    expect(doubts.all()).toEqual([{ series: "a", fromMs: 100, toMs: 900 }]);
    expect(doubts.over(inDoubtMs + 999)).toEqual([]);
    expect(doubts.over(inDoubtMs + 1000)).toEqual([{ series: "a", fromMs: 100, toMs: 900 }]);
    const underWay = { series: "c", fromMs: 100, toMs: 200 };
    doubts.underWay = [underWay];
    doubts.settled(inDoubtMs + 1000);
    expect([doubts.all(), doubts.over(1e12)]).toEqual([[underWay], []]);
  });
});

it.each<[Error, boolean]>([
  [Object.assign(new Error("connect"), { code: "ECONNREFUSED" }), false],
  ...["ENOTFOUND", "EAI_AGAIN", "EHOSTUNREACH", "ENETUNREACH"].map((code): [Error, boolean] => [
    Object.assign(new Error(code), { code }),
    false,
  ]),
  [Object.assign(new Error("socket hang up"), { code: "ECONNRESET" }), true],
  [new Error("Request timed out"), true],
  [new InfluxError("influx-unauthorised", "authorization failed"), false],
  [new InfluxError("influx-partial-write", "unable to parse"), false],
  // 1.x says so when a shard takes longer than its write-timeout, and goes on with the write.
  [Object.assign(new Error("timeout"), { statusCode: 500, body: '{"error":"timeout"}' }), true],
])("after %s something may be stored yet: %s", (error, mayBeStored) => {
  expect(outcomeOf(error).mayBeStored).toBe(mayBeStored);
});
