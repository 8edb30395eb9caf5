// The demo's own days over the path: what stands at their end is what the simulated house deserves, and nothing else.
import type { AlarmChange } from "@drumlin/gateway/alarms";
import { createPipeline, type Outcome } from "@drumlin/gateway/app";
import type { Fill } from "@drumlin/gateway/fills";
import { saltmarshHouseYaml } from "@drumlin/gateway/simulator";
import { beforeAll, describe, expect, it } from "vitest";
import { createDemoLine } from "../../gateway/src/app/demo-history.ts";

const endMs = Date.UTC(2026, 10, 26, 4);
/** Enough for a night away, a night with a hanging float and the last night; the demo itself shows 14. */
const days = 4;

interface Lived {
  readonly changes: AlarmChange[];
  readonly fills: Fill[];
  readonly words: Map<string, string>;
}

async function live(membrane: boolean): Promise<Lived> {
  const lived: Lived = { changes: [], fills: [], words: new Map() };
  const demo = createDemoLine({ site: "saltmarsh-house", endMs, days, membrane });
  const pipeline = createPipeline();
  const take = (outcome: Outcome) => {
    if (outcome.kind === "alarm") lived.changes.push(outcome);
    if (outcome.kind === "fill" && outcome.endedAtMs !== null) lived.fills.push(outcome);
    if (outcome.kind === "drum-water") lived.words.set(outcome.drum, outcome.verdict);
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
    return seq;
  });
  return lived;
}

/** What the house deserves: the float that hung (seen twice), the node that was away. */
const deserved = ["drum-not-stopping:mix", "float-disagrees:mix.stop", "node-silent:press"];

describe.each([
  // The resin takes the supply as it is, and is spent.
  { membrane: false, keys: [...deserved, "resin-breakthrough:after-resin"] },
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
  it("no fill brought nothing, none is of unknown flow, each drum had some", () => {
    expect(lived.fills.filter(({ litres, flowUnknown }) => !((litres ?? 0) > 1) || flowUnknown)).toEqual([]);
    expect(new Set(lived.fills.map(({ drum }) => drum))).toEqual(new Set(["fresh", "mix", "top-up"]));
  });
});
