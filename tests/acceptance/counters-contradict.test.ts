// A silence in which water came, and the meter's counter says that none did: the float's own counter knows better.
import { createPipeline, type Outcome } from "@drumlin/gateway/app";
import type { DrumFault } from "@drumlin/gateway/simulator";
import { expect, it } from "vitest";
import { createHouse } from "../detection/house.ts";
import { kitOf, lineOf } from "../detection/kits.ts";

const hourS = 3600;
const beginMs = Date.UTC(2026, 2, 3);
const silentS = [1.8 * hourS, 2.8 * hourS] as const;
/** From then on nobody draws: the drum is full when it is heard again. */
const drawsEndS = 2.5 * hourS;

/** The drum's word when its nodes are heard again, an hour of their packs being lost; and litres that came meanwhile. */
function wordAfter(faults: readonly DrumFault[], drawnUntilS: number): { word: string; cameL: number } {
  const kit = kitOf("meter");
  const house = createHouse({
    kit,
    seed: 1,
    faults,
    fromS: silentS[0],
    hours: [0, 24],
    changes: false,
    drawsEndS: drawnUntilS,
    periodS: 15,
  });
  const { model } = house;
  const pipeline = createPipeline();
  let word = "none";
  let seq = 0;
  const push = (entry: object) => {
    seq += 1;
    const receivedAt = beginMs + model.drum.nowS * 1000;
    pipeline.push(
      { seq, receivedAt, ...entry } as Parameters<typeof pipeline.push>[0],
      (outcome: Outcome) => {
        if (outcome.kind === "drum-water") word = outcome.verdict;
      },
    );
  };
  push({ kind: "start", version: "test", instance: "test" });
  push({ kind: "line", yaml: lineOf(kit) });
  while (model.drum.nowS < silentS[1] + 600) {
    const { nowS } = model.drum;
    const messages = house.nodes.messages();
    const isSilent = nowS >= silentS[0] && nowS < silentS[1];
    for (const { topic, payload } of isSilent ? [] : messages) push({ kind: "message", topic, payload });
    const act = {
      id: "act-1",
      by: "keeper",
      type: "release",
      drum: "mix",
      reason: "hand-test",
      value25UsPerCm: 0.5,
    };
    if (nowS === 120) push({ kind: "act", act });
    const dueMs = pipeline.nextDeadline();
    if (dueMs !== null && dueMs <= beginMs + nowS * 1000) push({ kind: "tick" });
    house.step();
  }
  expect(model.stopWet()).toBe(true);
  const cameL = model.fills
    .filter(({ startS }) => startS >= silentS[0])
    .reduce((sum, { litres }) => sum + litres, 0);
  return { word, cameL };
}

it("a meter that stuck proves no silence empty in which the float tripped", () => {
  const { word, cameL } = wordAfter(["meter-stuck-at-0"], drawsEndS);
  expect(cameL).toBeGreaterThan(20);
  expect(word).toBe("unknown");
});

it("a silence in which nothing happened is proved empty by the counters", () => {
  const { word, cameL } = wordAfter([], silentS[0] - 900);
  expect(cameL).toBe(0);
  expect(word).toBe("use");
});
