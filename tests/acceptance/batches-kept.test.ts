// What a level by pressure and a restart make of a drum in which salt is mixed. Each expectation was written down before the
// first run.

import { describe, expect, it } from "vitest";
import { batch, dissolves, hour, level, plain, probed, target } from "./batch-house.ts";
import type { Kit } from "./drum-house.ts";

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
