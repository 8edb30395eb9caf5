import { describe, expect, it } from "vitest";
import type { Fill } from "../../../gateway/src/fills/fill.ts";
import { newFill } from "../../../gateway/src/fills/record/open-fill.ts";
import { type OwedFill, owe } from "../../../gateway/src/fills/record/owed-fills.ts";

const minute = 60_000;
const open = newFill({
  drum: "tub",
  startedAtMs: 0,
  basis: "flow-meter",
  estimated: false,
  meter: null,
  levelStartL: null,
  drawnStartL: 0,
  meterStart: null,
  contentsL: null,
  meterDoubted: false,
  floatBeganMs: null,
});
const told = (id: string, endedAtMs: number) =>
  ({ id, endedAtMs, litres: 20, flowUnknown: false }) as unknown as Fill;
const waiting = (id: string): OwedFill => ({
  fill: told(id, 5 * minute),
  unseen: [
    { fromMs: 0, toMs: minute, litres: 4, watched: 0, bridged: 0, dose: 0, watchedDose: 0, ofFill: 0.2 },
  ],
  hasGrown: false,
});

describe("what waits of a fill that was told once and went on", () => {
  it("is no more once it has ended and all of it was seen: what was told before would come back", () => {
    const left = owe([waiting("a"), waiting("b")], open, told("a", 9 * minute), []);
    expect(left?.map(({ fill }) => fill.id)).toEqual(["b"]);
  });
  it("stays as it is where nothing of another one is owed", () => {
    expect(owe([waiting("b")], open, told("a", 9 * minute), [])).toBeNull();
  });
});
