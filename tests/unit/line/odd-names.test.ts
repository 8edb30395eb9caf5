import { readLine } from "@drumlin/gateway/line";
import { describe, expect, it } from "vitest";
import { createProbeBench } from "../measurements/probe-bench.ts";

const head = "drumlin: 1\nsite: a\n";
const faults = (yaml: string) => {
  const read = readLine(yaml);
  return read.ok ? [] : read.faults.map(({ code, line, column, instead }) => [code, line, column, instead]);
};

describe("names that every object has", () => {
  it("as names of things they are as good as others: constructor", () => {
    const bench = createProbeBench(
      `drumlin: 1
site: constructor
points: { constructor: { conductivity: constructor/constructor, temperature: constructor/toString } }
stages: { constructor: { kind: resin, from: constructor, to: after, flow: constructor/hasOwnProperty } }
drums:
  constructor: { volume: 200 L, fed_by: after, stop: constructor/__proto__x, level: { channel: constructor/valueOf, as: volume } }
pumps: { constructor: { channel: constructor/pump } }
floors: { constructor: constructor/floor }
systems: { constructor: { tanks: [constructor] } }
limits: { "resin-breakthrough:after": { limit: 4 } }
`.replace("__proto__x", "isPrototypeOf"),
    );
    bench.presence("constructor", [{ name: "constructor", unit: "S/m", resolution: 1e-5, at25: true }]);
    bench.presence("__proto__", [{ name: "__proto__", unit: "S/m", resolution: 1, at25: true }]);
    bench.calibrate("constructor/constructor", [[100, 110]]);
    expect(bench.measure("conductivity25", "constructor/constructor", "S/m", 0.01, 1)).toMatchObject({
      value: expect.closeTo(110, 9),
      subject: { kind: "point", id: "constructor" },
    });
    expect(bench.measure("temperature", "constructor/toString", "Cel", 18, 1).value).toBe(18);
    expect(bench.measure("flow", "constructor/hasOwnProperty", "m3/s", 5e-5, 1).subject.id).toBe("after");
    expect(bench.measure("state", "constructor/isPrototypeOf", null, 1, 1).subject).toEqual({
      kind: "float",
      id: "constructor.stop",
      drum: "constructor",
      role: "stop",
    });
    expect(bench.measure("volume", "constructor/valueOf", "m3", 0.1, 1).value).toBe(100);
    for (const channel of ["__proto__/__proto__", "__proto__/toString", "toString/constructor"])
      expect(bench.read(channel, null, 1, 2)).toMatchObject([{ kind: "unassigned", channel }]);
    bench.restart();
    expect(bench.measure("conductivity25", "constructor/constructor", "S/m", 0.01, 3).value).toBeCloseTo(
      110,
      9,
    );
    // Nothing was written where every object would find it.
    expect(Object.keys(Object)).toEqual([]);
    expect(Object.keys(Object.prototype)).toEqual([]);
    expect({}).toEqual(Object.create({}));
  });

  it.each([
    [`${head}points: { p: {}, __proto__: { conductivity: n/c } }`, [["key-unknown", 3, 18, "Leave it out."]]],
    [`${head}points: { p: { __proto__: 1 } }`, [["key-unknown", 3, 16, "Leave it out."]]],
    [
      `${head}points: { p: {} }\ndrums:\n  __proto__: { volume: 1 L }`,
      [["key-unknown", 5, 3, "Leave it out."]],
    ],
    [
      `${head}points: { p: {} }\nlimits: { resin-breakthrough: { __proto__: 4 } }`,
      [["key-unknown", 4, 33, "Leave it out."]],
    ],
    [
      `${head}points: { toString: {} }`,
      [["value-not-allowed", 3, 21, 'Write "tostring": small letters, digits and hyphens.']],
    ],
    [
      `${head}points: { p: {} }\nlimits: { constructor: { limit: 4 } }`,
      [["condition-unknown", 4, 24, "Write one of resin-breakthrough, drum-high-high, drum-not-stopping."]],
    ],
    [
      `${head}points: { p: {} }\nlimits: { "resin-breakthrough:constructor": { limit: 4 } }`,
      [["subject-unknown", 4, 45, "Name a point or drum of this file."]],
    ],
    [`${head}points: { p: {} }\nflows: { constructor: n/f }`, [["point-unknown", 4, 23, "Points are p."]]],
  ])("%s", (yaml, expected) => expect(faults(yaml)).toEqual(expected));
});
