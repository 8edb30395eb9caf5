import { readAct } from "@drumlin/gateway/acts";
import { createPipeline, type Outcome } from "@drumlin/gateway/app";
import { expect, it } from "vitest";
import { testLine } from "../../acceptance/line-bench.ts";

it("a stored act that can't be read is refused by name, and the path goes on after it", () => {
  const pipeline = createPipeline();
  const outcomes: Outcome[] = [];
  const take = (outcome: Outcome) => void outcomes.push(outcome);
  const act = (seq: number, stored: object) =>
    pipeline.push({ seq, receivedAt: seq, kind: "act", act: readAct(stored) }, take);
  pipeline.push({ seq: 1, receivedAt: 1, kind: "line", yaml: testLine }, take);
  act(2, { type: "weigh", id: "w", by: "Mara", kg: 3 });
  act(3, { type: "fill-started", id: "f", by: "Mara" });
  act(4, { type: "note", id: "n", by: "Mara", text: "salt came" });
  const done = outcomes.filter((outcome) => outcome.kind === "act-done");
  expect(done.map(({ id, refused }) => [id, refused?.code ?? null])).toEqual([
    ["2", "act-not-known"],
    ["3", "act-not-known"],
    ["4", null],
  ]);
  expect(done[0]?.refused?.message).toBe(`An act "weigh" can't be read: this version knows no such act.`);
});
