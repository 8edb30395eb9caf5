// A drum in which salt is mixed, from empty to empty. Each expectation was written down before the first run.
// Conductivity of sea water at 25 °C, mS/cm, by salinity (PSS-78, UNESCO 37 (1981)): 53.06 is 35, 47.1 is 30.6.

import type { Batch } from "@drumlin/gateway/fills";
import { describe, expect, it } from "vitest";
import type { House, Kit } from "./drum-house.ts";
import { story } from "./drum-story.ts";

const target = "target: { salinity: 35 }";
const plain: Kit = {
  meter: true,
  manual: true,
  tripsAt: 180,
  releasesAt: 160,
  extra: `holds: salt, ${target}`,
};
const level: Kit = { ...plain, level: true };
const probed: Kit = {
  ...level,
  extra: `holds: salt, conductivity: drums/ec, temperature: drums/t, ${target}`,
};
const sea = 53.06;
const hour = 3600;

function batch(kit: Kit, house: House = {}) {
  const s = story(kit, {
    startL: 2,
    pressS: 20,
    drumsS: 20,
    tap: (atS) => atS >= 60 && atS < 2700,
    ...house,
  });
  const told = () => s.bench.outcomes.filter((one): one is Batch => one.kind === "batch");
  return {
    ...s,
    told,
    states: () =>
      told()
        .map(({ state }) => state)
        .filter((state, at, all) => state !== all[at - 1]),
    now: () => told().at(-1) ?? null,
    does: (step: string, atS: number, more: object = {}) => s.act("batch", atS, { step, ...more }),
    /** Dumped at 6 s, filled with 176 L of good water up to 2,700 s, then 5 min of rest. */
    filled() {
      s.live(6);
      s.dumped(6);
      s.live(3000);
    },
  };
}

/** The salt dissolves in 20 min from `fromS` on. */
const dissolves =
  (fromS: number, to = sea) =>
  (atS: number) =>
    atS < fromS ? 0.001 : Math.min(to, (to * (atS - fromS)) / 1200);

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

describe("a level by pressure", () => {
  const kit: Kit = {
    ...plain,
    extra: `holds: salt, ${target}, level: { channel: drums/p, as: pressure, strapping: { "0 m": "0 L", "1 m": "200 L" } }`,
  };
  const pressure = (s: ReturnType<typeof batch>, densityKgPerM3: number, atS: number) =>
    s.bench.node("drums", [{ n: "p", u: "Pa", v: densityKgPerM3 * 9.80665 * 0.8 }], atS);
  const litres = (s: ReturnType<typeof batch>) => {
    const last = s.bench.outcomes.findLast((one) => one.kind === "measurement" && one.quantity === "volume");
    return last?.kind === "measurement" ? last.value : null;
  };
  it("0.8 m of fresh water and of sea water are 160 L both; EOS-80 at 20 °C: 998.2 and 1024.76 kg/m3", () => {
    const s = batch(kit);
    pressure(s, 998.2, 10);
    expect(litres(s)).toBeCloseTo(160, 1);
    expect(s.does("salted", 11, { kg: 5.6 })).toBeNull();
    pressure(s, 1024.76, 20);
    expect(litres(s)).toBeCloseTo(160, 1);
    s.bench.restart(25);
    pressure(s, 1024.76, 30);
    expect(litres(s)).toBeCloseTo(160, 1);
    // Emptied by a mistake of the keeper: taken as fresh, and as salt again once that is taken back.
    s.bench.tick(600);
    expect(s.act("release", 601, { reason: "dumped" })).toBeNull();
    pressure(s, 998.2, 610);
    expect(litres(s)).toBeCloseTo(160, 1);
    expect(s.act("release-undo", 620)).toBeNull();
    pressure(s, 1024.76, 630);
    expect(litres(s)).toBeCloseTo(160, 1);
  });
});

describe("what came before the salt stays true", () => {
  it("bad water that was salted is on hold when it is ready, too", () => {
    const s = batch(plain, { kappa: 60 });
    s.filled();
    expect(s.word()).toBe("hold");
    s.does("salted", 3050, { kg: 6.3 });
    s.live(3 * hour);
    s.does("ready", 3 * hour, { salinity: 35 });
    expect([s.now()?.state, s.word()]).toEqual(["ready", "hold"]);
    expect(
      s.act("release", 3 * hour + 1, { reason: "hand-test", note: "ammonia and chlorine below" }),
    ).toBeNull();
    expect(s.word()).toBe("use");
  });
  it("a restart in each state changes nothing", () => {
    const s = batch(probed, { drumProbe: dissolves(3200) });
    s.live(6);
    s.dumped(6);
    for (const atS of [20, 1500, 3000, 3100, 3700, 4 * hour]) {
      s.live(atS);
      const before = s.now();
      s.bench.restart(atS);
      s.live(atS + 30);
      expect([s.now()?.state, s.now()?.id]).toEqual([before?.state, before?.id]);
      if (atS === 3000) s.does("salted", 3050, { kg: 6.3, lot: "B" });
    }
    expect([s.now()?.state, s.now()?.salt[0]?.lot]).toEqual(["ready", "B"]);
  });
  it("a dump that is taken back leaves the batch as it was", () => {
    const s = batch(plain);
    s.filled();
    s.does("salted", 3050, { kg: 6.3 });
    expect(s.act("release", 3100, { reason: "dumped" })).toBeNull();
    expect(s.now()?.state).toBe("empty");
    expect(s.act("release-undo", 3200)).toBeNull();
    expect([s.now()?.state, s.now()?.salt.length]).toEqual(["salted", 1]);
  });
  it("a drum that holds fresh water has no batch", () => {
    const s = batch({ ...level, extra: "" });
    s.filled();
    expect(s.told()).toEqual([]);
  });
});
