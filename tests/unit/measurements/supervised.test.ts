import { loopState } from "@drumlin/gateway/line";
import { describe, expect, it } from "vitest";
import table from "../line/values/supervised-loops.json" with { type: "json" };
import { createProbeBench } from "./probe-bench.ts";

const yaml = `drumlin: 1
site: saltmarsh-house
points: { supply: {} }
drums:
  mix: { volume: 200 L, fed_by: supply, stop: { channel: drums/f-1, supervised: true, wet: true } }
  turned: { volume: 200 L, fed_by: supply, stop: { channel: drums/f-2, supervised: true, wet: false } }
`;

describe("a supervised contact", () => {
  it.each(table.rows)("$mA mA: $state", ({ mA, state, wet }) => {
    expect(loopState(mA / 1000)).toBe(state);
    const bench = createProbeBench(yaml);
    const found = bench.measure("state", "drums/f-1", "A", mA / 1000);
    const turned = bench.measure("state", "drums/f-2", "A", mA / 1000);
    if (wet !== null) {
      expect([found.value, found.flag]).toEqual([wet, 1]);
      expect(turned.value).toBe(1 - wet);
    } else if (state === "between") expect([found.value, found.flag]).toEqual([null, 9]);
    else {
      expect(found.flag).toBe(4);
      expect(found.reasons).toEqual([state === "broken" ? "open-circuit" : "short-circuit"]);
    }
  });
});
