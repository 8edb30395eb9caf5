// Nodes that keep their packs while nobody hears them, as somebody would use them to hide water. Each expectation was
// written down before the first run: what is over calls nobody, what still stands calls, and nothing late makes a word
// better than the water is.
import { describe, expect, it } from "vitest";
import type { House, Kit } from "./drum-house.ts";
import { type Keeping, lateStory } from "./late-house.ts";

const meter: Kit = { meter: true, tripsAt: 180, releasesAt: 160 };
const level: Kit = { level: true, tripsAt: 180, releasesAt: 160 };
const both: Kit = { ...level, meter: true };
const slow = { pressS: 15, drumsS: 15, phaseS: 7 } as const;
const between = (fromS: number, toS: number) => (atS: number) => atS >= fromS && atS < toS;
/** Nodes that are away say so themselves: that is true. */
const silences = ["site-silent", "node-silent", "watch-lost"];

/** Emptied at 6 s, filled until 2,700 s; later 24 L are drawn, and what comes in after that is `kappa`. */
const refilled = (drawS: number, kappa: number): House => ({
  startL: 2,
  draw: (atS) => (between(drawS, drawS + 240)(atS) ? 6 : 0),
  kappa: (atS) => (atS > 3000 ? kappa : 0.2),
  ...slow,
});

function lived(kit: Kit, house: House, keeping: Keeping, toS: number) {
  const s = lateStory(kit, house, keeping);
  s.live(6);
  s.dumped(6);
  s.live(toS);
  const false_ = s.calls().filter((condition) => !silences.includes(condition));
  const since3000 = s.fills().filter(({ startedAtMs }) => startedAtMs > s.bench.entries[0]!.receivedAt + 3e6);
  const last = new Map(since3000.map((fill) => [fill.id, fill]));
  return { s, called: false_, fills: [...last.values()] };
}

describe("a fill that runs into an outage of half an hour, and ends in it", () => {
  // Drawn from 3,600 s on, the fill begins before 3,840 s and takes 6 min.
  const away = { keeps: between(3860, 5660) };
  it.each([
    ["meter", meter],
    ["level", level],
  ] as const)("by a %s: is one fill with all its litres, the word stays `use`", (_name, kit) => {
    const { s, called, fills } = lived(kit, refilled(3600, 0.2), away, 6600);
    expect(called).toEqual([]);
    expect(fills.map(({ end }) => end)).toEqual(["float-tripped"]);
    expect(Math.abs((fills[0]?.litres ?? 0) - 24)).toBeLessThan(2);
    expect(s.word()).toBe("use");
  });
  it("of bad water: hold", () => {
    const { s, called } = lived(meter, refilled(3600, 60), away, 6600);
    expect([s.word(), called.filter((one) => one !== "resin-breakthrough")]).toEqual(["hold", []]);
  });
  it("a restart in the middle of what comes late changes nothing", () => {
    const { s, called, fills } = lived(meter, refilled(3600, 0.2), { ...away, restartsAfter: 90 }, 6600);
    expect(called).toEqual([]);
    expect(fills).toHaveLength(1);
    expect(Math.abs((fills[0]?.litres ?? 0) - 24)).toBeLessThan(2);
    expect(s.word()).toBe("use");
  });
  it("newest first: what can't be followed is not taken for good water, and nothing is counted twice", () => {
    const order: Keeping["order"] = (kept) => kept.toReversed();
    const { s, called, fills } = lived(meter, refilled(3600, 60), { ...away, order }, 6600);
    // Before they fell silent bad water had run for 45 s: that was told, and is true.
    expect(called.filter((one) => one !== "resin-breakthrough")).toEqual([]);
    expect(s.word()).not.toBe("use");
    expect(fills.reduce((sum, { litres }) => sum + (litres ?? 0), 0)).toBeLessThan(27);
  });
  it("the two nodes come back 10 min apart: one fill, no call, bad water is not `use`", () => {
    const keeps: Keeping["keeps"] = (atS, node) => between(3860, node === "press" ? 5060 : 5660)(atS);
    const good = lived(both, refilled(3600, 0.2), { keeps }, 6600);
    expect([good.called, good.fills.length]).toEqual([[], 1]);
    const bad = lived(both, refilled(3600, 60), { keeps }, 6600);
    expect(bad.s.word()).not.toBe("use");
  });
});

describe("the meter's node alone is away while the float trips", () => {
  it.each([4300, 5060, 5660])("and comes back at %i s: one fill with all its litres, no call", (backS) => {
    const keeps: Keeping["keeps"] = (atS, node) => node === "press" && between(3860, backS)(atS);
    const good = lived(meter, refilled(3600, 0.2), { keeps }, 6600);
    expect([good.called, good.fills.map(({ end }) => end)]).toEqual([[], ["float-tripped"]]);
    expect(Math.abs((good.fills[0]?.litres ?? 0) - 24)).toBeLessThan(1);
    expect(lived(meter, refilled(3600, 60), { keeps }, 6600).s.word()).toBe("hold");
  });
  it("what its level counted is not counted again by the meter", () => {
    const keeps: Keeping["keeps"] = (atS, node) => node === "press" && between(3860, 5060)(atS);
    const { called, fills } = lived(both, refilled(3600, 0.2), { keeps }, 6600);
    expect(called).toEqual([]);
    // What the meter had counted before it fell silent stands beside it still.
    expect(fills.reduce((sum, { litres }) => sum + (litres ?? 0), 0)).toBeLessThan(24 + 4);
  });
});

describe("what still stands when the late packs are in", () => {
  const stuck: House = {
    startL: 120,
    valve: () => true,
    contact: () => false,
    ...slow,
  };
  it("a level past the trip: woken within 30 s of the nodes' return, before the brim", () => {
    // 120 L + 4 L/min: past 188 L at 1,020 s, at the brim at 1,200 s.
    const s = lateStory(level, stuck, { keeps: between(300, 1080) });
    s.live(1260);
    expect(s.calledAtS("drum-not-stopping")).toBeLessThan(1110);
  });
  it("an overflow float that is wet: woken within 60 s", () => {
    const s = lateStory({ ...meter, overflow: true }, stuck, { keeps: between(300, 1400) });
    s.live(1500);
    expect(s.calledAtS("drum-high-high")).toBeLessThan(1460);
  });
  it("a float that tripped, and a meter that runs on: woken once it has run past its grace, nothing late ends it", () => {
    const passes: House = { startL: 160, valve: () => true, ...slow };
    const s = lateStory(meter, passes, {
      keeps: (atS, node) => node === "drums" && between(200, 700)(atS),
    });
    s.live(1000);
    expect(s.calledAtS("drum-not-stopping")).toBeLessThan(900);
  });
});

describe("a node whose last words are late", () => {
  const stuck: House = { startL: 170, valve: () => true, contact: () => false, ...slow };
  it("and say that the overflow float is wet: somebody is woken", () => {
    // At 4 L/min the float at 194 L is wet at 360 s; the node speaks for the last time at 600 s, of up to 510 s.
    const s = lateStory({ ...meter, overflow: true }, stuck, {
      keeps: (atS, node) => node === "drums" && atS > 100,
      lastWords: { drums: 608 },
    });
    s.live(1200);
    expect(s.calls().some((one) => ["drum-high-high", "drum-not-stopping"].includes(one))).toBe(true);
  });
});

describe("a node with a clock of its own that is wrong by less than is refused", () => {
  const stuck: House = { startL: 170, valve: () => true, contact: () => false, ...slow };
  const kit: Kit = { ...meter, overflow: true };
  const never = { keeps: () => false };
  it.each([
    ["3 min behind", () => -180],
    ["3 min ahead", () => 180],
    ["4 min ahead until it is set right at 300 s", (atS: number) => (atS < 300 ? 240 : 0)],
  ])("%s: a wet overflow float wakes within 3 min", (_how, dates) => {
    const s = lateStory(kit, stuck, {
      ...never,
      dates: (atS, node) => (node === "drums" ? dates(atS) : null),
    });
    s.live(900);
    // Wet at 360 s.
    expect(s.calledAtS("drum-high-high") ?? Number.POSITIVE_INFINITY).toBeLessThan(360 + 180);
  });
});

describe("what came in before a person answered for the water, and is heard after it", () => {
  const house: House = {
    startL: 181,
    draw: (atS) => (between(1200, 1440)(atS) ? 6 : 0),
    kappa: (atS) => (atS > 900 && atS < 3000 ? 60 : 0.2),
    ...slow,
  };
  const away = { keeps: between(1100, 3600) };
  it("is in the hand test: the word stays `use`", () => {
    const s = lateStory(meter, house, away);
    s.live(2400);
    expect(s.act("release", 2400, { reason: "hand-test", value25UsPerCm: 7 })).toBeNull();
    s.live(4200);
    expect(s.word()).toBe("use");
  });
  it("is gone with what was dumped: only what came in since is in the drum", () => {
    const s = lateStory(
      { meter: true, level: true, tripsAt: 180, releasesAt: 160 },
      {
        ...house,
        // Emptied at 2,000 s, filled again by good water.
        draw: (atS) => (between(1200, 1440)(atS) ? 6 : between(2000, 2180)(atS) ? 60 : 0),
        valve: (atS, wet) => !wet && (atS < 2000 || atS > 3700),
        kappa: (atS) => (atS > 900 && atS < 1900 ? 60 : 0.2),
      },
      away,
    );
    s.live(2300);
    s.act("release", 2300, { reason: "dumped" });
    s.live(3900);
    expect(s.truth.litres).toBeLessThan(40);
    s.live(8000);
    expect([s.truth.kappa25 < 5, s.word()]).toEqual([true, "use"]);
  });
  it("bad water that came in after the answer, heard late, holds again", () => {
    const s = lateStory(meter, { ...house, draw: (atS) => (between(2600, 2840)(atS) ? 6 : 0) }, away);
    s.live(2400);
    expect(s.act("release", 2400, { reason: "hand-test", value25UsPerCm: 2 })).toBeNull();
    s.live(4200);
    expect(s.word()).toBe("hold");
  });
});
