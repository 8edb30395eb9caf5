// A router that is away while a drum fills: its nodes keep their packs, and send them after it. What they saw goes into the
// fills and the word as if it had been heard; nobody is called for what is over. Written down before the first run.

import { createPipeline, type Outcome } from "@drumlin/gateway/app";
import type { Fill } from "@drumlin/gateway/fills";
import { beforeAll, describe, expect, it } from "vitest";
import { createHouse } from "../detection/house.ts";
import { kitOf, lineOf } from "../detection/kits.ts";

const beginMs = Date.UTC(2026, 2, 3);
const kit = kitOf("float");
type Message = ReturnType<ReturnType<typeof createHouse>["nodes"]["messages"]>[number];

const newHouse = () =>
  createHouse({
    kit,
    seed: 1,
    faults: [],
    fromS: 0,
    hours: [0, 24],
    changes: false,
    drawsEndS: null,
    periodS: 15,
  });

/** The first fill after half an hour. */
function firstFill() {
  const { model, nodes, step } = newHouse();
  for (;;) {
    const found = model.fills.find(({ startS }) => startS > 1800);
    if (found) return found;
    nodes.messages();
    step();
  }
}

const spoilt = (message: Message): Message =>
  message.node === "press"
    ? {
        ...message,
        payload: new TextEncoder().encode(
          new TextDecoder().decode(message.payload).replace(/("n":"ec-2"[^}]*"v":)[^,}]+/, "$10.008"),
        ),
      }
    : message;

/** Silent from 4 min before the fill to 4 min after it; then what waited comes, put in order by `sorted`. */
function live(
  truth: { startS: number; endS: number },
  sorted: (held: readonly Message[]) => readonly Message[],
) {
  const { model, nodes, step } = newHouse();
  const [fromS, toS] = [truth.startS - 240, truth.endS + 240];
  const pipeline = createPipeline();
  const told = { words: [] as string[], fills: [] as Fill[], calls: [] as string[] };
  let held: Message[] = [];
  let seq = 0;
  const take = (outcome: Outcome) => {
    if (outcome.kind === "drum-water") told.words.push(outcome.verdict);
    if (outcome.kind === "fill" && outcome.endedAtMs !== null) told.fills.push(outcome);
    if (outcome.kind === "alarm" && outcome.annunciated) told.calls.push(outcome.alarm.condition);
  };
  const push = (entry: object) => {
    seq += 1;
    const receivedAt = beginMs + model.drum.nowS * 1000;
    pipeline.push({ seq, receivedAt, ...entry } as Parameters<typeof pipeline.push>[0], take);
  };
  const send = ({ topic, payload }: Message) => push({ kind: "message", topic, payload });
  push({ kind: "start", version: "test", instance: "test" });
  push({ kind: "line", yaml: lineOf(kit) });
  while (model.drum.nowS < toS + 300) {
    const { nowS } = model.drum;
    const messages = nodes.messages();
    if (nowS >= fromS && nowS < toS) held.push(...messages);
    else {
      for (const message of sorted(held)) send(message);
      held = [];
      for (const message of messages) send(message);
    }
    if (nowS === 600)
      push({
        kind: "act",
        act: { id: "a", by: "k", type: "release", drum: "mix", reason: "hand-test", value25UsPerCm: 0.4 },
      });
    const dueMs = pipeline.nextDeadline();
    if (dueMs !== null && dueMs <= beginMs + nowS * 1000) push({ kind: "tick" });
    step();
  }
  const found = told.fills.filter(({ startedAtMs }) => startedAtMs > beginMs + fromS * 1000);
  return { ...told, found, word: told.words.at(-1) };
}

const silences = ["site-silent", "node-silent", "watch-lost"];
const oneNodeAfterTheOther = (held: readonly Message[]) =>
  [...held].sort((a, b) => b.node.localeCompare(a.node));

describe("packs that waited in their nodes", () => {
  let truth = { startS: 0, endS: 0, litres: 0 };
  beforeAll(() => {
    truth = firstFill();
  });

  it.each([
    ["in the order in which they were made", (held: readonly Message[]) => held],
    ["one node after the other", oneNodeAfterTheOther],
  ])("%s: the fill is told, the word is `use` again, nobody is called", (_how, sorted) => {
    const { found, words, word, calls } = live(truth, sorted);
    expect(found).toHaveLength(1);
    const [fill] = found as [Fill];
    expect(Math.abs((fill.startedAtMs - beginMs) / 1000 - truth.startS)).toBeLessThanOrEqual(30);
    expect(Math.abs((fill.litres ?? 0) / truth.litres - 1)).toBeLessThan(0.25);
    expect(fill.end).toBe("float-tripped");
    expect(word).toBe("use");
    // Meanwhile nobody saw what came in: the silence was longer than a whole fill.
    expect(words.slice(words.indexOf("use"))).toEqual(["use", "unknown", "use"]);
    expect(calls.filter((condition) => !silences.includes(condition))).toEqual([]);
  });

  it("of bad water: the word holds, and nobody is called for what is over", () => {
    const { word, calls } = live(truth, (held) => held.map(spoilt));
    expect(word).toBe("hold");
    expect(calls.filter((condition) => !silences.includes(condition))).toEqual([]);
  });

  it("those of the drum's node are lost: nobody knows what came in", () => {
    const { word } = live(truth, (held) => held.filter(({ node }) => node === "press"));
    expect(word).toBe("unknown");
  });
});
