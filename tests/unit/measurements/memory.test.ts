import { type Line, readLine } from "@drumlin/gateway/line";
import { describe, expect, it } from "vitest";
import { beginMs, createProbeBench } from "./probe-bench.ts";

function lineOf(yaml: string): Line {
  const read = readLine(yaml);
  if (!read.ok) throw new Error(JSON.stringify(read.faults));
  return read.line;
}

describe("rows of what is remembered", () => {
  it("are those of the channels and nodes that changed since the last time, and no others", () => {
    const bench = createProbeBench();
    const changed = () => [...bench.room().dirty()].map(([key]) => key);
    bench.read("press/t-1", "Cel", 18);
    bench.read("press/ec-1", "S/m", 0.05);
    bench.read("drums/f-1", null, 1);
    bench.read("press/flow-1", "m3/s", 5e-5);
    bench.read("other/x", null, 1);
    expect(changed()).toEqual(["channel press/t-1", "channel press/ec-1", "node other"]);
    expect(changed()).toEqual([]);
    bench.calibrate("press/flow-1", [[2, 2.1]]);
    bench.presence("press", []);
    expect(changed()).toEqual(["channel press/flow-1", "node press"]);
    for (let index = 0; index < 33; index += 1) bench.read(`other/x-${index}`, null, 1);
    expect(changed()).toEqual(["node other", "dropped"]);
  });

  it("are those of the channel that was heard last, too, once it says something else", () => {
    const bench = createProbeBench();
    const changed = () => [...bench.room().dirty()].map(([key]) => key);
    bench.read("press/ec-1", "S/m", 0.05);
    expect(changed()).toEqual(["channel press/ec-1"]);
    bench.read("press/ec-1", "S/m", 0.06, 5);
    expect(changed()).toEqual(["channel press/ec-1"]);
  });

  it("a channel that was heard last is what the next line says of it", () => {
    const bench = createProbeBench();
    expect(bench.read("other/x", null, 1)).toMatchObject([{ kind: "unassigned" }]);
    bench
      .room()
      .useLine(
        lineOf(
          "drumlin: 1\nsite: saltmarsh-house\nstages: {}\npoints: { supply: { conductivity: press/ec-1 } }\nbuttons: { hall: { channel: other/x } }\n",
        ),
      );
    expect(bench.read("other/x", null, 1, 5)).toMatchObject([{ kind: "measurement", quantity: "state" }]);
  });

  // As versions 0 and 1 wrote it: everything in one row.
  const whole = {
    corrections: [["press/ec-1", [{ factor: 1.1, offset: 0, validFromMs: beginMs - 1000 }]]],
    temperatures: [["press/t-1", [{ tMs: beginMs - 1000, tC: 25 }]]],
    announced: [["press", [{ name: "ec-3", unit: "S/m", resolution: null, at25: true }]]],
    lives: [["press/ec-2", { aliveAtMs: beginMs - 1000, lastNonZero: 0.5, lastNonZeroAtMs: beginMs - 1000 }]],
    recent: [["press/t-1", { tMs: beginMs - 1000, value: 25, steady: true }]],
    unassigned: {
      channels: [["other", Array.from({ length: 32 }, (_, index) => `other/x-${index}`)]],
      dropped: 5,
    },
  };

  it.each([0, 1])("of version %d, everything in one, are gone on from", (version) => {
    const bench = createProbeBench();
    bench.load(new Map([["all", whole]]), version);
    // Calibrated by 1.1, at the remembered 25 °C.
    expect(bench.measure("conductivity25", "press/ec-1", "S/m", 0.05).value).toBeCloseTo(550, 9);
    expect(bench.read("press/ec-3", "S/m", 0.05)).toMatchObject([{ quantity: "conductivity25" }]);
    expect(bench.measure("conductivity", "press/ec-2", "S/m", 1e-6)).toMatchObject({
      flag: 1,
      belowResolution: true,
    });
    expect(bench.measure("temperature", "press/t-1", "Cel", 35).reasons).toEqual(["spike"]);
    expect(bench.read("other/x-40", null, 1)).toEqual([]);
    expect(bench.read("other/x-4", null, 1)).toHaveLength(1);
    expect(bench.room().unassignedDropped).toBe(6);
    // What was loaded is written down anew, each in its own row.
    bench.restart();
    expect(bench.measure("conductivity25", "press/ec-1", "S/m", 0.05, 1).value).toBeCloseTo(550, 9);
    expect([...bench.save().keys()].sort()).toEqual([
      "channel press/ec-1",
      "channel press/ec-2",
      "channel press/ec-3",
      "channel press/t-1",
      "dropped",
      "node other",
      "node press",
    ]);
  });

  it("that were loaded stay as they are: what is kept of them elsewhere does not move", () => {
    const bench = createProbeBench();
    bench.read("press/t-1", "Cel", 18);
    const rows = new Map(structuredClone([...bench.save()]));
    const before = JSON.stringify([...rows]);
    bench.load(rows);
    bench.read("press/t-1", "Cel", 19, 5);
    expect(JSON.stringify([...rows])).toBe(before);
  });
});
