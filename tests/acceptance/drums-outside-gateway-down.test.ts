// The gateway is down while a drum fills; what its nodes kept comes in when it is back, and a keeper draws on. Written down
// before the first run.
import { describe, expect, it } from "vitest";
import { type Events, keeping } from "./outside-keeping.ts";
import { at, callsOf, drawn, epochMs, kits, litresOff, restart, usual, usualS } from "./outside-plans.ts";

const downS = 3000;
/** It is down from 290 s after a draw of 27 L on; everything comes in 20 packs a second. */
const gatewayDown = (more: Events): Events => {
  const { events } = keeping(downS + 2, () => ({ press: 20, tubs: 20 }));
  const shifted = events.map(([atS, does]) => at(atS + 290, does));
  return [at(0, drawn(27, 10)), at(290, restart(downS)), ...shifted, ...more];
};

describe("the gateway was down while a drum filled, and its nodes kept all of it", () => {
  it("a great draw while the last of it comes in: it is another fill, and nobody is woken", () => {
    // 27 L, then 103, 30 and 90 L in one call: 250 L and more came in since the gateway went down.
    const lived = usual(kits.level, 2.6, [
      ...gatewayDown([
        at(1560, drawn(16)),
        at(3335, drawn(103, 40)),
        at(4240, drawn(30)),
        at(5200, drawn(90, 40)),
      ]),
    ]);
    expect(callsOf(lived)).toEqual([]);
    const since = lived.fills.filter(({ startedAtMs }) => startedAtMs > epochMs(usualS));
    expect(since.map(({ end }) => end)).toEqual(["float-tripped", "float-tripped"]);
    expect(since[0]?.endedAtMs).toBeLessThan(epochMs(usualS + 600));
    expect(since[1]?.startedAtMs).toBeGreaterThan(epochMs(usualS + 3335));
    expect(litresOff(lived)).toBeLessThan(3);
  });

  // Back at 3292 s; the drum that was drawn from then is at its trip 64 L later.
  it.each([
    ["hangs dry as the drum fills in the silence", 300, [], 3335],
    ["hangs dry after it had tripped, while the gateway is down", 1500, [], 3335],
    ["hangs dry in the great draw that follows", 3340, [at(3335, drawn(60, 40))], 4320],
  ] as const)("the stop float %s: a wake as soon as it is heard of", (_says, atS, more, latestS) => {
    const lived = usual(kits.level, 2, [
      ...gatewayDown([...more]),
      at(atS, ({ tub }) => {
        tub.contact = () => false;
      }),
    ]);
    const [first] = lived.calls.filter(({ atS: callS }) => callS > usualS);
    expect(first).toMatchObject({ key: "drum-not-stopping:tub", attention: "wake" });
    expect(first?.atS).toBeLessThan(usualS + latestS);
  });
});

/** 103 L are drawn, the level is not heard for a minute as they come in again, and two such draws follow in the same call. */
const inMidFill = (kit: keyof typeof kits, more: Events) =>
  usual(kits[kit], 1.4, [at(0, drawn(103, 40)), at(150, restart(60)), ...more]);

describe.each(["level", "both"] as const)(
  "%s: a level that was not heard for a while in a great fill",
  (kit) => {
    it("tells again what the drum holds: it may take that and what is drawn, and nobody is woken", () => {
      const lived = inMidFill(kit, [at(900, drawn(103, 40)), at(1500, drawn(90, 40))]);
      expect(callsOf(lived)).toEqual([]);
      expect(lived.house.tubs.tub?.cameIn).toBeGreaterThan(350);
    });

    it("the float hangs dry in it: a wake before the brim", () => {
      const [first] = inMidFill(kit, [
        at(180, ({ tub }) => {
          tub.contact = () => false;
        }),
      ]).calls;
      expect(first).toMatchObject({ key: "drum-not-stopping:tub", attention: "wake", floor: 0 });
      expect(first?.holds.tub).toBeLessThan(185);
    });
  },
);
