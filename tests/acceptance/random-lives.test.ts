// Some of the lives of `npm run soak -- lives`: draws, bad water, silences, starts, outages and a fault as chance has it.
import { describe, expect, it } from "vitest";
import { liveRandomly, randomPlan } from "../soak/lives/random-life.ts";
import { wrongIn } from "../soak/lives/wrong-in.ts";

describe("a life in which all comes together as chance has it", () => {
  it.each([1, 2, 228, 4, 5, 6, 7, 8])("seed %i", (seed) => {
    const plan = randomPlan(seed);
    expect(wrongIn(plan, liveRandomly(plan)), plan.happenings.map(({ says }) => says).join("\n")).toEqual([]);
  });
});
