// What a drum's word may be: each expectation was written down from the mixing of waters before the first run.
import { describe, expect, it } from "vitest";
import type { House, Kit } from "./drum-house.ts";
import { drawEvery, story } from "./drum-story.ts";

const meter: Kit = { meter: true };
const level: Kit = { level: true, tripsAt: 180, releasesAt: 160 };
const floatOnly: Kit = { tripsAt: 180, releasesAt: 160 };
const kits: readonly (readonly [string, Kit])[] = [
  ["meter", meter],
  ["level", level],
  ["meter and level", { ...level, meter: true }],
  ["float only", floatOnly],
];
const hourly = drawEvery(3600, 4.2, 300);

/** Emptied to 2 L, said so, and filled for 45 min: 180 L. */
function fresh(kit: Kit, house: House = {}) {
  const s = story(kit, { startL: 2, ...house });
  s.live(6);
  s.dumped(6);
  s.live(3000);
  return s;
}

describe.each(kits)("%s", (_name, kit) => {
  it("a dumped drum that was filled with watched, good water may be used", () => {
    expect(fresh(kit).word()).toBe("use");
  });
  it("and goes on so through a day of refills", () => {
    const s = fresh(kit, { draw: (atS) => (atS > 3600 ? hourly(atS) : 0) });
    s.live(6 * 3600);
    expect([s.word(), s.words().includes("hold")]).toEqual(["use", false]);
  });
  it("water before the watch is unknown, whatever comes after", () => {
    const s = story(kit, { startL: 181 });
    s.live(1800);
    expect(s.word()).toBe("unknown");
  });
  it("two hours in which both nodes were away and a bad fill came in", () => {
    const s = fresh(kit, {
      draw: (atS) => (atS > 4000 && atS < 4600 ? 4 : 0),
      kappa: (atS) => (atS > 3600 ? 60 : 0.2),
      silent: (atS) => atS > 3600 && atS < 10_800,
    });
    s.live(12_000);
    expect(s.truth.kappa25).toBeGreaterThan(10);
    expect(s.word()).not.toBe("use");
  });
  it("a probe that is away through a whole refill", () => {
    const s = fresh(kit, {
      draw: (atS) => (atS > 3600 && atS < 4200 ? 6 : 0),
      kappaSays: (atS, k) => (atS > 3600 && atS < 9000 ? null : k),
    });
    s.live(9600);
    expect(s.word()).toBe("unknown");
  });
  it("a probe that reads exactly 0 through a whole refill", () => {
    const s = fresh(kit, {
      draw: (atS) => (atS > 3600 && atS < 4200 ? 6 : 0),
      kappaSays: (atS, k) => (atS > 3600 && atS < 9000 ? 0 : k),
    });
    s.live(9600);
    expect(s.word()).toBe("unknown");
  });
  it("spent resin at 8 uS/cm through a refill of 30 L: hold, though the blend stays under 10", () => {
    const s = fresh(kit, {
      draw: (atS) => (atS > 3600 && atS < 4200 ? 3 : 0),
      kappa: (atS) => (atS > 3600 ? 8 : 0.2),
    });
    s.live(9600);
    expect(s.truth.kappa25).toBeLessThan(10);
    expect(s.word()).toBe("hold");
  });
  it("a hold stays over a restart and over good water, until a person answers for it", () => {
    const s = fresh(kit, {
      draw: (atS) => (atS > 3600 && atS < 4200 ? 3 : 0),
      kappa: (atS) => (atS > 3600 && atS < 6000 ? 8 : 0.2),
    });
    s.live(9600);
    s.bench.restart(9605);
    s.live(10_200);
    expect(s.word()).toBe("hold");
    expect(s.act("release", 10_201, { reason: "hand-test", value25UsPerCm: 4 })).toBeNull();
    expect(s.word()).toBe("use");
  });
  it("one spike of 60 uS/cm in a refill holds nothing", () => {
    const s = fresh(kit, {
      draw: (atS) => (atS > 3600 && atS < 4200 ? 3 : 0),
      kappaSays: (atS, k) => (atS === 4500 ? 60 : k),
    });
    s.live(9600);
    expect(s.word()).toBe("use");
  });
  it("first water of 30 uS/cm after a night's standstill holds nothing", () => {
    // The first 2 L behind the vessel at each refill of 20 L.
    const s = fresh(kit, {
      draw: (atS) => (atS > 20_000 && atS < 20_300 ? 4.2 : 0),
      kappa: (atS) => (atS > 20_000 && atS < 20_320 ? 8 : 0.2),
    });
    s.live(22_000);
    expect(s.words()).not.toContain("hold");
  });
  it("a node that reboots for 12 s at standstill changes nothing", () => {
    const s = fresh(kit, { silent: (atS) => atS > 4000 && atS < 4012 });
    s.live(5000);
    expect(s.word()).toBe("use");
  });
  it("a good fill over a gap of 2 min stays use", () => {
    const s = fresh(kit, { silent: (atS) => atS > 1000 && atS < 1120 });
    s.live(3600);
    expect(s.word()).toBe("use");
  });
  it("dumped again: unknown at once, use when it was filled again", () => {
    const s = fresh(kit, {
      draw: (atS) => (atS > 3600 && atS < 3780 ? 60 : 0),
      valve: (atS, wet) => (atS < 3600 || atS > 3900) && !wet,
      kappa: (atS) => (atS < 3600 ? 0.2 : 0.3),
    });
    s.live(3850);
    expect(s.act("release", 3851, { reason: "dumped" })).toBeNull();
    expect(s.word()).toBe("unknown");
    s.live(8000);
    expect(s.word()).toBe("use");
  });
});

describe("acts", () => {
  it("dumped is refused while the level says otherwise", () => {
    const s = fresh(level);
    expect(s.act("release", 3001, { reason: "dumped" })).toBe("not-possible-in-state");
  });
  it("what may be used can't be released", () => {
    const s = fresh(level);
    expect(s.act("release", 3001, { reason: "hand-test" })).toBe("not-possible-in-state");
  });
  it("unknown water can be released by a hand test", () => {
    const s = story(meter, { startL: 181 });
    s.live(600);
    expect(s.act("release", 601, { reason: "hand-test", value25UsPerCm: 2 })).toBeNull();
    expect(s.word()).toBe("use");
  });
});

describe("a release that is taken back", () => {
  const held = {
    draw: (atS: number) => (atS > 3600 && atS < 4200 ? 3 : 0),
    kappa: (atS: number) => (atS > 3600 && atS < 6000 ? 8 : 0.2),
  };
  it("within 10 min: on hold for the same reasons, also over a restart in between; after that it is refused", () => {
    const s = fresh(meter, held);
    s.live(9600);
    expect(s.word()).toBe("hold");
    expect(s.act("release-undo", 9601)).toBe("not-possible-in-state");
    expect(s.act("release", 9602, { reason: "hand-test", value25UsPerCm: 4 })).toBeNull();
    s.bench.restart(9605);
    s.live(9700);
    expect(s.word()).toBe("use");
    expect(s.act("release-undo", 9702)).toBeNull();
    expect(s.word()).toBe("hold");
    expect(s.act("release-undo", 9703)).toBe("not-possible-in-state");
    expect(s.act("release", 9704, { reason: "other", note: "looked at it" })).toBeNull();
    s.live(10_400);
    expect(s.act("release-undo", 10_400)).toBe("not-possible-in-state");
    expect(s.word()).toBe("use");
  });
  it("bad water after a release holds again", () => {
    const s = fresh(meter, {
      draw: (atS) => ((atS > 3600 && atS < 4200) || (atS > 12_000 && atS < 12_600) ? 3 : 0),
      kappa: (atS) => (atS > 3600 ? 8 : 0.2),
    });
    s.live(9600);
    expect(s.act("release", 9602, { reason: "hand-test", value25UsPerCm: 2 })).toBeNull();
    s.live(11_900);
    expect(s.word()).toBe("use");
    s.live(18_000);
    expect(s.word()).toBe("hold");
  });
});

describe("the meter and the float", () => {
  it("a meter that sticks at 0 while the float calls and trips: unknown, and said", () => {
    const s = fresh(meter, {
      draw: (atS) => (atS > 3600 && atS < 4200 ? 3 : 0),
      meterSays: (atS, q) => (atS > 3600 ? 0 : q),
    });
    s.live(9600);
    expect([s.word(), s.standing()]).toEqual(["unknown", ["flow-disagrees"]]);
  });
  it("a supply that is shut for an hour while the float calls: no wake, and the word stays", () => {
    const s = fresh(meter, {
      draw: (atS) => (atS > 3600 && atS < 4200 ? 3 : 0),
      flow: (atS) => (atS > 3600 && atS < 7200 ? 0 : 4),
    });
    s.live(7000);
    expect([s.word(), s.calls(), s.standing()]).toEqual(["use", [], ["no-inflow"]]);
  });
  it("a membrane's good water of 24 uS/cm at a feed of 400 may be used", () => {
    expect(fresh({ meter: true, medium: "membrane" }, { kappa: 24 }).word()).toBe("use");
  });
});
