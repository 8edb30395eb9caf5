import { lineTemplate, pictures } from "@drumlin/gateway/app";
import { readLine } from "@drumlin/gateway/line";
import { describe, expect, it } from "vitest";

const base = (more: string, drum = "") => `drumlin: 1
site: saltmarsh-house
points: { supply: { conductivity: press/ec-1 }, well: {}, after-resin: { conductivity: press/ec-2 } }
stages:
  resin: { kind: resin, from: supply, to: after-resin }
${more}drums:
  mix: { volume: 200 L, fed_by: after-resin${drum} }
`;
const codes = (yaml: string) => {
  const read = readLine(yaml);
  return read.ok ? [] : read.faults.map(({ code, line, instead }) => `${line} ${code}: ${instead}`);
};

describe("what can't be true together", () => {
  it.each([
    [
      "two feeds into one point",
      base("  other: { kind: resin, from: well, to: after-resin }\n"),
      "6 two-feeds-into-one-point",
    ],
    [
      "two stages side by side are a group",
      base("  other: { kind: resin, from: supply, to: after-resin }\n"),
      null,
    ],
    [
      "a float that trips over the drum",
      base("", ", stop: { channel: d/f, trips_at: 210 L }"),
      "7 over-the-drum",
    ],
    [
      "a float that releases over its trip",
      base("", ", stop: { channel: d/f, trips_at: 170 L, releases_at: 180 L }"),
      "7 releases-over-trips",
    ],
    [
      "a specific gravity for a salinity",
      base("", ", target: { salinity: 1.0264 }"),
      "7 gravity-for-salinity",
    ],
    ["a salinity of brackish water", base("", ", target: { salinity: 1.1 }"), null],
    [
      "a range turned round",
      base("").replace("press/ec-1", "{ channel: press/ec-1, range: { min: 900, max: 10 } }"),
      "3 range-turned-round",
    ],
    [
      "a misspelled condition",
      `${base("")}limits: { resin-breaktrough: { limit: 4 } }\n`,
      "8 condition-unknown: Did you mean resin-breakthrough?",
    ],
    [
      "a misspelled subject",
      `${base("")}limits: { "resin-breakthrough:after-rsin": { limit: 4 } }\n`,
      "8 subject-unknown: Did you mean after-resin?",
    ],
    [
      "a limit in words",
      `${base("")}limits: { resin-breakthrough: { limit: low } }\n`,
      "8 limit-not-a-number",
    ],
    ["another setting", `${base("")}limits: { resin-breakthrough: { limits: 4 } }\n`, "8 setting-unknown"],
  ])("%s", (_name, yaml, expected) => {
    const found = codes(yaml);
    if (expected === null) expect(found).toEqual([]);
    else expect(found[0]).toMatch(new RegExp(`^${expected.replaceAll("?", "\\?")}`));
  });

  it("a limit of the file is the point's limit", () => {
    const read = readLine(`${base("")}limits: { "resin-breakthrough:after-resin": { limit: 2 } }\n`);
    expect(read.ok && read.line.points.find(({ id }) => id === "after-resin")?.limit25UsPerCm).toBe(2);
  });
});

describe("the pictures to begin with", () => {
  it.each(Object.keys(pictures))("%s is a line without a fault", (picture) => {
    const read = readLine(lineTemplate(picture as keyof typeof pictures, "saltmarsh-house"));
    expect(read.faults.filter(({ severity }) => severity === "error")).toEqual([]);
    expect(read.ok).toBe(true);
  });
});

describe("topics of other protocols", () => {
  const foreign = (entry: string) => `${base("")}foreign:\n  - ${entry}\n`;
  it.each([
    ["{ topic: shed/ec, channel: press/ec-1, unit: mS/cm }", null],
    ["{ topic: shed/ec, channel: press/ec-1, unit: L }", "9 unit-mismatch"],
    ['{ topic: "shed/+", channel: press/ec-1 }', "9 "],
    ["{ topic: drumlin/1/a/b/readings, channel: press/ec-1 }", "9 "],
    ["{ topic: shed/ec, channel: press/ec-1, pointer: value }", "9 "],
  ])("%s", (entry, expected) => {
    const found = codes(foreign(entry));
    if (expected === null) expect(found).toEqual([]);
    else expect(found[0]).toMatch(new RegExp(`^${expected}`));
  });
});
