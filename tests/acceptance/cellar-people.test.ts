// Stories of a cellar by a model of its own. Each stands as it was written down before its first run, or says what was wrong with it.
import { describe, expect, it } from "vitest";
import { type Acted, act, type Deed } from "./cellar-life.ts";
import { be, behind, bucket, fillsOf, kits, off, story, T, wakes } from "./cellar-plans.ts";

describe("what people do", () => {
  const results = ({ bench }: Acted) =>
    bench.outcomes.flatMap((one) => (one.kind === "proof" ? [one.result] : []));
  const starts: Deed[1] = ({ bench, refused }, atS) =>
    void refused.push(bench.act({ type: "proof-start", float: "vat.stop", method: "lifted" }, atS));
  it("30 a guided test of the stop float: not lifted, and lifted", () => {
    const low: Deed[] = [
      [0, be({ held: "shut" })],
      [10, bucket(28)],
      [200, starts],
    ];
    const never = story(kits.meter, 40, low);
    expect(results(never)).not.toContain("passed");
    const acted = story(kits.meter, 40, [...low, [230, be({ contact: true })], [260, be({ contact: null })]]);
    expect(results(acted)).toEqual(["passed"]);
    expect([...wakes(never), ...wakes(acted)]).toEqual([]);
  });
  const does =
    (given: object): Deed[1] =>
    ({ bench, refused }, atS) =>
      void refused.push(bench.act({ drum: "vat", ...given }, atS));
  const held: Deed[] = [
    [0, behind(60)],
    [10, bucket(22)],
    [900, behind(0.3)],
  ];
  const releases = does({ type: "release", reason: "hand-test", value25UsPerCm: 8 });
  const after = (acted: Acted, fromS: number) =>
    acted.words.filter(({ atS }) => atS >= T + fromS).map(({ word }) => word);
  it.each([
    ["within 10 min", 1800, ["use", "hold"]],
    ["after 11 min", 1870, ["use"]],
  ])("31 released by a hand test, and taken back %s", (_, undoS, wanted) => {
    const acted = story(kits.meter, 45, [...held, [1205, releases], [undoS, does({ type: "release-undo" })]]);
    expect(after(acted, 1200)).toEqual(wanted);
    expect(acted.refused[0]).toBeNull();
    expect(acted.refused[1] === null).toBe(undoS < 1805);
  });
  it("32 released, and a fill of 60 uS/cm comes: held again", () => {
    const acted = story(kits.meter, 60, [...held, [1205, releases], [1800, behind(60)], [1810, bucket(22)]]);
    expect(after(acted, 1200)).toEqual(["use", "hold"]);
  });
});

it("33 the night in which the clock of Berlin goes on by an hour", () => {
  // 27 March 2026, 15:00 UTC; the bench begins on 3 March at 4:00.
  const fromS = 24 * 86_400 + 11 * 3600;
  const acted = act({
    line: kits.meter,
    fromS,
    untilS: 40 * 3600,
    deeds: [
      [
        60,
        ({ bench }, atS) =>
          void bench.act({ type: "release", drum: "vat", reason: "hand-test", value25UsPerCm: 1 }, atS),
      ],
      ...[1, 3, 5, 7, 34.5].map((hour): Deed => [hour * 3600, bucket(22)]),
    ],
  });
  const nights = acted.bench.outcomes.flatMap((one) => (one.kind === "night" ? [one] : []));
  expect(nights.map(({ date }) => date).slice(-2)).toEqual(["2026-03-27", "2026-03-28"]);
  const [usual, short] = nights.slice(-2).map(({ fromMs, toMs }) => (toMs - fromMs) / 3_600_000);
  expect((usual as number) - (short as number)).toBe(1);
  const own = fillsOf(acted, "vat", 34 * 3600);
  expect(own).toHaveLength(1);
  expect(own[0]?.litres).toBeGreaterThan(19.4);
  expect(own[0]?.litres).toBeLessThan(20.8 + 2);
  expect(off(acted)).toBeLessThan(3);
}, 120_000);
