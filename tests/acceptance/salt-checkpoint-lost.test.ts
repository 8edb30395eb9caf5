// The checkpoint is lost while salt dissolves in a drum under a level by pressure: the gateway begins again with its logbook, or goes on
// from an earlier checkpoint. Each expectation was written down before the first run.
import type { Outcome } from "@drumlin/gateway/app";
import type { Records } from "@drumlin/gateway/path";
import { expect, it } from "vitest";
import { live } from "./outside-life.ts";
import { act, at, type Does, epochMs, kits } from "./outside-plans.ts";

const line = kits.level
  .replace(
    "fed_by: after-resin,",
    "fed_by: after-resin, control: manual, holds: salt, target: { salinity: 35 },",
  )
  .replace("as: volume", 'as: pressure, strapping: { "0 m": "0 L", "1 m": "200 L" }');
/** 6.3 kg from 3610 s on, for 20 min, kg at a second. */
const dissolved = (atS: number) => 6.3 * Math.min(1, Math.max(0, (atS - 3610) / 1200));
const batch = (step: string, more: object = {}) => act({ type: "batch", drum: "tub", step, ...more });

/** What a logbook knows of what was told. */
function logbookOf(outcomes: readonly Outcome[]): Records {
  const newest = <Kind extends Outcome["kind"]>(
    kind: Kind,
    keyOf: (one: Extract<Outcome, { kind: Kind }>) => string,
  ) => [
    ...new Map(
      outcomes.flatMap((one) => {
        if (one.kind !== kind) return [];
        const own = one as Extract<Outcome, { kind: Kind }>;
        return [[keyOf(own), own] as const];
      }),
    ).values(),
  ];
  const last: Record<string, () => readonly unknown[]> = {
    line: () => newest("line", () => "line"),
    batch: () => newest("batch", ({ drum }) => drum),
    "drum-water": () => newest("drum-water", ({ drum }) => drum),
    proof: () => newest("proof", ({ id }) => id),
    presence: () => newest("presence", ({ node }) => node),
    alarm: () => newest("alarm", ({ alarm }) => alarm.key),
  };
  return {
    last: (kind) => last[kind]?.() ?? [],
    list: (kind) =>
      kind === "fill"
        ? newest("fill", ({ id }) => id)
        : kind.startsWith("act ")
          ? outcomes.filter(
              (one) => one.kind === "act-done" && one.refused === null && one.act.type === kind.slice(4),
            )
          : [],
  };
}

/** Emptied, filled by a person to its float, salted at 3600 s, ready at 9000 s; what befalls it in between. */
function salted(befalls: readonly (readonly [atS: number, does: Does])[]) {
  const weighs: Does = ({ tubs, tub }) => {
    tubs.alter = (records, atS) =>
      records.map((one) => {
        if (one.n !== "level-tub") return one;
        const massKg = (one.v as number) * 1000 * 0.9982 + dissolved(atS);
        return { ...one, u: "Pa", v: (massKg * 9.80665) / 0.2 };
      });
    tub.isShut = true;
  };
  return live({
    line,
    toS: 4 * 3600,
    tubs: { tub: { litres: 2, dose: 2 } },
    events: [
      at(0, weighs),
      at(6, act({ type: "release", drum: "tub", reason: "dumped" })),
      at(60, act({ type: "fill-started", drum: "tub" })),
      at(61, ({ tub }) => Object.assign(tub, { isShut: false })),
      at(2800, ({ tub }) => Object.assign(tub, { isShut: true })),
      at(3600, batch("salted", { kg: 6.3 })),
      ...befalls,
      at(9000, batch("ready", { salinity: 35 })),
    ],
  });
}
const begins =
  (fromS: number, journalS?: number): Does =>
  (life, atS) => {
    life.bench.beginAgain(atS + fromS, logbookOf(life.bench.outcomes), journalS);
    life.downUntilS = atS + fromS;
  };

it.each([3700, 4200, 4700])(
  "begun again with the logbook at %i s: its rise is the salt's still, nobody is called, and it gets ready",
  (lostS) => {
    const lived = salted([at(lostS, begins(20))]);
    expect(lived.refused.filter((why) => why !== null)).toEqual([]);
    expect(lived.calls.map(({ key }) => key)).toEqual([]);
    expect(lived.fills.filter(({ startedAtMs }) => startedAtMs > epochMs(3000))).toEqual([]);
    const states = lived.bench.outcomes.flatMap((one) => (one.kind === "batch" ? [one.state] : []));
    expect(states.at(-1)).toBe("ready");
  },
);

it("begun again with the logbook once its salt has dissolved and water has come since: what runs in is told", () => {
  // 30 L drawn and 26 L filled after the salt: no rise is the salt's any more. Taken for it 10 L ran in untold.
  const lived = salted([
    at(5200, ({ tub }) => Object.assign(tub, { hose: -6 })),
    at(5500, ({ tub }) => Object.assign(tub, { hose: 0 })),
    at(5700, ({ tub }) => Object.assign(tub, { isShut: false })),
    at(6100, ({ tub }) => Object.assign(tub, { isShut: true })),
    at(6900, begins(20)),
    at(7200, ({ tub }) => Object.assign(tub, { hose: 1 })),
    at(8100, ({ tub }) => Object.assign(tub, { hose: 0 })),
  ]);
  const before = lived.samples.findLast(({ atS }) => atS <= 7200)?.litres.tub ?? Number.NaN;
  const call = lived.calls.find(({ atS }) => atS >= 7200);
  expect(call?.key).toBe("unplanned-inflow:tub");
  expect((call?.holds.tub ?? Number.NaN) - before).toBeLessThan(5);
});

it("gone on from an earlier checkpoint, before the salt: all is as if nothing had been lost", () => {
  type Saved = ReturnType<ReturnType<typeof salted>["bench"]["saved"]>;
  const kept: Saved[] = [];
  const lived = salted([
    at(3550, ({ bench }) => kept.push(bench.saved())),
    at(4200, ({ bench }, atS) => bench.beginAgain(atS, kept[0] as Saved)),
  ]);
  expect(lived.calls.map(({ key }) => key)).toEqual([]);
  expect(lived.fills.filter(({ startedAtMs }) => startedAtMs > epochMs(3000))).toEqual([]);
  expect(lived.samples.at(-1)?.word.tub).toBe("use");
});

it.each([
  ["just before it went in", 3500],
  ["the drum's filling on", 100],
])(
  "begun again with the logbook and a journal that has the salt too, from %s: no rise is the salt's twice",
  (_from, journalS) => {
    const toldAtS = (...befalls: Parameters<typeof salted>[0]) =>
      salted([...befalls, at(5400, ({ tub }) => Object.assign(tub, { hose: 0.5 }))]).calls.find(
        ({ key, atS }) => atS > 5400 && key === "unplanned-inflow:tub",
      )?.atS ?? Number.NaN;
    expect(toldAtS(at(4300, begins(20, journalS))) - toldAtS()).toBeLessThan(120);
  },
);
