import { lineJsonSchema, readLine } from "@drumlin/gateway/line";
import { saltmarshHouseYaml } from "@drumlin/gateway/simulator";
import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { smallestLine } from "../../acceptance/gateway-process.ts";

const faultsOf = (yaml: string) =>
  readLine(yaml).faults.map(({ code, line, column }) => [code, line, column]);
const head = "drumlin: 1\nsite: a\n";

describe("a good file", () => {
  it("the smallest one is read without a word, and everything else has its default", () => {
    const result = readLine(smallestLine, "Europe/Lisbon");
    expect(result.faults.filter(({ severity }) => severity === "error")).toEqual([]);
    expect(result).toMatchObject({
      ok: true,
      line: {
        timezone: "Europe/Lisbon",
        night: { from: "21:00", to: "07:00" },
        solids: { kind: "factor", mgPerLPerUsPerCm: 0.64 },
        disinfectant: "unknown",
        points: [
          { id: "supply", limit25UsPerCm: null },
          { id: "after-resin", limit25UsPerCm: 5, after: ["carbon", "resin"] },
          { id: "after-carbon" },
        ],
      },
    });
    const compensations = result.ok
      ? [...result.line.channels].map(([name, use]) => [name, use.compensation])
      : [];
    expect(compensations).toContainEqual(["press/ec-1", "natural"]);
    expect(compensations).toContainEqual(["press/ec-2", "pure"]);
  });
  it("the demo's is good", () =>
    expect([true, false].map((membrane) => readLine(saltmarshHouseYaml({ membrane })).ok)).toEqual([
      true,
      true,
    ]));
  it("gallons and commas are read: 55 gal is 208.2 L", () => {
    const result = readLine(
      `${head}points: { p: {} }\ndrums: { d: { volume: "55 gal", fed_by: p, stop: n/f } }`,
    );
    expect(result.ok && result.line.drums[0]?.volumeL).toBeCloseTo(208.198, 3);
  });
  it("a JSON Schema for editors comes from the same schema", () => {
    expect(JSON.stringify(lineJsonSchema())).toContain("fed_by");
  });
});

describe("faults, each with its line and column", () => {
  it.each([
    ["points: [", [["not-yaml", 2, 1]]],
    [`${head}points: { p: { conductivty: n/c } }`, [["key-unknown", 3, 16]]],
    [
      `${head}points: { p: {} }\nstages: { s: { kind: magic, from: p, to: q } }`,
      [["value-not-allowed", 4, 22]],
    ],
    [`${head}points: { p: {} }\ndrums:\n  d: { fed_by: p }`, [["key-missing", 5, 3]]],
    [`${head}points: { p: {} }\ndrums:\n  d: { volume: "200", fed_by: p }`, [["not-a-quantity", 5, 16]]],
    [`${head}points: { p: {} }\ndrums:\n  d: { volume: "200 stone", fed_by: p }`, [["unknown-unit", 5, 16]]],
    [`${head}points: { p: {} }\ndrums:\n  d: { volume: "0 L", fed_by: p }`, [["must-be-positive", 5, 16]]],
    [`${head}points: { p: {} }\ndrums:\n  d: { volume: "200 L", fed_by: q }`, [["point-unknown", 5, 33]]],
    [
      `${head}points:\n  p: { conductivity: n/c }\n  q: { conductivity: n/c }`,
      [["channel-used-twice", 5, 22]],
    ],
    [
      `${head}points: { p: {} }\nstages:\n  s: { kind: other, from: p, to: q }\n  t: { kind: other, from: q, to: p }`,
      [
        ["stages-in-a-circle", 4, 1],
        ["stages-in-a-circle", 4, 1],
      ],
    ],
    [
      `${head}points: { p: {} }\nstages:\n  s: { kind: other, from: p, to: p }`,
      [
        ["stage-without-way", 5, 6],
        ["stages-in-a-circle", 4, 1],
      ],
    ],
    [`${head}timezone: Mars/Base\npoints: { p: {} }`, [["timezone-unknown", 3, 11]]],
    [`${head}points: {}`, [["no-points", 3, 9]]],
    [
      `${head}points: { p: {} }\ndrums:\n  d: { volume: 200 L, fed_by: p, level: { channel: n/l } }`,
      [["strapping-missing", 5, 41]],
    ],
    [
      `${head}points: { p: {} }\ndrums:\n  d: { volume: 200 L, fed_by: p, level: { channel: n/l, strapping: { 1 m: 0 L, 0 m: 5 L } } }`,
      [["strapping-not-rising", 5, 68]],
    ],
    [
      `${head}points: { p: {} }\ndrums:\n  d: { volume: 200 L, fed_by: p, stop: n/f, floats: { stop: n/g } }`,
      [["float-named-twice", 5, 40]],
    ],
  ] as [string, [string, number, number][]][])("%s", (yaml, faults) => {
    const found = faultsOf(yaml);
    for (const fault of faults) expect(found.map(([code]) => code)).toContain(fault[0]);
    if (faults[0]?.[0] !== "not-yaml" && !faults[0]?.[0].includes("circle") && faults.length === 1)
      expect(found).toContainEqual(faults[0]);
    expect(readLine(yaml).ok).toBe(false);
  });
  it("all faults at once, with a guess of what was meant", () => {
    const { faults } = readLine(
      smallestLine
        .replace("conductivity: press/ec-2", "conductivty: press/ec-2")
        .replace("kind: carbon", "kind: crbon"),
    );
    expect(faults).toHaveLength(2);
    expect(faults[0]?.instead).toBe('Did you mean "conductivity"?');
  });
  it("an alias without its anchor is a fault, not a crash", () => {
    expect(faultsOf("drumlin: *nowhere")).toEqual([["not-yaml", 1, 1]]);
  });
  it("whatever is written, it never throws", () => {
    fc.assert(
      fc.property(
        fc.oneof(
          fc.string(),
          fc.json(),
          fc.constantFrom(...smallestLine.split("\n")).map((row) => smallestLine.replace(row, "")),
        ),
        (text) => typeof readLine(text).ok === "boolean",
      ),
      { numRuns: 1000 },
    );
  });
});

describe("a line of as many things as are allowed", () => {
  const chain = (count: number) => {
    const stages = Array.from(
      { length: count },
      (_, at) => `  s${at}: { kind: other, from: p${at}, to: p${at + 1} }`,
    );
    return `${head}points: { p0: {} }\nstages:\n${stages.join("\n")}\n`;
  };
  it("300 stages are read, one more is a fault", () => {
    const most = readLine(chain(300));
    expect(most.ok && most.line.points).toHaveLength(301);
    expect(faultsOf(chain(301))).toEqual([["value-not-allowed", 5, 3]]);
  });
  it.each(["points", "systems"])("%s too", (table) => {
    const many = Object.fromEntries(Array.from({ length: 301 }, (_, at) => [`x${at}`, {}]));
    const { faults } = readLine(JSON.stringify({ drumlin: 1, site: "a", points: { p: {} }, [table]: many }));
    expect(faults[0]?.message).toBe(`${table}: more than 300 are too many for one line.`);
  });
});

describe("what a colleague would say", () => {
  const warningsOf = (yaml: string) =>
    readLine(yaml).faults.map(({ code, severity }) => `${severity} ${code}`);
  it.each([
    [
      "overflow-too-near",
      `${head}points: { p: {} }\ndrums: { d: { volume: 200 L, fed_by: p, greatest_flow: 6 L/min, stop: { channel: n/f, trips_at: 185 L } } }`,
    ],
    [
      "floats-on-one-node",
      `${head}points: { p: {} }\ndrums: { d: { volume: 200 L, fed_by: p, floats: { stop: n/f, overflow: n/g } } }`,
    ],
    ["drum-without-stop", `${head}points: { p: {} }\ndrums: { d: { volume: 200 L, fed_by: p } }`],
    [
      "limit-under-resolution",
      `${head}points: { p: {}, q: { conductivity: { channel: n/c, resolution: 2 uS/cm } } }\nstages: { r: { kind: resin, from: p, to: q } }`,
    ],
    [
      "resin-too-small",
      `${head}points: { p: {} }\nstages: { r: { kind: resin, from: p, to: q, media: 2 L } }\ndrums: { d: { volume: 200 L, fed_by: q, greatest_flow: 4 L/min, stop: n/f } }`,
    ],
    [
      "carbon-too-small",
      `${head}points: { p: {} }\nstages: { c: { kind: carbon, from: p, to: q, media: 2 L } }\ndrums: { d: { volume: 200 L, fed_by: q, greatest_flow: 4 L/min, stop: n/f } }`,
    ],
  ])("%s", (code, yaml) => {
    expect(warningsOf(yaml)).toContain(`warning ${code}`);
    expect(readLine(yaml).ok).toBe(true);
  });
});
