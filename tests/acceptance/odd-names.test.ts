import { compileLine, kindOf, readLine } from "@drumlin/gateway/line";
import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { randomFile } from "../unit/line/random-line.ts";
import { beginMs, createLineBench, testLine } from "./line-bench.ts";

/** Values that say something, in the unit of the wire, by signal: up to so much. */
const spans: Readonly<Record<string, number>> = {
  conductivity: 0.08,
  temperature: 30,
  volume: 0.2,
  flow: 6e-5,
  contact: 1,
};

interface Said {
  readonly atS: number;
  /** Which channels speak, and what. */
  readonly parts: readonly number[];
  readonly act:
    | "none"
    | "fill-started"
    | "fill-stopped"
    | "release"
    | "work-on"
    | "proof-start"
    | "medium-change";
  readonly on: number;
}
const said: fc.Arbitrary<Said> = fc.record({
  atS: fc.integer({ min: 1, max: 90 }),
  parts: fc.array(fc.double({ min: 0, max: 1, noNaN: true }), { minLength: 40, maxLength: 40 }),
  act: fc.constantFrom(
    "none",
    "none",
    "fill-started",
    "fill-stopped",
    "release",
    "work-on",
    "proof-start",
    "medium-change",
  ),
  on: fc.nat(),
});

const pick = (ids: readonly string[], index: number) => ids[index % Math.max(1, ids.length)] ?? "nothing";

/** Everything that came out of the path, as text. */
function storyOf(yaml: string, script: readonly Said[]): string {
  const read = readLine(yaml);
  if (!read.ok) throw new Error(JSON.stringify(read.faults));
  const line = compileLine(read.line);
  const bench = createLineBench(yaml);
  const refusals: unknown[] = [];
  let atS = 0;
  for (const [index, { atS: laterS, parts, act, on }] of script.entries()) {
    atS += laterS;
    for (const [node, slots] of line.slotsOfNode) {
      const records = slots.flatMap(({ name, use: { signal } }, part): Record<string, unknown>[] => {
        const share = parts[part % parts.length] as number;
        if (share < 0.1) return [];
        const senml = kindOf(signal).wire[0]?.senml;
        return senml === undefined
          ? [{ n: name, vb: share > 0.5 }]
          : [{ n: name, u: senml, v: share * (spans[signal] as number) }];
      });
      if (records.length > 0) bench.node(node, records, atS);
    }
    const drum = pick(line.idsOf("drum"), on);
    const acts: Readonly<Record<Said["act"], object | null>> = {
      none: null,
      "fill-started": { type: "fill-started", drum },
      "fill-stopped": { type: "fill-stopped", drum },
      release: { type: "release", drum, reason: "dumped" },
      "work-on": {
        type: "work-on",
        subject: { kind: "drum", id: drum },
        untilMs: beginMs + atS * 1000 + 60_000,
      },
      "proof-start": { type: "proof-start", float: pick(line.idsOf("float"), on), method: "lifted" },
      "medium-change": { type: "medium-change", stage: pick(line.idsOf("stage"), on) },
    };
    const given = acts[act];
    if (given) refusals.push(bench.act(given, atS));
    if (index === Math.floor(script.length / 2)) bench.restart(atS);
  }
  bench.tick(atS + 3600);
  return JSON.stringify([bench.outcomes, refusals, bench.standing()], (_key, value) =>
    value instanceof Map ? [...value] : value,
  );
}

describe("names that every object of the language has", () => {
  it("mean nothing: the whole path tells the same of any other name", () => {
    fc.assert(
      fc.property(randomFile, fc.array(said, { minLength: 10, maxLength: 60 }), (file, script) => {
        const other = (text: string) =>
          text.replaceAll("constructor", "constructos").replaceAll("Constructor", "Constructos");
        expect(storyOf(other(file), script)).toBe(other(storyOf(file, script)));
      }),
      { numRuns: 25 },
    );
  });

  it("a drum named constructor is filled like any other, and nothing is written onto Object", () => {
    const bench = createLineBench(testLine.replace("mix:", "constructor:"));
    bench.act({ type: "fill-started", drum: "constructor" }, 1);
    bench.water(2, 602, 0.5, 2.5);
    bench.node("drums", [{ n: "float-2", vb: true }], 605);
    bench.water(605, 905, 0.5, 0);
    const fills = bench.outcomes.filter((outcome) => outcome.kind === "fill");
    expect(fills.at(-1)).toMatchObject({ drum: "constructor" });
    expect(Object.keys(Object)).toEqual([]);
    expect(Object.keys(Object.prototype)).toEqual([]);
  });

  it("a drum may bear the name of the point that feeds it: its probe falls silent, the point's goes on", () => {
    const named = testLine
      .replaceAll("after-resin", "mix")
      .replace("mix: { volume", "mix: { conductivity: drums/ec-9, volume");
    const bench = createLineBench(named);
    bench.node("drums", [{ n: "ec-9", u: "S/m", v: 0.01 }], 1);
    // Heard each 85 s: in between the drum's probe is told to be gone.
    for (let atS = 5; atS < 1200; atS += 5) {
      if (atS % 85 === 0) bench.node("drums", [{ n: "ec-9", u: "S/m", v: 0.01 }], atS);
      bench.water(atS, atS + 5, 0.5, 2.5);
    }
    bench.node("drums", [{ n: "float-2", vb: true }], 1205);
    bench.water(1205, 1405, 0.5, 0);
    const fill = bench.outcomes.findLast((outcome) => outcome.kind === "fill");
    expect(fill).toMatchObject({ watched: 1 });
  });

  it("acts about nothing on the line are refused by name, whatever it is called", () => {
    const bench = createLineBench();
    for (const id of ["nope", "constructor", "__proto__", "toString"]) {
      const untilMs = beginMs + 1e6;
      expect(bench.act({ type: "work-on", subject: { kind: "stage", id }, untilMs }, 1)).toBe(
        "no-such-stage",
      );
      expect(bench.act({ type: "work-on", subject: { kind: "drum", id }, untilMs }, 1)).toBe("no-such-drum");
      expect(bench.act({ type: "fill-started", drum: id }, 1)).toBe("no-such-drum");
      expect(bench.act({ type: "medium-change", stage: id }, 1)).toBe("no-such-stage");
      expect(bench.act({ type: "proof-start", float: id, method: "lifted" }, 1)).toBe("no-such-float");
      expect(bench.act({ type: "calibration", channel: id, points: [{ read: 1, true: 2 }] }, 1)).toBe(
        "no-such-channel",
      );
    }
  });
});
