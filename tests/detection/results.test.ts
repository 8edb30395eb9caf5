import { describe, expect, it } from "vitest";
import { calmRows } from "./calm-row.ts";
import { calmDeviationsOf, deviationsOf, otherDeviationsOf } from "./expected.ts";
import { faultRow } from "./fault-row.ts";
import { quietRow } from "./live-quietly.ts";
import { otherRows } from "./other-row.ts";
import { resultsOf } from "./results.ts";
import { resultsPage } from "./results-page.ts";
import { type FaultLife, scenes } from "./scenes.ts";

const life = (more: Partial<FaultLife>): FaultLife => ({
  isSeen: true,
  minutesToCall: 12.34,
  floorL: 0,
  floods: true,
  isHidden: false,
  falselyWoken: false,
  other: null,
  calm: { hours: 4.25, wakes: 0, tells: 0 },
  useWhenFalse: false,
  overUnheld: false,
  conditions: ["drum-not-stopping (wake)"],
  ...more,
});
const scene = scenes.find(({ name }) => name === "float-stuck-dry") ?? scenes[0];
const made = { date: "2026-03-03", commit: "abcdef0", code: "0123456789ab", periodS: 15 };
const lives = [life({}), life({ minutesToCall: 40, floorL: 7 }), life({ minutesToCall: null, floorL: 300 })];
const calm = {
  days: 60,
  wakes: 0,
  tells: 3,
  phantoms: 0,
  errors: [0.2, 0.4],
  fills: 100,
  confirmed: 98,
  useS: { whenTrue: 950, whenFalse: 0, true: 1000, false: 0 },
  conditions: [],
};
const results = resultsOf(made, {
  faults: scene ? [faultRow("level", scene, lives)] : [],
  calm: scene ? calmRows("level", [[scene, lives]]) : [],
  others: [],
  quiet: [{ seeds: 1, row: quietRow("meter", [calm]) }],
});
const other = scenes.find(({ name }) => name === "float-late");
const topUps = scenes.find((one) => one.topUps);

describe("the calm hours before a fault", () => {
  const told = life({ calm: { hours: 4.25, wakes: 0, tells: 1 } });
  const rowsOf = (...of: (typeof told)[]) =>
    scene && other
      ? calmRows("level", [
          [scene, of],
          [other, of],
        ])
      : [];
  it("count once a kit, however many faults come after them", () => {
    expect(rowsOf(told, life({}))).toEqual([
      { kit: "level", topUps: false, lives: 2, hours: 9, wakes: 0, tells: 1 },
    ]);
    expect(scene && deviationsOf(faultRow("level", scene, [told]))).toEqual([]);
  });
  it("are judged as quiet days are: one tell in 60 days, no wake", () => {
    const whatsOf = (...of: (typeof told)[]) =>
      rowsOf(...of)
        .flatMap(calmDeviationsOf)
        .map(({ what }) => what);
    expect(whatsOf(told, life({}))).toEqual([]);
    expect(whatsOf(told, told)).toEqual(["2 tells in 9 hours"]);
    expect(whatsOf(life({ calm: { hours: 4, wakes: 1, tells: 0 } }))).toEqual(["1 wakes"]);
  });
  it("of a drum that is topped up are its own", () => {
    const rows =
      scene && topUps
        ? calmRows("level", [
            [scene, [life({})]],
            [topUps, [told]],
          ])
        : [];
    expect(rows.map(({ topUps: is, tells }) => [is, tells])).toEqual([
      [false, 0],
      [true, 1],
    ]);
  });
});

describe("a drum beside the one that a fault befell", () => {
  const beside = (...calls: string[]) => life({ other: { hours: 2, calls } });
  const told = "fill-long (tell)";
  const rowsOf = (one: readonly FaultLife[], next: readonly FaultLife[]) =>
    scene && other
      ? otherRows("two-drums+meter", [
          [scene, one],
          [other, next],
        ])
      : [];
  const whatsOf = (...of: Parameters<typeof rowsOf>) =>
    rowsOf(...of)
      .flatMap(otherDeviationsOf)
      .map(({ what }) => what);

  it("counts once for each seed, by the most of each kind; every call and its faults are named", () => {
    expect(rowsOf([beside(told), beside()], [beside(told, "fill-slow (tell)"), beside()])).toEqual([
      {
        kit: "two-drums+meter",
        lives: 2,
        hours: 4,
        wakes: 0,
        tells: 2,
        calls: 3,
        faults: ["float-stuck-dry", "float-late"],
      },
    ]);
    expect(rowsOf([life({})], [life({})])).toEqual([]);
  });
  it("is judged as calm hours are, and the fault's row is not judged by it", () => {
    expect(whatsOf([beside(told), beside()], [beside(told), beside()])).toEqual([]);
    expect(whatsOf([beside(told), beside(told)], [])).toEqual(["2 tells in 4 hours"]);
    expect(whatsOf([beside()], [beside("drum-not-stopping (wake)")])).toEqual(["1 wakes"]);
    expect(scene && deviationsOf(faultRow("two-drums+meter", scene, [beside(told)]))).toEqual([]);
  });
  it("is read on the page, with all calls and the faults beside which they came", () => {
    const row = { made, faults: [], calm: [], quiet: [], others: rowsOf([beside(told)], [beside(told)]) };
    const faults = scene ? [faultRow("two-drums+meter", scene, [beside(told)])] : [];
    expect(resultsPage(resultsOf(made, { ...row, faults })).split("\n")).toContain(
      "The other drum, which nothing befell, each life counted once: 0 wakes and 1 tells in 1 lives (2 hours; with float-stuck-dry, float-late 2 in all): as expected.",
    );
  });
});

describe("a flood of which nothing could be read", () => {
  const hidden = life({ isSeen: false, minutesToCall: null, floorL: 300, isHidden: true });
  const worseOf = (more: readonly FaultLife[]) =>
    scene ? deviationsOf(faultRow("manual+level", scene, more)).map(({ what }) => what) : [];
  it("is expected of nobody; one of which something could be read is", () => {
    expect(worseOf([life({}), hidden])).toEqual([]);
    expect(worseOf([life({}), hidden, { ...hidden, isHidden: false }])).toEqual([
      "not seen in 1 of 3",
      "not told in 1 of 3",
      "not told before the brim in 1 of 3",
    ]);
  });
});

describe("what a run found", () => {
  it("is written with every count by its name, and with what is worse than expected", () => {
    expect(results.faults).toEqual([
      {
        kit: "level",
        fault: "float-stuck-dry",
        seeds: 3,
        seen: 3,
        told: 2,
        beforeBrim: 1,
        litresOnFloor: 300,
        floods: 3,
        minutesToTell: 40,
        minutesToTellP90: 40,
        worse: ["not told in 1 of 3", "not told before the brim in 2 of 3"],
      },
    ]);
    expect(results.quiet).toEqual([
      {
        kit: "meter",
        days: 60,
        wakes: 0,
        tells: 3,
        phantomFills: 0,
        tripsConfirmedShare: 0.98,
        litresErrorP90Percent: 0.4,
        useWhenTrue: 0.95,
        useWhenFalse: null,
        seeds: 1,
        worse: ["3 tells in 60 days", "trips confirmed in 0.98, not 0.99"],
      },
    ]);
  });

  it("is read on a page", () => {
    const lines = resultsPage(results).split("\n");
    expect(lines).toContain(
      "1 rows of faults (3 seeds), 1 of the calm hours before them, 0 of a drum beside, 1 of quiet lives; 2 are worse than expected.",
    );
    expect(lines).toContain("Calm hours before the fault: 0 calls in 3 lives (13 hours): as expected.");
    expect(lines).toContain(
      "| float-stuck-dry | 3 of 3 | 2 of 3 | 40 min (40 min) | 3 of 3 | 300 L | not told in 1 of 3; not told before the brim in 2 of 3 |",
    );
    expect(lines).toContain(
      "| meter | 60 (1) | 0 | 3 | 0 | 98 % | 0.4 % | 95 % | – | 3 tells in 60 days; trips confirmed in 0.98, not 0.99 |",
    );
  });
});
