import type { Measurement } from "@drumlin/gateway/measurements";
import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { createProbeBench } from "./probe-bench.ts";
import table from "./values/to-25.json" with { type: "json" };

type Bench = ReturnType<typeof createProbeBench>;

describe("to 25 °C, by published values", () => {
  it.each(table.rows)("$source", ({ compensation, siemensPerM, celsius, kappa25UsPerCm, tolerance }) => {
    const bench = createProbeBench(`drumlin: 1
site: a
points: { p: { temperature: n/t, conductivity: { channel: n/c, compensation: ${compensation} } } }`);
    bench.read("n/t", "Cel", celsius);
    const found = bench.measure("conductivity25", "n/c", "S/m", siemensPerM, 1);
    expect(Math.abs((found.value ?? Number.NaN) - kappa25UsPerCm)).toBeLessThanOrEqual(tolerance);
    expect(found.flag).toBe(1);
  });
  it("PSS-78 (UNESCO 44, 1983): 42.914 mS/cm at 15 °C is salinity 35", () => {
    const bench = createProbeBench();
    bench.read("drums/t-1", "Cel", 15 / 1.00024);
    expect(bench.measure("salinity", "drums/ec-1", "S/m", 4.2914, 1).value).toBeCloseTo(35, 3);
  });
  it("solids go back by their own scale: 0.5 mg/L per uS/cm; as NaCl 702.1 mg/L is 1413 uS/cm within 1.8 % (printed table of standards)", () => {
    const bench = createProbeBench();
    expect(bench.measure("conductivity25", "press/pen", "kg/m3", 0.1).value).toBeCloseTo(200, 9);
    const salt = bench.measure("conductivity25", "press/salt-pen", "kg/m3", 0.7021).value ?? 0;
    expect(Math.abs(salt / 1413 - 1)).toBeLessThan(0.018);
  });
});

describe("units of the wire to units of the room (SI)", () => {
  it.each([
    ["conductivity", "press/ec-1", "S/m", 0.05, 500],
    ["temperature", "press/t-1", "K", 288.15, 15],
    ["pressure", "press/p-1", "Pa", 250_000, 2.5],
    ["flow", "press/flow-1", "m3/s", 5e-5, 3],
    ["level", "drums/l-1", "m", 0.6, 0.6],
    ["volume", "drums/l-1", "m", 0.25, 50],
    ["volume", "drums/l-1", "m", 0.6, 140],
    ["volume", "drums/l-1", "m", 0.8, 220],
    // 1 m of water: 998.2 kg/m3 (Kell 1975, 20 °C) × 9.80665 m/s2 (CGPM 1901) = 9,789 Pa.
    ["volume", "drums/p-2", "Pa", 9789, 200],
    ["state", "drums/f-1", null, 0, 1],
    ["state", "drums/f-1", null, 1, 0],
    ["state", "drums/f-2", null, 1, 1],
    ["state", "drums/v-1", null, 1, 1],
    ["state", "hall/b-1", null, 0, 1],
  ] as const)("%s of %s: %s %d is %d", (quantity, channel, unit, value, expected) => {
    const found = createProbeBench().measure(quantity, channel, unit, value);
    expect(found.value).toBeCloseTo(expected, 2);
    expect(found.flag).toBe(1);
  });
  it.each([
    ["conductivity25", "press/ec-1", "Cel", 5],
    ["temperature", "press/t-1", "S/m", 5],
    ["flow", "press/flow-1", "m3", 5],
    ["volume", "drums/l-1", "Pa", 5],
    ["state", "drums/f-1", null, 0.5],
  ] as const)("%s of %s in another unit is missing, and says why", (quantity, channel, unit, value) => {
    expect(createProbeBench().measure(quantity, channel, unit, value)).toMatchObject({
      value: null,
      flag: 9,
      reasons: ["unit-mismatch"],
    });
  });
});

describe("calibration, by Wagner et al. 2006 (USGS TM 1-D3)", () => {
  const read = (bench: Bench, usPerCm: number, atS = 0) =>
    bench.measure("conductivity25", "press/ec-9", "S/m", usPerCm / 10_000, atS).value;
  it("one point is a factor: 500 that should be 450 makes 100 to 90, not 50", () => {
    const bench = createProbeBench();
    bench.calibrate("press/ec-9", [[500, 450]]);
    expect(read(bench, 100)).toBeCloseTo(90, 9);
  });
  it("two points are a line: 0 and 1000 with an error of 100 make 100 to 90", () => {
    const bench = createProbeBench();
    bench.calibrate("press/ec-9", [
      [0, 0],
      [1000, 900],
    ]);
    expect(read(bench, 100)).toBeCloseTo(90, 9);
  });
  it("the outer two of three standards bring the third from 7.14 % off to within 1 % (figure 10)", () => {
    const bench = createProbeBench();
    bench.calibrate("press/ec-9", [
      [102, 99],
      [532, 488],
    ]);
    expect(Math.abs((read(bench, 270) ?? 0) / 252 - 1)).toBeLessThan(0.01);
    expect(read(bench, 102)).toBeCloseTo(99, 9);
  });
  it("one point of a thermometer is an offset", () => {
    const bench = createProbeBench();
    bench.calibrate("press/t-1", [[20.4, 20]]);
    expect(bench.measure("temperature", "press/t-1", "Cel", 10.4).value).toBeCloseTo(10, 9);
  });
  it("holds from its own time on, in whatever order calibrations were entered", () => {
    const bench = createProbeBench();
    bench.calibrate("press/ec-9", [[100, 120]], 200);
    bench.calibrate("press/ec-9", [[100, 110]], 100);
    expect([50, 150, 250].map((atS) => Math.round(read(bench, 100, atS) ?? 0))).toEqual([100, 110, 120]);
  });
  it.each([
    [[1e-320, 1e308]],
    [[1e308, 1e-320]],
    [
      [1e308, 1e308],
      [-1e308, -1e308],
    ],
    [
      [0, 0],
      [1e-320, 1e308],
    ],
  ] as [number, number][][])("numbers beyond all measure change nothing: %j", (...points) => {
    const bench = createProbeBench();
    bench.calibrate("press/ec-9", points);
    bench.calibrate("press/t-1", points);
    expect(read(bench, 100)).toBeCloseTo(100, 9);
    const warmth = bench.measure("temperature", "press/t-1", "Cel", 10.4).value;
    expect(warmth === null || Number.isFinite(warmth)).toBe(true);
  });
  it("points that tell nothing change nothing", () => {
    const bench = createProbeBench();
    bench.calibrate("press/ec-9", [[0, 100]]);
    bench.calibrate("press/ec-9", [
      [100, 100],
      [100, 200],
    ]);
    bench.calibrate("press/ec-9", [
      [100, 200],
      [200, 100],
    ]);
    expect(read(bench, 100)).toBe(100);
  });
});

describe("the temperature that compensates", () => {
  const kappa25 = (bench: Bench, channel: string, atS: number) =>
    bench.measure("conductivity25", channel, "S/m", 0.05, atS);
  it("is the probe's own", () => {
    const bench = createProbeBench();
    bench.read("press/t-1", "Cel", 10);
    expect(kappa25(bench, "press/ec-1", 1)).toMatchObject({ flag: 1, reasons: [] });
  });
  it("else the nearest along the flow, marked", () => {
    const bench = createProbeBench();
    bench.read("press/t-1", "Cel", 10);
    expect(kappa25(bench, "press/ec-3", 1)).toMatchObject({ flag: 1, reasons: ["temperature-borrowed"] });
  });
  it("else 15 °C, an estimate, where no probe ever told", () => {
    expect(kappa25(createProbeBench(), "press/ec-1", 1)).toMatchObject({
      flag: 1,
      reasons: ["temperature-assumed"],
      estimated: true,
    });
  });
  it.each(["press/ec-1", "press/ec-3"])("else 15 °C and suspect, where a probe was lost: %s", (channel) => {
    const bench = createProbeBench();
    bench.read("press/t-1", "Cel", 10);
    expect(kappa25(bench, channel, 120)).not.toHaveProperty("estimated");
    expect(kappa25(bench, channel, 121)).toMatchObject({
      flag: 3,
      reasons: ["temperature-lost"],
      estimated: true,
    });
  });
  it("of a drum is its own or none: water stands there", () => {
    const bench = createProbeBench();
    bench.read("press/t-1", "Cel", 10);
    expect(kappa25(bench, "drums/ec-1", 1).reasons).toEqual(["temperature-assumed"]);
  });
  it("is that of the reading's time, not the newest (ISO 7888: f25(10.0 °C) = 1.428)", () => {
    const bench = createProbeBench();
    bench.read("press/t-1", "Cel", 10, 0);
    bench.read("press/t-1", "Cel", 12, 100);
    expect(Math.abs((kappa25(bench, "press/ec-1", 50).value ?? 0) - 714)).toBeLessThan(0.5);
  });
  it("of what comes hours late is what came with it; now stays now (ISO 7888: f25(20 °C) = 1.116)", () => {
    const bench = createProbeBench();
    for (let atS = 20_000; atS < 20_200; atS += 5) bench.read("press/t-1", "Cel", 20, atS);
    for (let atS = 0; atS < 600; atS += 5) {
      bench.read("press/t-1", "Cel", 10, atS);
      expect(kappa25(bench, "press/ec-1", atS).reasons).toEqual([]);
    }
    expect(Math.abs((kappa25(bench, "press/ec-1", 20_199).value ?? 0) - 558)).toBeLessThan(0.5);
  });
  it("outside 0–35.9 °C makes natural water suspect", () => {
    const bench = createProbeBench();
    bench.read("press/t-1", "Cel", 36);
    expect(kappa25(bench, "press/ec-1", 1)).toMatchObject({
      flag: 3,
      reasons: ["outside-compensation-range"],
    });
  });
});

describe("a channel that is at 25 °C already", () => {
  it("isn't compensated again, and tells nothing of conductivity at the water's temperature", () => {
    expect(createProbeBench().read("press/ec-9", "S/m", 0.05)).toMatchObject([
      { quantity: "conductivity25", value: 500 },
    ]);
  });
  it("may be called so by its node too, and the node's will doesn't take it back", () => {
    const bench = createProbeBench();
    bench.presence("press", [{ name: "ec-1", unit: "S/m", resolution: null, at25: true }]);
    expect(bench.read("press/ec-1", "S/m", 0.05)).toMatchObject([{ quantity: "conductivity25", value: 500 }]);
    bench.presence("press", [], false);
    expect(bench.read("press/ec-1", "S/m", 0.05, 1)).toHaveLength(1);
  });
});

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

describe("channels that nobody assigned", () => {
  it("are kept live, 32 a node; readings of further ones are counted", () => {
    const bench = createProbeBench();
    for (let place = 0; place < 40; place += 1) bench.read(`other/x-${place}`, "Cel", place);
    expect(bench.outcomes).toHaveLength(32);
    expect(bench.room().unassignedDropped).toBe(8);
    expect(bench.read("other/x-3", "Cel", 1)).toMatchObject([{ kind: "unassigned", channel: "other/x-3" }]);
    expect(bench.read("third/x-1", "Cel", 1)).toHaveLength(1);
  });
  it.each(["constructor", "toString", "__proto__"])("of a node with the name %s too", (node) => {
    expect(createProbeBench().read(`${node}/x`, null, 1)).toMatchObject([{ kind: "unassigned" }]);
  });
  it("one that was heard neither today nor yesterday gives room to another, the longest silent first", () => {
    const bench = createProbeBench();
    const dayS = 86_400;
    for (let index = 0; index < 32; index += 1) bench.read(`other/x-${index}`, "Cel", 1, index);
    bench.read("other/x-0", "Cel", 1, 2 * dayS);
    expect(bench.read("other/y-1", "Cel", 1, 2 * dayS + 1)).toMatchObject([
      { channel: "other/y-1", replaced: "other/x-1" },
    ]);
    expect(bench.read("other/x-1", "Cel", 1, 2 * dayS + 2)).toMatchObject([{ replaced: "other/x-2" }]);
    for (let index = 0; index < 60; index += 1) bench.read(`other/z-${index}`, "Cel", 1, 2 * dayS + 3);
    // All 32 were heard today now, and none of them goes.
    expect(bench.read("other/x-0", "Cel", 1, 2 * dayS + 4)).toMatchObject([{ replaced: null }]);
    expect(bench.read("other/late", "Cel", 1, 3 * dayS + 4)).toEqual([]);
  });
  it("one that gets its place in the line gives room to another", () => {
    const bench = createProbeBench("drumlin: 1\nsite: a\npoints: { p: {} }");
    for (let place = 0; place < 32; place += 1) bench.read(`press/x-${place}`, "Cel", place);
    expect(bench.read("press/t-1", "Cel", 1)).toHaveLength(0);
    const assigned = "drumlin: 1\nsite: a\npoints: { p: { temperature: press/x-3 } }";
    bench.room().useLine(createProbeBench(assigned).line);
    expect(bench.read("press/t-1", "Cel", 1)).toHaveLength(1);
  });
});

const units = {
  "press/ec-1": "S/m",
  "press/ec-2": "S/m",
  "press/ec-3": "S/m",
  "press/ec-9": "S/m",
  "press/pen": "kg/m3",
  "press/salt-pen": "kg/m3",
  "press/t-1": "Cel",
  "press/p-1": "Pa",
  "press/flow-1": "m3/s",
  "drums/l-1": "m",
  "drums/p-2": "Pa",
  "drums/t-1": "Cel",
  "drums/ec-1": "S/m",
  "drums/f-1": null,
  "other/x": "V",
} as const;
const anyReading = fc.record({
  channel: fc.constantFrom(...(Object.keys(units) as (keyof typeof units)[])),
  ownUnit: fc.integer({ min: 0, max: 9 }).map((drawn) => drawn > 0),
  value: fc.oneof(
    fc.double({ noNaN: true, noDefaultInfinity: true }),
    fc.double({ min: -1, max: 60, noNaN: true }),
    fc.constantFrom(0, 1, -0, 1e-5),
  ),
  atS: fc.double({ min: -400, max: 400, noNaN: true }),
  flag: fc.constantFrom(1 as const, 2 as const, 3 as const),
});

describe("whatever comes", () => {
  it("never throws, never gives NaN; a value is null exactly when it is missing; ids are never given twice", () => {
    fc.assert(
      fc.property(fc.array(anyReading, { maxLength: 60 }), (readings) => {
        const bench = createProbeBench();
        for (const { channel, ownUnit, value, atS, flag } of readings)
          bench.read(channel, ownUnit ? units[channel] : "A", value, atS, flag);
        for (const outcome of bench.outcomes) {
          if (outcome.kind !== "measurement") continue;
          expect(outcome.value === null).toBe(outcome.flag === 9);
          if (outcome.value !== null) expect(Number.isFinite(outcome.value)).toBe(true);
          if (outcome.flag >= 3) expect(outcome.reasons.length).toBeGreaterThan(0);
        }
        const ids = bench.outcomes.map(({ id }) => id);
        expect(new Set(ids).size).toBe(ids.length);
      }),
      { seed: 5, numRuns: 500 },
    );
  });
  it("a restart at any cut changes nothing", () => {
    fc.assert(
      fc.property(fc.array(anyReading, { minLength: 1, maxLength: 60 }), fc.nat(59), (readings, cut) => {
        const [whole, cutOff] = [createProbeBench(), createProbeBench()];
        for (const [place, { channel, value, atS, flag }] of readings.entries()) {
          whole.read(channel, units[channel], value, atS, flag);
          cutOff.read(channel, units[channel], value, atS, flag);
          if (place === cut) cutOff.restart();
        }
        expect(JSON.stringify(cutOff.outcomes)).toBe(JSON.stringify(whole.outcomes));
      }),
      { seed: 6, numRuns: 300 },
    );
  });
});
