import {
  depthAtVolume,
  depthOfPressureM,
  echoDepthM,
  pressureOfDepthPa,
  speedOfSoundMPerS,
  strappingTable,
  volumeAtDepth,
} from "@drumlin/gateway/water";
import fc from "fast-check";
import { describe, expect, it } from "vitest";

const points = [
  { depthM: 0, volumeL: 0 },
  { depthM: 0.2, volumeL: 60 },
  { depthM: 0.75, volumeL: 200 },
];

describe("strapping", () => {
  const read = strappingTable(points.toReversed());
  if (!read.ok) throw new Error(read.message);
  const { table } = read;
  it("depth and volume are one another's inverse, and more depth is more water", () => {
    fc.assert(
      fc.property(fc.double({ min: 0, max: 0.75, noNaN: true }), (depth) => {
        const volume = volumeAtDepth(table, depth);
        return Math.abs(depthAtVolume(table, volume) - depth) < 1e-9 && volume >= 0 && volume <= 200;
      }),
    );
    expect(volumeAtDepth(table, 0.1)).toBeCloseTo(30, 9);
    expect(volumeAtDepth(table, 0.475)).toBeCloseTo(130, 9);
  });
  it("no guess is made beyond the table's ends", () => {
    expect(() => volumeAtDepth(table, 0.76)).toThrow("depth is 0.76 m; it must be from 0 to 0.75 m");
    expect(() => depthAtVolume(table, -1)).toThrow("from 0 to 200 L");
  });
  it("a table that is none is refused by name", () => {
    expect(strappingTable([])).toMatchObject({ code: "strapping-too-short" });
    expect(strappingTable([...points, { depthM: 0.5, volumeL: 50 }])).toMatchObject({
      code: "strapping-not-rising",
      place: 3,
    });
    expect(strappingTable([...points, { depthM: Number.NaN, volumeL: 1 }])).toMatchObject({
      code: "strapping-not-finite",
      place: 3,
    });
  });
});

describe("pressure and echo", () => {
  it("depth and pressure are one another's inverse", () => {
    fc.assert(
      fc.property(
        fc.double({ min: 0, max: 20, noNaN: true }),
        fc.double({ min: 990, max: 1030, noNaN: true }),
        (depth, density) =>
          Math.abs(depthOfPressureM(pressureOfDepthPa(depth, density), density) - depth) < 1e-9,
      ),
    );
    expect(() => depthOfPressureM(300_000, 1000)).toThrow("from -1000 to 220000 Pa");
    expect(() => depthOfPressureM(1000, 1.0)).toThrow("density is 1 kg/m3; it must be from 950 to 1100");
  });
  it("a shorter echo is deeper water, and warm air makes the same echo a longer way", () => {
    expect(echoDepthM(0.002, 20, 1)).toBeGreaterThan(echoDepthM(0.003, 20, 1));
    expect(echoDepthM(0.003, 30, 1)).toBeLessThan(echoDepthM(0.003, 10, 1));
    expect(echoDepthM(2 / speedOfSoundMPerS(20), 20, 1.4)).toBeCloseTo(0.4, 9);
  });
  it("an echo from under the floor is refused", () => {
    expect(() => echoDepthM(0.01, 20, 1)).toThrow("distance to the water");
    expect(() => echoDepthM(-0.001, 20, 1)).toThrow("echo time");
    expect(() => speedOfSoundMPerS(80)).toThrow("from -20 to 60 Cel");
  });
});
