// The line file names another contact for a float, or turns it round, while the drum rests at 180 L: no water came or went.
// Written down before the first run.
import { describe, expect, it } from "vitest";
import type { Life } from "./outside-life.ts";
import { at, callsOf, drawn, kits, usual, usualS, words } from "./outside-plans.ts";

const line = (yaml: string) => (life: Life, atS: number) => life.bench.line(yaml, atS);
const { meter, overflow } = kits;
const swapped = overflow
  .replace("stop: tubs/stop-tub", "stop: tubs/over-tub")
  .replace("overflow: tubs/over-tub", "overflow: tubs/stop-tub");
const stop = (says: string) => meter.replace("stop: tubs/stop-tub", `stop: ${says}`);
const told = (lived: ReturnType<typeof usual>) => callsOf(lived).map((text) => text.split(":")[0]);

describe("another contact tells of a float", () => {
  it("stop and overflow are mixed up for 10 min: the overflow is wet by that file; put right, the word is what it was", () => {
    const resets = at(1200, (life, atS) => {
      const found = life.bench.standing().find(({ condition }) => condition === "drum-high-high");
      const { key, occurrence } = found ?? {};
      life.refused.push(life.bench.act({ type: "reset", key, occurrence }, atS));
    });
    const lived = usual(overflow, 0.8, [
      ...[at(300, line(swapped)), at(900, line(overflow)), resets, at(1500, drawn(22))],
    ]);
    expect(told(lived)).toContain("drum-high-high");
    expect(told(lived)).not.toContain("flow-disagrees");
    expect(lived.refused).toEqual([null, null]);
    expect(words(lived, "tub", usualS)).toEqual(["use"]);
    expect(lived.fills.at(-1)).toMatchObject({ end: "float-tripped", tripConfirmed: true });
  });

  it("a stop float is turned round for 5 min: no call that ended past a meter at 0", () => {
    const turned = stop("{ channel: tubs/stop-tub, wet: false }");
    const right = stop("{ channel: tubs/stop-tub, wet: true }");
    const lived = usual(right, 0.6, [at(300, line(turned)), at(600, line(right)), at(1200, drawn(22))]);
    expect(callsOf(lived)).toEqual([]);
    expect(words(lived, "tub", usualS)).toEqual(["use"]);
  });

  it("a stop float gets another input for good: the next fill ends by it", () => {
    const also = at(0, ({ tubs }) => {
      tubs.alter = (records) => [
        ...records,
        ...records.filter(({ n }) => n === "stop-tub").map((one) => ({ ...one, n: "spare" })),
      ];
    });
    const lived = usual(meter, 0.6, [also, at(300, line(stop("tubs/spare"))), at(600, drawn(22))]);
    expect(callsOf(lived)).toEqual([]);
    expect(lived.fills.at(-1)).toMatchObject({ end: "float-tripped", tripConfirmed: true });
    expect(words(lived, "tub", usualS)).toEqual(["use"]);
  });
});
