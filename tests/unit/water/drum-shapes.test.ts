import { compute } from "@drumlin/gateway/water";
import fc from "fast-check";
import { describe, expect, it } from "vitest";

const valuesOf = (id: string, given: Readonly<Record<string, unknown>>) => {
  const computed = compute(id, given);
  if (!computed.ok) throw new Error(computed.message);
  return computed.values as { full: number; depths: number[]; volumes: number[]; volume?: number };
};
const length = fc.double({ min: 0.05, max: 3, noNaN: true });
const drums: readonly [string, readonly string[]][] = [
  ["drum-upright-cylinder", ["diameter", "height"]],
  ["drum-lying-cylinder", ["diameter", "length"]],
  ["drum-cone", ["bottomDiameter", "topDiameter", "height"]],
  ["drum-box", ["length", "width", "height"]],
];

describe("drums by their shape", () => {
  it.each(drums)(
    "%s gives a strapping table that strapping-volume takes, rising from 0 to brimful",
    (id, names) => {
      fc.assert(
        fc.property(fc.array(length, { minLength: names.length, maxLength: names.length }), (measures) => {
          const given = Object.fromEntries(names.map((name, place) => [name, measures[place]]));
          const { full, depths, volumes } = valuesOf(id, { ...given, points: 41 });
          expect([depths[0], volumes[0]]).toEqual([0, 0]);
          expect(volumes.at(-1)).toBeCloseTo(full, 6);
          const depth = (depths.at(-1) as number) / 3;
          const exact = valuesOf(id, { ...given, depth }).volume as number;
          const read = compute("strapping-volume", { depths, volumes, depth });
          if (!read.ok) throw new Error(read.message);
          expect(Math.abs((read.values.volume as number) - exact) / full).toBeLessThan(0.001);
        }),
        { numRuns: 40 },
      );
    },
  );
  it("a lying drum is half full at half its depth, and as much is missing above as is there below", () => {
    const drum = { diameter: "58 cm", length: "90 cm" };
    const at = (depth: number) => valuesOf("drum-lying-cylinder", { ...drum, depth });
    const { full, volume } = at(0.29);
    expect(volume).toBeCloseTo(full / 2, 6);
    expect((at(0.1).volume as number) + (at(0.48).volume as number)).toBeCloseTo(full, 6);
  });
  it("a cone with equal ends is a cylinder", () => {
    const cylinder = valuesOf("drum-upright-cylinder", { diameter: 0.58, height: 0.9 });
    const cone = valuesOf("drum-cone", { bottomDiameter: 0.58, topDiameter: 0.58, height: 0.9 });
    expect(cone.volumes.map((volume, place) => volume - (cylinder.volumes[place] as number))).toEqual(
      cone.volumes.map(() => expect.closeTo(0, 9)),
    );
  });
  it("a depth above the brim is refused", () => {
    const computed = compute("drum-box", { length: 1, width: 1, height: 0.5, depth: 0.6 });
    expect(computed).toMatchObject({ code: "out-of-range", message: expect.stringContaining("depth") });
  });
});
