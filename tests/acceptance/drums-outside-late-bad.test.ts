// The press's node alone is away while a drum fills, and what it had kept comes once that is over: bad water is bad water,
// whoever counted its litres. Written down before the first run.
import { describe, expect, it } from "vitest";
import { type Events, keeping } from "./outside-keeping.ts";
import type { Life } from "./outside-life.ts";
import { act, at, drawn, draws, kits, released, usual, usualS, words } from "./outside-plans.ts";

const good = (kappa: number) => (life: Life) => {
  life.house.good = kappa;
};
const shut = (is: boolean) => (life: Life) => {
  life.house.isSupplyShut = is;
};
/** Away for 44 min, over two draws of 24 L; bad water from its begin to its end. */
function pressAway(line: string, more: Events, before?: Events) {
  const { events } = keeping(2640, () => ({ press: 9 }), ["press"]);
  return usual(line, 1.4, [...events, ...more], before);
}
const twoFills = [at(100, drawn(24)), at(1300, drawn(24))];
const badFor = (kappa: number) => [at(10, good(kappa)), at(2500, good(0.2))];

describe("what a probe's node tells late of fills that are over", () => {
  it.each([
    ["float", 60],
    // Over the limit of what may come in, under the band of what may be in the drum.
    ["float", 8],
    ["level", 60],
    ["level", 8],
  ] as const)("%s: they were of %d uS/cm: on hold, and both are told", (kit, kappa) => {
    const lived = pressAway(kits[kit], [...twoFills, ...badFor(kappa)]);
    expect(words(lived, "tub", usualS + 2640).at(-1)).toBe("hold");
    const bad = lived.fills.filter(({ badAtMs }) => badAtMs != null);
    expect(bad).toHaveLength(2);
    expect(bad.map(({ reasons }) => reasons.length)).toEqual([1, 1]);
  });

  it("float: of good water: nobody knows how much came in, and nothing is held", () => {
    const lived = pressAway(kits.float, twoFills);
    expect(words(lived)).toEqual(["unknown", "use", "unknown"]);
  });

  it("float: top-ups of 45 s each add up", () => {
    const topUps = draws(3.2, { fromS: 100, everyS: 500, times: 5 });
    const { events } = keeping(2640, () => ({ press: 9 }), ["press"]);
    const tubs = { tub: { release: 177, litres: 178, dose: 178 } };
    const lived = usual(
      kits.float,
      1.4,
      [...events, ...topUps, at(10, good(30)), at(2500, good(0.2))],
      [released(), ...draws(3.2)],
      { tubs },
    );
    expect(words(lived).at(-1)).toBe("hold");
  });

  it("float: its supply was shut for most of the call: what stood before it is no water of it", () => {
    const { events } = keeping(6000, () => ({ press: 12 }), ["press"]);
    const lived = usual(kits.float, 2.2, [
      ...events,
      ...[at(100, drawn(24)), at(240, shut(true)), at(5000, shut(false))],
    ]);
    expect(words(lived)).not.toContain("hold");
  });

  it("float: a person has answered for the drum since: it stays in their answer", () => {
    const answered = at(2100, act({ type: "release", drum: "tub", reason: "hand-test", value25UsPerCm: 3 }));
    const lived = pressAway(kits.float, [...twoFills, ...badFor(60), answered]);
    expect(words(lived, "tub", usualS + 2640)).not.toContain("hold");
  });

  it("float: a person answers for it in mid-fill, and bad water runs on: on hold", () => {
    const answered = at(1800, act({ type: "release", drum: "tub", reason: "hand-test", value25UsPerCm: 3 }));
    const draws = [at(100, drawn(24)), at(1300, drawn(50, 60))];
    const lived = pressAway(kits.float, [...draws, ...badFor(60), answered]);
    expect(lived.refused).toEqual([null, null]);
    expect(words(lived, "tub", usualS + 2640).at(-1)).toBe("hold");
  });
});
