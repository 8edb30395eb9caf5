import { createRunsStage, createWitnesses, type RunState } from "@drumlin/gateway/fills";
import { readLine } from "@drumlin/gateway/line";
import {
  createCountersStage,
  createCurrentStage,
  createMeasurementsStage,
  createProofsStage,
  type Measurement,
} from "@drumlin/gateway/measurements";
import { Composer, type PathEvent } from "@drumlin/gateway/path";
import { createReadingsStage } from "@drumlin/gateway/readings";
import fc from "fast-check";
import { describe, expect, it } from "vitest";

const beginMs = Date.UTC(2026, 2, 3, 4, 0, 0);
const everything = `drumlin: 1
site: saltmarsh-house
points: { supply: {}, after-resin: {} }
stages: { resin: { kind: resin, from: supply, to: after-resin, vessel: 4 L, pipe: 0.5 L } }
flows: { after-resin: press/flow }
drums:
  mix:
    volume: 200 L
    fed_by: after-resin
    control: automatic
    stop: drums/float
    level: { channel: drums/level, as: volume }
    inlet: { channel: drums/inlet, open: true }
`;
const without = (...parts: RegExp[]) => parts.reduce((text, part) => text.replace(part, ""), everything);
const noMeter = without(/flows:.*\n/);
const noLevel = without(/flows:.*\n/, / {4}level:.*\n/);
const callOnly = without(/flows:.*\n/, / {4}level:.*\n/, / {4}inlet:.*\n/);
const byHand = callOnly.replace("automatic", "manual");

type Subject = Measurement["subject"];
const drum: Subject = { kind: "drum", id: "mix" };
const stop: Subject = { kind: "float", id: "mix.stop", drum: "mix", role: "stop" };

function bench(yaml: string) {
  const read = readLine(yaml);
  if (!read.ok) throw new Error(JSON.stringify(read.faults));
  const { line } = read;
  const stages = [
    createReadingsStage(),
    createProofsStage(),
    createMeasurementsStage(),
    createCurrentStage(),
    createCountersStage(),
    createWitnesses(),
    createRunsStage(),
  ];
  const path = new Composer({ stages, readLine: () => line });
  const told: RunState[] = [];
  const take = (outcome: PathEvent) => {
    if (outcome.kind === "run") told.push(outcome as RunState);
  };
  path.push({ seq: 0, receivedAt: beginMs, kind: "line", yaml: "" }, take);
  return {
    told,
    say(subject: Subject, quantity: Measurement["quantity"], value: number, atS: number) {
      const tMs = beginMs + atS * 1000;
      const channel = `x/${subject.kind}-${subject.id.replace(".", "-")}`;
      const measurement: Measurement = {
        kind: "measurement",
        channel,
        subject,
        quantity,
        value,
        tMs,
        flag: 1,
        reasons: [],
      };
      path.feed([measurement], { seq: 1, receivedAt: tMs }, take);
    },
    pass: (atS: number) => path.pass(beginMs + atS * 1000, take),
    last: () => told.findLast(({ point }) => point === "after-resin"),
  };
}

describe("how flow is known, by order of trust", () => {
  it("a meter at the point goes before everything else", () => {
    const b = bench(everything);
    b.say({ kind: "flow", id: "after-resin" }, "flow", 2, 0);
    b.say({ kind: "inlet", id: "mix" }, "state", 0, 1);
    expect(b.last()).toMatchObject({ basis: "flow-meter", flowing: true, flowLPerMin: 2 });
  });
  it("then the drum's level, by its slope", () => {
    const b = bench(noMeter);
    // Two medians of two minutes must differ by 1 % of the drum.
    for (let at = 0; at <= 240; at += 5) b.say(drum, "volume", 50 + at * 0.05, at);
    expect(b.last()).toMatchObject({ basis: "level", flowing: true, startedAtMs: beginMs });
    expect(b.last()?.flowLPerMin).toBeCloseTo(3, 6);
  });
  it("then its inlet, as long as its float hangs dry: a clock's valve stands open behind one that has shut", () => {
    const b = bench(noLevel);
    b.say({ kind: "inlet", id: "mix" }, "state", 1, 0);
    b.say(stop, "state", 0, 1);
    expect(b.last()).toMatchObject({ basis: "inlet", flowing: true, flowLPerMin: null });
    for (const at of [5, 10]) b.say(stop, "state", 1, at);
    expect(b.last()).toMatchObject({ basis: "inlet", flowing: false });
  });
  it("then a dry stop float that calls, where the drum fills itself", () => {
    const b = bench(callOnly);
    b.say(stop, "state", 0, 0);
    expect(b.last()).toMatchObject({ basis: "calling-float", flowing: true });
    b.say(stop, "state", 1, 60);
    expect(b.last()).toMatchObject({ flowing: true });
    // An edge counts at its second reading.
    b.say(stop, "state", 1, 65);
    expect(b.last()).toMatchObject({ flowing: false });
  });
  it("and by nothing where the drum is filled by hand and nothing else tells", () => {
    const b = bench(byHand);
    b.say(stop, "state", 0, 0);
    expect(b.last()).toMatchObject({ basis: "none", flowing: null });
  });
  it("a more trusted source that falls silent leaves the word to the next", () => {
    const b = bench(noMeter);
    for (let at = 0; at <= 240; at += 5) b.say(drum, "volume", 50 + at * 0.05, at);
    b.say({ kind: "inlet", id: "mix" }, "state", 1, 241);
    expect(b.last()?.basis).toBe("level");
    b.say({ kind: "inlet", id: "mix" }, "state", 1, 290);
    b.pass(301);
    expect(b.last()).toMatchObject({ basis: "inlet", flowing: true });
  });
});

describe("first water behind resin", () => {
  it("is past after 1.5 × (0.4 × vessel + pipe): 3.15 L of a 4 L vessel with 0.5 L of pipe", () => {
    const b = bench(everything);
    const settledAtS = (() => {
      for (let at = 0; at < 400; at += 1) {
        b.say({ kind: "flow", id: "after-resin" }, "flow", 2, at);
        if (b.last()?.settled) return at;
      }
      return -1;
    })();
    // 3.15 L at 2 L/min take 94.5 s.
    expect(settledAtS).toBe(95);
    expect(b.last()?.settledBy).toBe("volume");
  });
  it("is past after 5 min where nothing tells litres, by time", () => {
    const b = bench(callOnly);
    b.say(stop, "state", 0, 0);
    b.say(stop, "state", 0, 299);
    expect(b.last()).toMatchObject({ settled: false });
    b.say(stop, "state", 0, 301);
    expect(b.told.some(({ settledBy }) => settledBy === "time")).toBe(true);
  });
  it("a trickle is judged after 5 min all the same: the hard limit", () => {
    const b = bench(everything);
    for (let at = 0; at <= 320; at += 5) b.say({ kind: "flow", id: "after-resin" }, "flow", 0.1, at);
    expect(b.last()).toMatchObject({ settled: true, settledBy: "hard-limit" });
  });
});

describe("litres of a run", () => {
  it("are the flow over time, whatever the times of the readings", () => {
    fc.assert(
      fc.property(
        fc.array(fc.integer({ min: 1, max: 50 }), { minLength: 3, maxLength: 60 }),
        fc.double({ min: 0.2, max: 20, noNaN: true }),
        (stepsS, lPerMin) => {
          const b = bench(everything);
          let at = 0;
          b.say({ kind: "flow", id: "after-resin" }, "flow", lPerMin, at);
          for (const step of stepsS) {
            at += step;
            b.say({ kind: "flow", id: "after-resin" }, "flow", lPerMin, at);
          }
          b.say({ kind: "flow", id: "after-resin" }, "flow", 0, at);
          const litres = b.last()?.litres ?? Number.NaN;
          return Math.abs(litres - (lPerMin * at) / 60) < 1e-6;
        },
      ),
      { numRuns: 60 },
    );
  });
  it("are told at most once a second while nothing else changes", () => {
    const b = bench(everything);
    for (let at = 0; at < 100; at += 0.25) b.say({ kind: "flow", id: "after-resin" }, "flow", 2, at);
    expect(b.told.filter(({ point }) => point === "after-resin").length).toBeLessThanOrEqual(103);
  });
});
