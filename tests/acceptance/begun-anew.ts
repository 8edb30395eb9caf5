import { deserialize, serialize } from "node:v8";
import { createPipeline, type Outcome } from "@drumlin/gateway/app";
import type { createLineBench } from "./line-bench.ts";

type Entries = ReturnType<typeof createLineBench>["entries"];

/** Room for a start of the gateway between two entries of a life. */
const seqStep = 10;
/** The gateway is back so long before the next entry, ms. */
const backMs = 1000;

/** What the path tells of a journal if the gateway begins anew, from what it saved, before the entries at these places. */
export function begunAnew(entries: Entries, at: ReadonlySet<number>): Outcome[] {
  const told: Outcome[] = [];
  let pipeline = createPipeline();
  entries.forEach((entry, index) => {
    const seq = entry.seq * seqStep;
    if (at.has(index)) {
      const saved = deserialize(serialize(pipeline.snapshot()));
      pipeline = createPipeline();
      pipeline.restore(saved);
      const receivedAt = Math.max(pipeline.engineMs(), entry.receivedAt - backMs);
      const start = { kind: "start", version: "test", instance: "test", seq: seq - 1, receivedAt } as const;
      pipeline.push(start, (outcome) => told.push(outcome));
    }
    pipeline.push({ ...entry, seq }, (outcome) => told.push(outcome));
  });
  return told;
}

/** Looked at by the minute from when something was last heard, a start among it; and over, while a backlog comes in, at its next look. */
const byMinute: ReadonlySet<string> = new Set([
  "node-silent",
  "site-silent",
  "probe-implausible",
  "watch-lost",
]);

/** Sums that were put together in another order differ in their last digits. */
const textOf = (told: object) =>
  JSON.stringify(told, (_key, value) => (typeof value === "number" ? Number(value.toPrecision(13)) : value));

/** What people are told, comparable: fills as they were told last, words and alarms as they came, proofs, acts that were taken. */
export function toldOf(outcomes: readonly Outcome[]): readonly string[] {
  const fills = new Map<string, string>();
  const rest: string[] = [];
  const words = new Map<string, string>();
  for (const told of outcomes) {
    if (told.kind === "fill") fills.set(told.id, textOf(told));
    else if (told.kind === "drum-water") {
      const { drum, verdict, sinceMs } = told;
      const word = textOf({ drum, verdict, sinceMs });
      if (words.get(drum) !== word) rest.push(word);
      words.set(drum, word);
    } else if (told.kind === "alarm" && told.why !== "judged" && told.why !== "not-judged") {
      const { atMs, why, to, annunciated, alarm } = told;
      const timeMs = byMinute.has(alarm.condition) ? null : atMs;
      rest.push(textOf({ timeMs, why, to, annunciated, key: alarm.key, attention: alarm.attention }));
    } else if (told.kind === "proof" || told.kind === "night" || told.kind === "act-done")
      rest.push(textOf({ ...told, seq: 0 }));
  }
  return [...fills.values(), ...rest.sort()];
}
