// A guided test of a stop float while its drum calls, the valve shut by hand: what the float says then is no water.
// Written down before the first run.
import { describe, expect, it } from "vitest";
import type { Life, Lived } from "./outside-life.ts";
import {
  act,
  at,
  callsOf,
  drawn,
  isFillingAt,
  kits,
  restart,
  usual,
  usualS,
  when,
  words,
} from "./outside-plans.ts";

const shut = (is: boolean) => (life: Life) => {
  life.tub.isShut = is;
};
const lifted = ({ tub }: Life) => {
  tub.contact = () => true;
};
const down = ({ tub }: Life) => {
  tub.contact = (isWet) => isWet;
};
const begins = act({ type: "proof-start", float: "tub.stop", method: "lifted" });
const results = ({ bench }: Lived) =>
  bench.outcomes.flatMap((told) => (told.kind === "proof" ? [told.result] : []));
/** Drawn down to 152 L with the valve shut, tried, and opened again. */
const tried = (more: Parameters<typeof usual>[2] = []) => [
  ...[at(200, shut(true)), at(210, drawn(28, 60)), at(300, begins), at(320, lifted), at(360, down)],
  ...[at(500, shut(false)), ...more],
];

describe("a float is lifted while its drum calls and nothing runs", () => {
  it.each([
    ["meter", kits.meter, []],
    ["meter; the gateway starts anew while it is up", kits.meter, [at(335, restart(15))]],
    ["meter and level", kits.both, []],
    ["level", kits.level, []],
  ])("%s: passed, nobody is called, and the water may be used", (_kit, line, more) => {
    const lived = usual(line, 0.8, tried(more));
    expect(results(lived)).toEqual(["passed"]);
    expect(callsOf(lived)).toEqual([]);
    expect(words(lived, "tub", usualS)).toEqual(["use"]);
  });

  it("what comes in after the test is less than a whole fill brings, and no hose", () => {
    const lived = usual(kits.meter, 0.8, [
      at(210, drawn(22, 60)),
      // Shut at 172 L, tried, and opened again: 8 L are missing.
      ...when(240, isFillingAt(172), shut(true)),
      ...[at(600, begins), at(620, lifted), at(640, down), at(700, shut(false))],
    ]);
    expect(results(lived)).toEqual(["passed"]);
    expect(words(lived, "tub", usualS)).toEqual(["use"]);
  });
});

describe("a test that is left alone", () => {
  it("nobody touches the float: it ends by itself, not passed, and another one passes", () => {
    const lived = usual(kits.meter, 1.2, [
      ...[at(200, shut(true)), at(210, drawn(22, 60)), at(300, begins)],
      ...[at(2000, begins), at(2020, lifted), at(2040, down), at(2100, shut(false))],
    ]);
    expect(lived.refused).toEqual([null, null, null]);
    expect(results(lived)).toEqual(["no-change", "passed"]);
    expect(words(lived, "tub", usualS)).toEqual(["use"]);
  });

  it("level: the float is left wedged up, and nothing fills the drum: its level speaks against it", () => {
    const lived = usual(kits.level, 1.6, [
      ...[at(200, shut(true)), at(210, drawn(28, 60)), at(300, begins), at(320, lifted)],
      ...[at(330, shut(false)), at(1800, drawn(60, 30))],
    ]);
    expect(results(lived)).toEqual(["stayed"]);
    expect(lived.changes.some((text) => text.includes("float-disagrees:tub.stop raised"))).toBe(true);
  });
});
