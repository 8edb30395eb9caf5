// Houses that flood, or nearly: each expectation was written down from the physics before the first run.
import { describe, expect, it } from "vitest";
import type { Kit } from "./drum-house.ts";
import { drawEvery, story } from "./drum-story.ts";

const meter: Kit = { meter: true };
const level: Kit = { level: true, tripsAt: 180, releasesAt: 160 };
const both: Kit = { meter: true, level: true, tripsAt: 180, releasesAt: 160 };
const floatOnly: Kit = { tripsAt: 180, releasesAt: 160 };
/** 21 L drawn in a minute, each 20 min; six refills before something breaks. */
const often = drawEvery(1200, 21, 60);
const day = 6 * 1200;
const stuckDry = {
  valve: (atS: number, wet: boolean) => atS > day || !wet,
  contact: (atS: number, wet: boolean) => atS <= day && wet,
};

describe("the float sticks dry after six good fills", () => {
  it("by a level: woken past the trip, before the brim", () => {
    const s = story(level, { draw: often, ...stuckDry });
    s.live(day + 5400);
    expect(s.calledAtS("drum-not-stopping")).toBeLessThan(s.truth.overAtS ?? 0);
  });
  it("by a level with 0.5 L of noise: woken all the same before the brim", () => {
    const s = story(level, { draw: often, noiseL: 0.5, ...stuckDry });
    s.live(day + 5400);
    expect(s.calledAtS("drum-not-stopping")).toBeLessThan(s.truth.overAtS ?? 0);
  });
  it("by a meter alone: told by 1.25 times the usual litres and a minute", () => {
    const s = story(meter, { draw: often, ...stuckDry });
    s.live(day + 5400);
    const called = s.calledAtS("fill-long") ?? Number.POSITIVE_INFINITY;
    // Usual fills are 21 L and what is drawn meanwhile: at 4 L/min 1.25 times that is over in under 9 min.
    expect(called - day).toBeLessThan(900);
    expect(s.calls()).toContain("drum-not-stopping");
  });
  it("by the float alone: told by 1.5 times the usual time", () => {
    const s = story(floatOnly, { draw: often, ...stuckDry });
    s.live(day + 5400);
    expect((s.calledAtS("fill-long") ?? Number.POSITIVE_INFINITY) - day).toBeLessThan(1200);
  });
  it("an overflow float that nobody proved is no guard: the long fill is told all the same", () => {
    const s = story({ ...floatOnly, overflow: true }, { draw: often, ...stuckDry });
    s.live(day + 5400);
    expect(s.calls()).toContain("fill-long");
  });
  it("with an overflow float: woken when it is wet, before the brim", () => {
    const s = story({ ...floatOnly, overflow: true }, { draw: often, ...stuckDry });
    s.live(day + 5400);
    expect(s.calledAtS("drum-high-high")).toBeLessThan(s.truth.overAtS ?? 0);
  });
  it("the level sticks too: the meter still tells", () => {
    const s = story(both, {
      draw: often,
      ...stuckDry,
      levelSays: (atS, l) => (atS > day ? 165 : l),
    });
    s.live(day + 5400);
    expect(s.calls()).toContain("drum-not-stopping");
  });
  it("the meter sticks at 0: the level still wakes, before the brim", () => {
    const s = story(both, { draw: often, ...stuckDry, meterSays: (atS, q) => (atS > day ? 0 : q) });
    s.live(day + 5400);
    expect(s.calledAtS("drum-not-stopping")).toBeLessThan(s.truth.overAtS ?? 0);
  });
});

describe("the valve does not close", () => {
  const passes = (leak: number) => ({
    draw: often,
    valve: (_atS: number, wet: boolean) => !wet,
    leak: (atS: number) => (atS > day ? leak : 0),
  });
  it("fully, by a meter: woken after the grace of two minutes", () => {
    const s = story(meter, { draw: often, valve: (atS, wet) => atS > day || !wet });
    s.live(day + 3600);
    expect(s.calls()).toContain("drum-not-stopping");
  });
  it("by 1 L/min, by a level: woken before the brim", () => {
    const s = story(level, { ...passes(1), draw: 0, startL: 181 });
    s.live(day + 3 * 3600);
    expect(s.calledAtS("drum-not-stopping")).toBeLessThan(s.truth.overAtS ?? 0);
  });
  it("by 0.1 L/min, by a level: woken before the brim, 3 h later", () => {
    const s = story(level, { ...passes(0.1), draw: 0, startL: 181, noiseL: 0.1, drumsS: 15, pressS: 60 });
    s.live(day + 4 * 3600);
    expect(s.calledAtS("drum-not-stopping")).toBeLessThan(s.truth.overAtS ?? 0);
  });
  it("by 0.3 L/min, by a meter that sees it: called", () => {
    const s = story(meter, { ...passes(0.3), draw: 0, startL: 181 });
    s.live(day + 3 * 3600);
    expect(s.calls()).toContain("drum-not-stopping");
  });
  it("by 0.3 L/min, by a meter that starts at 0.5: nobody can tell, and nobody is told anything false", () => {
    const s = story(meter, {
      ...passes(0.3),
      draw: 0,
      startL: 181,
      meterSays: (_atS, q) => (q < 0.5 ? 0 : q),
    });
    s.live(day + 3600);
    expect(s.calls()).toEqual([]);
  });
});

describe("what stands stays", () => {
  it("at the brim the alarm stays active until the level falls by 1 %", () => {
    const s = story(level, { startL: 160, valve: (atS) => atS < 1800, contact: () => false });
    s.live(2400);
    const state = () => s.bench.standing().find(({ condition }) => condition === "drum-not-stopping")?.state;
    expect(state()).toBe("unacknowledged");
  });
  it("and is over, but held, once it is drawn down", () => {
    const s = story(level, {
      startL: 160,
      valve: (atS) => atS < 1800,
      contact: () => false,
      draw: (atS) => (atS > 2400 && atS < 2700 ? 4 : 0),
    });
    s.live(3600);
    const state = () => s.bench.standing().find(({ condition }) => condition === "drum-not-stopping")?.state;
    expect(state()).toBe("latched-unacknowledged");
  });
  it("a restart in the flood calls nobody twice", () => {
    const s = story(level, { startL: 160, valve: () => true, contact: () => false });
    s.live(1200);
    const before = s.bench.alarms().filter(({ annunciated }) => annunciated).length;
    s.bench.restart(1201);
    s.live(1800);
    expect(before).toBe(1);
    expect(s.bench.alarms().filter(({ annunciated }) => annunciated)).toHaveLength(1);
  });
  it("a meter that drops to 0 for one reading does not end it", () => {
    const s = story(meter, {
      draw: often,
      valve: (atS, wet) => atS > day || !wet,
      meterSays: (atS, q) => (atS % 300 === 0 ? 0 : q),
    });
    s.live(day + 3600);
    expect(s.calls()).toContain("drum-not-stopping");
  });
});

describe("nodes die", () => {
  it("the drums' node in mid-fill, by a meter: told within 3 min", () => {
    const s = story(meter, { startL: 120, silent: (atS, node) => node === "drums" && atS > 300 });
    s.live(900);
    expect(s.toldAtS()).toBeLessThan(300 + 180);
    expect(s.standing()).toContain("watch-lost");
  });
  it("the meter's node in mid-fill: told within 3 min", () => {
    const s = story(meter, { startL: 120, silent: (atS, node) => node === "press" && atS > 300 });
    s.live(900);
    expect(s.toldAtS()).toBeLessThan(300 + 180);
    expect(s.standing()).toContain("watch-lost");
  });
  it("a node that is away at standstill with a wet float: nobody is called", () => {
    const s = story(meter, { startL: 181, silent: (atS, node) => node === "press" && atS > 300 });
    s.live(1800);
    expect(s.calls()).toEqual([]);
  });
});

describe("by hand", () => {
  const hand: Kit = { manual: true, tripsAt: 180 };
  it("a fill that the float ends needs no second press", () => {
    const s = story(hand, { startL: 100, tap: (atS) => atS >= 10 && atS < 1230 });
    s.act("fill-started", 10);
    s.live(1800);
    expect([s.calls(), s.fills()[0]?.end]).toEqual([[], "float-tripped"]);
  });
  it("five good ones teach; the sixth, forgotten with a stuck float, is told", () => {
    const s = story(hand, {
      startL: 20,
      draw: (atS) => (atS % 3600 > 1800 && atS % 3600 < 2400 ? 8 : 0),
      tap: (atS) => atS % 3600 >= 10 && (atS < 18_000 ? atS % 3600 < 1210 : true),
      contact: () => false,
    });
    for (let i = 0; i < 5; i += 1) {
      s.live(i * 3600 + 9);
      s.act("fill-started", i * 3600 + 9);
      s.live(i * 3600 + 1210);
      s.act("fill-stopped", i * 3600 + 1210);
    }
    s.live(18_009);
    s.act("fill-started", 18_009);
    s.live(18_009 + 1440);
    expect(s.calls()).toEqual([]);
    s.live(18_009 + 1600);
    expect(s.calls()).toEqual(["fill-long"]);
  });
});
