import { deserialize, serialize } from "node:v8";
import { createPipeline, type Outcome } from "@drumlin/gateway/app";
import type { LifeStep } from "./house-life.ts";
import { goldenConditions } from "./projection.ts";

type Pushed = Parameters<ReturnType<typeof createPipeline>["push"]>[0];

/** Runs a life through the path of this version; gives everything that came out, in order. */
export function liveThrough(steps: readonly LifeStep[]): Outcome[] {
  let pipeline = createPipeline();
  let seq = 0;
  let acts = 0;
  let lastMs = 0;
  const outcomes: Outcome[] = [];
  const push = (entry: object, atMs: number) => {
    seq += 1;
    lastMs = Math.max(lastMs, atMs);
    pipeline.push({ seq, receivedAt: lastMs, ...entry } as Pushed, (outcome) => outcomes.push(outcome));
  };
  const act = (given: object, atMs: number) => {
    acts += 1;
    push({ kind: "act", act: { id: `act-${acts}`, by: "keeper", ...given } }, atMs);
  };
  push({ kind: "start", version: "golden", instance: "golden" }, steps[0]?.atMs ?? 0);
  for (const step of steps) {
    switch (step.what) {
      case "message":
        push({ kind: "message", topic: step.topic, payload: new TextEncoder().encode(step.text) }, step.atMs);
        break;
      case "act":
        act(step.act, step.atMs);
        break;
      case "alarm-act": {
        const standing = pipeline.standing().filter(({ condition }) => goldenConditions.includes(condition));
        standing.sort((a, b) => (a.key < b.key ? -1 : 1));
        const alarm = standing[Math.floor(step.pick * standing.length)];
        const key = alarm?.key ?? "drum-high-high:mix";
        if (!alarm && step.type === "out-of-service" && step.pick > 0.2) break;
        const isStale = step.type === "stale";
        const type = isStale ? "acknowledge" : step.type;
        const occurrence = isStale ? "0.0" : (alarm?.occurrence ?? "");
        act(
          { type, key, occurrence, ...(type === "shelve" ? { untilMs: step.atMs + 900_000 } : {}) },
          step.atMs,
        );
        break;
      }
      case "line":
        push({ kind: "line", yaml: step.yaml }, step.atMs);
        break;
      case "restart": {
        push({ kind: "stop" }, step.atMs);
        const saved = deserialize(serialize(pipeline.snapshot()));
        pipeline = createPipeline();
        pipeline.restore(saved);
        push({ kind: "start", version: "golden", instance: "golden" }, step.atMs + step.downMs);
        break;
      }
      case "tick":
        push({ kind: "tick" }, step.atMs);
    }
  }
  return outcomes;
}
