// The small form of `npm run detection -- drums`: a few faults and quiet days over the real path, seed 1. What is worse
// than expected stands, by name, in known-faults.json: one that is cured or a new one fails here.
import { readFileSync } from "node:fs";
import { drumFaults } from "@drumlin/gateway/simulator";
import { describe, expect, it } from "vitest";
import { type Deviation, deviationsOf, quietDeviationsOf } from "./expected.ts";
import { faultRow } from "./fault-row.ts";
import { kitOf, kits } from "./kits.ts";
import { createLife } from "./life.ts";
import { liveQuietly, quietRow } from "./live-quietly.ts";
import { concerns, createScenes, scenes } from "./scenes.ts";

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
  // A whole fill lies in the outage of the second day; much is drawn at noon.
  ["float, busy", 2, 60],
  // Nodes that are seldom heard.
  ["meter+level", 2, 60],
  ["level", 2, 60],
  // The tap is opened before a level can tell.
  ["manual+level", 1, 15],
  // A press is forgotten on some of the days; the next morning the keeper tests.
  ["manual, morning test", 20, 60],
];

/** What comes before a fault is lived once for each kit. */
const livesOf = new Map<string, ReturnType<typeof createScenes>>();

describe("faults of a drum that fills by itself", () => {
  it.each(rows)(
    "%s, %s: as expected, but for what is known",
    (kit, fault) => {
      const scene = scenes.find(({ name }) => name === fault);
      if (!scene) throw new Error(`no fault ${fault}`);
      const live = livesOf.get(kit) ?? createScenes(kitOf(kit), 1);
      livesOf.set(kit, live);
      const row = faultRow(kit, scene, [live(scene)]);
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
      const row = quietRow(kit, [liveQuietly(kit, 1, days, periodS)]);
      expect(row.days).toBe(days);
      expect(quietDeviationsOf(row, periodS)).toEqual(knownOf(kit, "quiet"));
    },
    120_000,
  );
});

describe("a life that goes on from what was lived before the fault", () => {
  it("is told as the same life lived whole", () => {
    const usual = { kit: kitOf("level"), seed: 3, periodS: 15, hours: [0, 24], changes: false } as const;
    const calm = createLife({ ...usual, drawsEndS: null, faults: [], fromS: 0 });
    calm.liveTo(2400);
    const faulty = { ...usual, drawsEndS: null, faults: ["float-stuck-dry"], fromS: 2500 } as const;
    const lives = [createLife(faulty), createLife(faulty, calm.calm())];
    for (const life of lives) life.liveTo(7200);
    const [whole, continued] = lives.map(({ raised, model }) => ({ raised, drum: model.drum }));
    expect(whole?.raised.map(({ condition }) => condition)).toContain("drum-not-stopping");
    expect(continued).toEqual(whole);
  });
});

describe("the table", () => {
  it("has an expectation for each fault with each kit that it can happen to", () => {
    for (const [kit, fitted] of kits)
      for (const scene of scenes.filter((one) => concerns(one, fitted)))
        expect(deviationsOf(faultRow(kit, scene, []))).toEqual([]);
    expect(new Set(scenes.flatMap(({ faults }) => faults))).toEqual(new Set(drumFaults));
  });

  it("names no known fault that is not run here", () => {
    const run = [...rows, ...quiet.map(([kit]) => [kit, "quiet"])].map(([kit, fault]) => `${kit} ${fault}`);
    for (const { kit, fault } of known) expect(run).toContain(`${kit} ${fault}`);
  });
});
