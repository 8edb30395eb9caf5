import type { Measurement } from "@drumlin/gateway/measurements";
import { describe, expect, it } from "vitest";
import type { Bench } from "./measuring-bench.ts";
import { createProbeBench } from "./probe-bench.ts";

describe("flags", () => {
  const flagsOf = (bench: Bench, values: readonly number[], channel: string) =>
    values.map(
      (value, place) =>
        (bench.read(channel, channel.includes("/t-") ? "Cel" : "S/m", value, place * 5)[0] as Measurement)
          .flag,
    );
  it.each([
    ["temperature", "press/t-1", "Cel", 85, 4, "power-on-value"],
    ["temperature", "press/t-1", "Cel", 85.1, 4, "over-range"],
    ["temperature", "press/t-1", "Cel", -127, 4, "sensor-lost"],
    ["temperature", "press/t-1", "Cel", -126, 4, "under-range"],
    ["conductivity", "press/ec-1", "S/m", 21, 4, "over-range"],
    ["conductivity", "press/ec-2", "S/m", -1e-6, 4, "under-range"],
    ["conductivity", "press/ec-1", "S/m", 0, 4, "open-circuit"],
    ["conductivity25", "press/pen", "kg/m3", 0, 4, "open-circuit"],
    ["conductivity25", "press/salt-pen", "kg/m3", 60, 9, "over-range"],
    ["conductivity25", "press/salt-pen", "kg/m3", -1, 9, "under-range"],
  ] as const)("%s of %s: %s %d is flag %d, %s", (quantity, channel, unit, value, flag, reason) => {
    const found = createProbeBench().measure(quantity, channel, unit, value);
    expect(found.flag).toBe(flag);
    expect(found.reasons).toContain(reason);
  });
  it("the probe's own limits are included (QARTOD gross range), and what lies over is not clipped", () => {
    const bench = createProbeBench(
      "drumlin: 1\nsite: a\npoints: { p: { conductivity: { channel: n/c, at25: true, range: { min: 10, max: 2000 } } } }",
    );
    const found = [0.0009, 0.001, 0.2, 0.25].map((value) => {
      const { value: kappa25, flag } = bench.measure("conductivity25", "n/c", "S/m", value);
      return [Math.round(kappa25 ?? 0), flag];
    });
    expect(found).toEqual([
      [9, 4],
      [10, 1],
      [2000, 1],
      [2500, 4],
    ]);
  });
  it("a temperature that failed compensates nothing", () => {
    const bench = createProbeBench();
    bench.read("press/t-1", "Cel", 85);
    expect(bench.measure("conductivity25", "press/ec-1", "S/m", 0.05, 1).reasons).toEqual([
      "temperature-assumed",
    ]);
  });
  it("within 10 s of a node's start nothing of it is a value", () => {
    expect(createProbeBench().read("press/ec-1", "S/m", 0.05, 0, 3)).toMatchObject([
      { quantity: "conductivity", value: null, flag: 9, reasons: ["settling-after-boot"] },
      { quantity: "conductivity25", value: null, flag: 9, reasons: ["settling-after-boot"] },
    ]);
  });
  it("a time that is only the arrival's is not evaluated, and a fault still fails it", () => {
    const bench = createProbeBench();
    expect(bench.read("press/t-1", "Cel", 15, 0, 2)).toMatchObject([{ flag: 2, reasons: ["arrival-time"] }]);
    expect(bench.read("press/t-1", "Cel", 85, 1, 2)).toMatchObject([{ flag: 4 }]);
  });
  it("a thermometer's lone leap of over 3 °C is suspect and compensates nothing; what comes after is good", () => {
    const leap = [10, 10, 10, 20, 10, 10, 10];
    expect(flagsOf(createProbeBench(), leap, "press/t-1")).toEqual([1, 1, 1, 3, 1, 1, 1]);
    const bench = createProbeBench();
    for (const [place, celsius] of [10, 10, 20].entries()) bench.read("press/t-1", "Cel", celsius, place);
    const kappa25 = bench.measure("conductivity25", "press/ec-1", "S/m", 0.05, 2).value ?? 0;
    expect(Math.abs(kappa25 - 714)).toBeLessThan(0.5); // ISO 7888: f25(10.0 °C) = 1.428
  });
  it("a leap that lasts is confirmed by the next value", () => {
    expect(flagsOf(createProbeBench(), [10, 10, 20, 20, 20], "press/t-1")).toEqual([1, 1, 3, 1, 1]);
  });
  it("behind resin a leap is never held against the probe: breakthrough is fast", () => {
    const values = [5e-5, 5e-5, 5e-5, 5e-2, 5e-2];
    expect(flagsOf(createProbeBench(), values, "press/ec-2")).toEqual([1, 1, 1, 1, 1]);
    expect(flagsOf(createProbeBench(), [0.05, 0.05, 0.09, 0.05], "press/ec-1")).toEqual([1, 1, 3, 1]);
  });
});

describe("at and under the probe's resolution", () => {
  const under = (bench: Bench, atS: number, value = 1e-5) =>
    bench.measure("conductivity25", "press/ec-2", "S/m", value, atS);
  it("a value is suspect until the probe has proved itself alive", () => {
    expect(under(createProbeBench(), 0)).toMatchObject({ flag: 3, belowResolution: true });
  });
  it("it is good water after the probe read above in the last 7 days", () => {
    const bench = createProbeBench();
    under(bench, 0, 5e-5);
    expect(under(bench, 7 * 86_400)).toMatchObject({ flag: 1, belowResolution: true });
    expect(under(bench, 7 * 86_400 + 1)).toMatchObject({ flag: 3, belowResolution: true });
    expect(under(bench, 7 * 86_400 + 1).reasons).toContain("unproven");
  });
  it("a solids pen's 0 mg/L is judged the same way", () => {
    const bench = createProbeBench(`drumlin: 1
site: a
points: { p: { conductivity: { channel: n/pen, solids: 0.5, resolution: 1 mg/L, compensation: pure } } }`);
    expect(bench.measure("conductivity25", "n/pen", "kg/m3", 0)).toMatchObject({ flag: 3 });
    bench.read("n/pen", "kg/m3", 0.0015, 1);
    expect(bench.measure("conductivity25", "n/pen", "kg/m3", 0.001, 2)).toMatchObject({
      value: 2,
      flag: 1,
      belowResolution: true,
    });
  });
  it("the node's word on resolution (S/m) counts where the line has none", () => {
    const bench = createProbeBench();
    bench.presence("press", [{ name: "ec-9", unit: "S/m", resolution: 1e-3, at25: true }]);
    const at = (value: number) => bench.measure("conductivity25", "press/ec-9", "S/m", value);
    expect(at(1e-3)).toMatchObject({ value: 10, belowResolution: true });
    expect(at(1.1e-3)).not.toHaveProperty("belowResolution");
  });
  it("pure water that falls to 0 at once is an open circuit", () => {
    const bench = createProbeBench();
    under(bench, 0, 5e-3);
    expect(under(bench, 5, 0)).toMatchObject({ flag: 4, reasons: expect.arrayContaining(["open-circuit"]) });
  });
});
