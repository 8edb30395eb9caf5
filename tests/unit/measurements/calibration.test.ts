import { describe, expect, it } from "vitest";
import type { Bench } from "./measuring-bench.ts";
import { createProbeBench } from "./probe-bench.ts";

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
  it("a zero in air counts beside a standard, and not alone: it tells nothing of the cell's factor", () => {
    const bench = createProbeBench();
    bench.calibrate("press/ec-9", [[0.4, 0]]);
    expect(read(bench, 100)).toBeCloseTo(100, 9);
    bench.calibrate("press/ec-9", [
      [0.4, 0],
      [84.4, 84],
    ]);
    expect(read(bench, 1.4)).toBeCloseTo(1, 9);
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
