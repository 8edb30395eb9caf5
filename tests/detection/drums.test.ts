// The small form of `npm run detection -- drums`: a few faults and quiet days over the real path, seed 1. What is worse
// than expected stands, by name, in known-faults.json: one that is cured or a new one fails here.
import { readFileSync } from "node:fs";
import { drumFaults } from "@drumlin/gateway/simulator";
import { describe, expect, it } from "vitest";
import { concerns, detect, nameOf, scenes } from "./detect-faults.ts";
import { type Deviation, deviationsOf, quietDeviationsOf } from "./expected.ts";
import { kits } from "./kits.ts";
import { liveQuietly } from "./live-quietly.ts";

/** `why`: what keeps it from being seen. */
const known: readonly (Deviation & { readonly why: string })[] = JSON.parse(
  readFileSync(new URL("known-faults.json", import.meta.url), "utf8"),
);
const knownOf = (kit: string, fault: string): readonly Deviation[] =>
  known.filter((one) => one.kit === kit && one.fault === fault).map(({ what }) => ({ kit, fault, what }));

const rows: readonly (readonly [kit: string, fault: string])[] = [
  ["meter", "valve-passes"],
  ["meter", "float-stuck-dry + meter-stuck-at-0"],
  ["level", "valve-leaks"],
  ["level", "level-freezes"],
  ["level", "level-waves"],
  ["level", "float-stuck-dry + level-freezes"],
  ["meter", "meter-under-reads"],
  ["meter+level", "meter-node-dies-in-fill"],
];
const quiet: readonly (readonly [kit: string, days: number, periodS: number])[] = [
  ["float", 2, 15],
  ["meter+level", 2, 30],
];

describe("faults of a drum that fills by itself", () => {
  it.each(rows)(
    "%s, %s: as expected, but for what is known",
    (kit, fault) => {
      const scene = scenes.find((one) => nameOf(one) === fault);
      const row = detect(kit, scene ?? [], 1);
      expect(row.seeds).toBe(1);
      expect(deviationsOf(row)).toEqual(knownOf(kit, fault));
    },
    120_000,
  );
});

describe("quiet days", () => {
  it.each(quiet)(
    "%s, %i days, packs each %i s: as expected, but for what is known",
    (kit, days, periodS) => {
      const row = liveQuietly(kit, 1, days, periodS);
      expect(row.days).toBe(days);
      expect(quietDeviationsOf(row)).toEqual(knownOf(kit, "quiet"));
    },
    120_000,
  );
});

describe("the table", () => {
  it("has an expectation for each fault with each kit that it can happen to", () => {
    const blank = { seeds: 0, seen: 0, told: 0, beforeBrim: 0, litresOnFloor: 0, minutesToTell: null };
    const none = { falselyWoken: 0, falseCalls: 0, useWhenFalse: 0, conditions: [] };
    for (const [kit, fitted] of kits)
      for (const scene of scenes.filter((one) => concerns(one, fitted)))
        expect(deviationsOf({ ...blank, ...none, kit, fault: nameOf(scene) })).toEqual([]);
    expect(new Set(scenes.flat())).toEqual(new Set(drumFaults));
  });

  it("names no known fault that is not run here", () => {
    const run = [...rows, ...quiet.map(([kit]) => [kit, "quiet"])].map(([kit, fault]) => `${kit} ${fault}`);
    for (const { kit, fault } of known) expect(run).toContain(`${kit} ${fault}`);
  });
});
