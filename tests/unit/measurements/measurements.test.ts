import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { anyReading, units } from "./measuring-bench.ts";
import { createProbeBench } from "./probe-bench.ts";
import table from "./values/to-25.json" with { type: "json" };

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

describe("whatever comes", () => {
  it("never throws, never gives NaN; a value is null exactly when it is missing", () => {
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
      }),
      { numRuns: 500 },
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
      { numRuns: 300 },
    );
  });
});
