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

const changes: AlarmChange[] = [];
const fills: Fill[] = [];

beforeAll(async () => {
  const demo = createDemoLine("saltmarsh-house", endMs, days);
  const pipeline = createPipeline();
  const take = (outcome: Outcome) => {
    if (outcome.kind === "alarm") changes.push(outcome);
    if (outcome.kind === "fill" && outcome.endedAtMs !== null) fills.push(outcome);
  };
  let seq = 0;
  const push = (entry: object, receivedAt: number) => {
    seq += 1;
    pipeline.push({ seq, receivedAt, ...entry } as Parameters<typeof pipeline.push>[0], take);
  };
  push({ kind: "start", version: "test", instance: "test" }, demo.startMs);
  push({ kind: "line", yaml: saltmarshHouseYaml }, demo.startMs);
  await demo.append(async (topic, payload, receivedAt) => {
    const dueMs = pipeline.nextDeadline();
    if (dueMs !== null && dueMs <= receivedAt) push({ kind: "tick" }, dueMs);
    push({ kind: "message", topic, payload }, receivedAt);
    return seq;
  });
}, 300_000);

const raised = () => [...new Set(changes.map(({ alarm }) => alarm.key))].sort();
const lastOf = (key: string) => changes.findLast(({ alarm }) => alarm.key === key)?.alarm;

describe("the demo's days", () => {
  it("raise what the house deserves: the float that hung (seen twice), the node that was away, the resin", () =>
    expect(raised()).toEqual([
      "drum-not-stopping:mix",
      "float-disagrees:mix.stop",
      "node-silent:press",
      "resin-breakthrough:after-resin",
    ]));
  it("the float that hung: over, held until somebody has reset it", () =>
    expect(lastOf("drum-not-stopping:mix")).toMatchObject({
      attention: "wake",
      state: "latched-unacknowledged",
    }));
  it("the node that was away is back", () => expect(lastOf("node-silent:press")?.clearedAtMs).not.toBeNull());
  it("the resin breaks through", () =>
    expect(lastOf("resin-breakthrough:after-resin")).toMatchObject({ attention: "tell" }));
  it("no fill brought nothing, and none is of unknown flow", () =>
    expect(fills.filter(({ litres, flowUnknown }) => !((litres ?? 0) > 1) || flowUnknown)).toEqual([]));
});
