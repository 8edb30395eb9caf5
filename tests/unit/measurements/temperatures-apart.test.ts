import { describe, expect, it } from "vitest";
import { createProbeBench } from "./probe-bench.ts";

const line = (third: string) => `drumlin: 1
site: saltmarsh-house
points:
  supply: { conductivity: press/ec-1, temperature: press/t-1 }
  after-carbon: { conductivity: press/ec-3${third} }
  after-resin: { conductivity: { channel: press/ec-2, compensation: linear }, temperature: press/t-2 }
stages:
  carbon: { kind: carbon, from: supply, to: after-carbon }
  resin: { kind: resin, from: after-carbon, to: after-resin }
drums:
  mix: { volume: 200 L, fed_by: after-resin }
`;

/** κ25 behind the resin of 10 uS/cm at the water's temperature, and how it is flagged. */
function behindResin(celsius: Readonly<Record<string, number>>, secondsLater = 1) {
  const bench = createProbeBench(line("t-3" in celsius ? ", temperature: press/t-3" : ""));
  for (const [name, tC] of Object.entries(celsius)) bench.read(`press/${name}`, "Cel", tC);
  const { value, flag, reasons } = bench.measure("conductivity25", "press/ec-2", "S/m", 1e-3, secondsLater);
  return { atC: Math.round(25 + (10 / (value ?? 0) - 1) / 0.0191), flag, reasons };
}

const apart = { flag: 3, reasons: ["temperature-disagrees"] };
const agreed = { flag: 1, reasons: [] };

describe("thermometers along one stream", () => {
  it("that differ by as much as a stream may leave a probe its own", () => {
    expect(behindResin({ "t-1": 6, "t-2": 25 })).toEqual({ atC: 25, ...agreed });
  });
  it("two that lie tens of degrees apart: the lower one compensates, whose ever it is, and the value is suspect", () => {
    expect(behindResin({ "t-1": 12, "t-2": 60 })).toEqual({ atC: 12, ...apart });
    expect(behindResin({ "t-1": 60, "t-2": 12 })).toEqual({ atC: 12, ...apart });
  });
  it("of three most decide: a probe that is alone with its own is suspect, one that has company is not", () => {
    expect(behindResin({ "t-1": 12, "t-2": 60, "t-3": 13 })).toEqual({ atC: 13, ...apart });
    expect(behindResin({ "t-1": 60, "t-2": 12, "t-3": 13 })).toEqual({ atC: 12, ...agreed });
  });
  it("one that told too long ago contradicts nobody", () => {
    const bench = createProbeBench(line(""));
    bench.read("press/t-1", "Cel", 12);
    bench.read("press/t-2", "Cel", 60, 121);
    expect(bench.measure("conductivity25", "press/ec-2", "S/m", 1e-3, 122)).toMatchObject(agreed);
  });
});
