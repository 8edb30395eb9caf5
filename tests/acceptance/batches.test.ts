// A drum in which salt is mixed, from empty to empty. Each expectation was written down before the first run.
// Conductivity of sea water at 25 °C, mS/cm, by salinity (PSS-78, UNESCO 37 (1981)): 53.06 is 35, 47.1 is 30.6.

import { describe, expect, it } from "vitest";
import { batch, dissolves, hour, level, plain, probed } from "./batch-house.ts";

describe("a batch with a level and a probe", () => {
  it("goes from empty to ready, is used, and ends as a heel", () => {
    const s = batch(probed, {
      drumProbe: dissolves(3060),
      draw: (atS) => (atS > 4 * hour && atS < 4 * hour + 600 ? 17 : 0),
    });
    s.filled();
    expect(s.states()).toEqual(["unknown", "empty", "filling", "fresh"]);
    expect(s.word()).toBe("use");
    expect(s.does("salted", 3050, { kg: 6.3, lot: "A-117" })).toBeNull();
    expect([s.now()?.state, s.word()]).toEqual(["salted", "hold"]);
    s.live(hour);
    expect([s.now()?.state, s.word()]).toEqual(["mixing", "hold"]);
    s.live(4 * hour);
    expect([s.now()?.state, s.word()]).toEqual(["ready", "use"]);
    expect(s.now()?.salinity).toBeCloseTo(35, 0);
    s.live(5 * hour);
    expect(s.states()).toEqual([
      "unknown",
      "empty",
      "filling",
      "fresh",
      "salted",
      "mixing",
      "ready",
      "in-use",
      "heel",
    ]);
    expect(s.act("release", 5 * hour + 1, { reason: "dumped" })).toBeNull();
    expect([s.now()?.state, s.now()?.salt, s.word()]).toEqual(["empty", [], "unknown"]);
    expect(s.calls()).toEqual([]);
  });
  it("is ready 30 min after its salinity stands within 0.2, and no sooner", () => {
    const s = batch(probed, { drumProbe: dissolves(3060) });
    s.filled();
    s.does("salted", 3050, { kg: 6.3 });
    // It stands from 4,260 s on (within 0.2 of it 7 s before): ready at about 6,060 s.
    s.live(6000);
    expect(s.now()?.state).toBe("mixing");
    s.live(6300);
    expect(s.now()?.state).toBe("ready");
  });
  it("is not ready while it creeps by 1 in an hour, though it is in its band", () => {
    const s = batch(probed, {
      // Salinity 34.1 to 35.9 over two hours.
      drumProbe: (atS) => (atS < 3060 ? 0.001 : 51.8 + (2.7 * (atS - 3060)) / 7200),
    });
    s.filled();
    s.does("salted", 3050, { kg: 6.3 });
    s.live(3000 + 2 * hour);
    expect([s.now()?.state, s.word()]).toEqual(["mixing", "hold"]);
  });
  it("stands at 31: steady, and never ready", () => {
    const s = batch(probed, { drumProbe: dissolves(3060, 47.1) });
    s.filled();
    s.does("salted", 3050, { kg: 5.6 });
    s.live(5 * hour);
    expect([s.now()?.state, s.word()]).toEqual(["mixing", "hold"]);
    expect(s.now()?.waits.join()).toMatch(/34 to 36/);
    // More salt, and it gets there.
    expect(s.does("salted", 5 * hour, { kg: 0.8 })).toBeNull();
    expect(s.now()?.salt).toHaveLength(2);
  });
  it("salt that nobody entered is seen by its probe", () => {
    const s = batch(probed, { drumProbe: dissolves(3060) });
    s.filled();
    s.live(hour);
    expect([s.now()?.state, s.now()?.salt, s.word()]).toMatchObject(["mixing", [{ by: null }], "hold"]);
    s.live(3 * hour);
    expect(s.now()?.state).toBe("ready");
  });
  it("no alarm of solids or salinity rings while it is fresh or being mixed; in use it does", () => {
    const s = batch(probed, {
      drumProbe: (atS) => (atS < 3 * hour ? dissolves(3060)(atS) : 47.1),
    });
    s.filled();
    s.does("salted", 3050, { kg: 6.3 });
    s.live(3 * hour - 5);
    expect([s.now()?.state, s.standing()]).toEqual(["ready", []]);
    s.live(3 * hour + 900);
    expect(s.standing()).toEqual(["drum-off-target"]);
    expect(s.word()).toBe("hold");
  });
  it("fresh water that runs into it is told, and it is not ready any more", () => {
    const s = batch(probed, {
      drumProbe: dissolves(3060),
      tap: (atS) => (atS >= 60 && atS < 2400) || (atS > 3 * hour && atS < 3 * hour + 360),
    });
    s.filled();
    s.does("salted", 3050, { kg: 6.3 });
    s.live(3 * hour);
    expect(s.word()).toBe("use");
    s.live(3 * hour + 360);
    expect(s.calls()).toEqual(["unplanned-inflow"]);
    expect([s.now()?.state, s.word()]).toEqual(["mixing", "hold"]);
    // It stands at its salinity again.
    s.live(5 * hour);
    const [alarm] = s.bench.standing();
    expect([s.now()?.state, alarm?.condition, alarm?.state]).toEqual([
      "ready",
      "unplanned-inflow",
      "returned-unacknowledged",
    ]);
    expect(s.now()?.cameInL).toBeCloseTo(24, -1);
  });
  it("a silent probe makes nothing ready; what is ready stays so", () => {
    const s = batch(probed, {
      drumProbe: (atS) => (atS > 3300 && atS < 3 * hour ? null : dissolves(3060)(atS)),
    });
    s.filled();
    s.does("salted", 3050, { kg: 6.3 });
    s.live(3 * hour);
    expect(s.now()?.state).toBe("mixing");
    s.live(3 * hour + 1860);
    expect(s.now()?.state).toBe("ready");
  });
});

describe("a batch without a probe", () => {
  it("goes by what a person measured, and takes nothing outside of its band", () => {
    const s = batch(plain);
    s.filled();
    expect(s.does("mixing", 3010)).toBe("not-possible-in-state");
    expect(s.does("salted", 3050, { kg: 6.3 })).toBeNull();
    expect(s.does("mixing", 3060)).toBeNull();
    s.live(3 * hour);
    expect([s.now()?.state, s.word()]).toEqual(["mixing", "hold"]);
    expect(s.does("ready", 3 * hour)).toBe("not-possible-in-state");
    expect(s.does("ready", 3 * hour, { salinity: 31 })).toBe("not-possible-in-state");
    expect(s.does("ready", 3 * hour, { salinity: 35.2 })).toBeNull();
    expect([s.now()?.state, s.now()?.salinity, s.word()]).toEqual(["ready", 35.2, "use"]);
    expect(s.does("in-use", 3 * hour + 5)).toBeNull();
    expect(s.does("heel", 3 * hour + 9)).toBeNull();
    expect([s.now()?.state, s.word()]).toEqual(["heel", "hold"]);
  });
  it("10 min after the salt nobody can call it ready", () => {
    const s = batch(plain);
    s.filled();
    s.does("salted", 3050, { kg: 6.3 });
    s.live(3650);
    expect(s.does("ready", 3650, { salinity: 35 })).toBe("not-possible-in-state");
  });
});

describe("what is refused", () => {
  it("salt into nothing, into a running fill, and into a drum that holds fresh water", () => {
    const s = batch(level);
    s.live(6);
    s.dumped(6);
    expect(s.does("salted", 7, { kg: 6 })).toBe("not-possible-in-state");
    s.live(1200);
    expect([s.now()?.state, s.does("salted", 1201, { kg: 6 })]).toEqual(["filling", "not-possible-in-state"]);
    const fresh = batch({ ...level, extra: "" });
    fresh.filled();
    expect(fresh.does("salted", 3001, { kg: 6 })).toBe("not-possible-in-state");
  });
  it('"I\'m filling now" on salt water, unless fresh water is added on purpose', () => {
    const s = batch(level, { tap: (atS) => (atS >= 60 && atS < 2400) || (atS > 3700 && atS < 4000) });
    s.filled();
    s.does("salted", 3050, { kg: 6.3 });
    expect(s.act("fill-started", 3600)).toBe("not-possible-in-state");
    expect(s.does("adding-water", 3610)).toBeNull();
    expect(s.act("fill-started", 3620)).toBeNull();
    s.live(4600);
    expect([s.now()?.state, s.calls()]).toEqual(["mixing", []]);
  });
  it("emptied, while the level says otherwise", () => {
    const s = batch(level);
    s.filled();
    s.does("salted", 3005, { kg: 6.3 });
    expect(s.act("release", 3010, { reason: "dumped" })).toBe("not-possible-in-state");
    expect(s.now()?.state).toBe("salted");
  });
  it("a release of water that is not ready", () => {
    const s = batch(plain);
    s.filled();
    s.does("salted", 3050, { kg: 6.3 });
    expect(s.act("release", 3100, { reason: "hand-test", value25UsPerCm: 2 })).toBe("not-possible-in-state");
  });
});
