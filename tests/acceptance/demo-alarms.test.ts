// The demo's own days over the path: what stands at their end is what the simulated house deserves, and nothing else.
import type { AlarmChange } from "@drumlin/gateway/alarms";
import { createPipeline, type Outcome } from "@drumlin/gateway/app";
import type { Fill } from "@drumlin/gateway/fills";
import { readLine } from "@drumlin/gateway/line";
import { saltmarshHouseYaml } from "@drumlin/gateway/simulator";
import { beforeAll, describe, expect, it } from "vitest";
import { createDemoLine } from "../../gateway/src/app/demo-history.ts";

const endMs = Date.UTC(2026, 10, 26, 4);
/** Enough for a night away, a night with a hanging float and the last night; the demo itself shows 14. */
const days = 4;
const dayMs = 86_400_000;
/** Before the node's night away. */
const quietHours = 18;

/** In the salt drum before salt is in it, and in the drum for topping up: what resin makes may have so much. */
const band25 = 10;

interface Lived {
  readonly changes: AlarmChange[];
  readonly fills: Fill[];
  readonly words: Map<string, string>;
  /** Points at which κ25 was measured. */
  readonly measured: Set<string>;
  /** True κ25 of the water in the drums behind the resin, when somebody was called for it and at the end, uS/cm. */
  readonly true25: Map<string, [atCall: number, atEnd: number]>;
  /** True κ25 of what the resin makes at the end, uS/cm. */
  made25: number;
}

/** Follows what is truly in the drums behind the resin, ideally mixed, a minute at a time. */
function createTruth(water: ReturnType<typeof createDemoLine>["water"], lived: Lived) {
  const followed = (["mix", "topUp"] as const).map((name) => {
    const { drum } = water.drums[name];
    return { name, drum, filledL: drum.filledL, kappa25: 0.3 };
  });
  return (isCalled: boolean) => {
    // The probe reads at the water's temperature: turned to 25 °C as the supply's own ratio says.
    const { supply, afterResin } = water.probes();
    lived.made25 = (afterResin * water.line.supply25UsPerCm) / supply;
    for (const one of followed) {
      const inL = one.drum.filledL - one.filledL;
      one.filledL = one.drum.filledL;
      if (inL > 0) one.kappa25 += Math.min(1, inL / one.drum.litres) * (lived.made25 - one.kappa25);
      const atCall = lived.true25.get(one.name)?.[0] ?? 0;
      lived.true25.set(one.name, [isCalled && atCall === 0 ? one.kappa25 : atCall, one.kappa25]);
    }
  };
}

async function live(membrane: boolean): Promise<Lived> {
  const lived: Lived = {
    changes: [],
    fills: [],
    words: new Map(),
    measured: new Set(),

    true25: new Map(),
    made25: 0,
  };
  const demo = createDemoLine({ site: "saltmarsh-house", endMs, days, membrane });
  const pipeline = createPipeline();
  let isCalled = false;
  const look = createTruth(demo.water, lived);
  const take = (outcome: Outcome) => {
    if (outcome.kind === "alarm") {
      lived.changes.push(outcome);
      isCalled ||= outcome.alarm.condition === "resin-breakthrough";
    }
    if (outcome.kind === "fill" && outcome.endedAtMs !== null) lived.fills.push(outcome);
    if (outcome.kind === "drum-water") lived.words.set(outcome.drum, outcome.verdict);
    if (outcome.kind === "measurement" && outcome.quantity === "conductivity25" && outcome.value !== null)
      lived.measured.add(outcome.subject.id);
  };
  let seq = 0;
  const push = (entry: object, receivedAt: number) => {
    seq += 1;
    pipeline.push({ seq, receivedAt, ...entry } as Parameters<typeof pipeline.push>[0], take);
  };
  push({ kind: "start", version: "test", instance: "test" }, demo.startMs);
  push({ kind: "line", yaml: saltmarshHouseYaml({ membrane }) }, demo.startMs);
  await demo.append(async (topic, payload, receivedAt) => {
    const dueMs = pipeline.nextDeadline();
    if (dueMs !== null && dueMs <= receivedAt) push({ kind: "tick" }, dueMs);
    push({ kind: "message", topic, payload }, receivedAt);
    look(isCalled);
    return seq;
  });
  return lived;
}

/** What the house deserves: the float that hung (seen twice), the node that was away, from a fill's last minutes on. */
const deserved = ["drum-not-stopping:mix", "float-disagrees:mix.stop", "node-silent:press", "watch-lost:mix"];

describe.each([
  // The resin takes the supply as it is, and is spent.
  { membrane: false, keys: [...deserved, "resin-breakthrough:after-resin"].sort() },
  { membrane: true, keys: deserved },
])("the demo's days, membrane $membrane", ({ membrane, keys }) => {
  let lived: Lived;
  beforeAll(async () => {
    lived = await live(membrane);
  }, 300_000);
  const lastOf = (key: string) => lived.changes.findLast(({ alarm }) => alarm.key === key)?.alarm;

  it("raise what the house deserves, and nothing else", () =>
    expect([...new Set(lived.changes.map(({ alarm }) => alarm.key))].sort()).toEqual(keys));
  it("the float that hung: over, held until somebody has reset it", () =>
    expect(lastOf("drum-not-stopping:mix")).toMatchObject({
      attention: "wake",
      state: "latched-unacknowledged",
    }));
  it("the node that was away is back", () => expect(lastOf("node-silent:press")?.clearedAtMs).not.toBeNull());
  it("what spent resin made is on hold; behind the membrane it is still good", () => {
    expect(lastOf("resin-breakthrough:after-resin")?.attention).toBe(membrane ? undefined : "tell");
    expect(lived.words.get("mix")).toBe(membrane ? "use" : "hold");
  });
  it("each point on the way has a probe, and each of them is measured", () => {
    const read = readLine(saltmarshHouseYaml({ membrane }));
    if (!read.ok) throw new Error("the demo's line can't be read");
    const behind = read.line.stages.map(({ to }) => to);
    expect(behind).toHaveLength(membrane ? 4 : 3);
    for (const point of ["supply", ...behind]) expect(lived.measured, point).toContain(point);
  });
  it("a day in which nothing is to be shown calls nobody and raises nothing", () => {
    const fromMs = endMs - days * dayMs;
    const early = lived.changes.filter(({ atMs }) => atMs < fromMs + quietHours * 3_600_000);
    expect(early.map(({ alarm }) => alarm.key)).toEqual([]);
    expect(
      lived.fills.filter(({ endedAtMs }) => (endedAtMs ?? 0) < fromMs + quietHours * 3_600_000).length,
    ).toBeGreaterThan(2);
  });
  it("somebody is called for spent resin while no drum behind it is spoilt, and none is at the end", () => {
    const called = lived.changes.find(({ alarm }) => alarm.key.startsWith("resin-breakthrough"));
    expect(called !== undefined).toBe(!membrane);
    for (const drum of ["mix", "topUp"]) {
      const [atCall = 0, atEnd = 0] = lived.true25.get(drum) ?? [];
      expect(atEnd, drum).toBeGreaterThan(0);
      expect(Math.max(atCall, atEnd), drum).toBeLessThan(band25);
    }
    // It is truly spent: what it makes now is over its point's limit of 5 uS/cm.
    expect(lived.made25 > 5).toBe(!membrane);
  });
  it("no fill brought nothing, none is of unknown flow, each drum had some", () => {
    expect(lived.fills.filter(({ litres, flowUnknown }) => !((litres ?? 0) > 1) || flowUnknown)).toEqual([]);
    expect(new Set(lived.fills.map(({ drum }) => drum))).toEqual(new Set(["fresh", "mix", "top-up"]));
  });
});
