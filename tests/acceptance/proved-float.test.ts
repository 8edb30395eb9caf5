// A test that begins while the float is up sees everything the other way round. Expectations written before the first run.
import { describe, expect, it } from "vitest";
import { createLineBench } from "./line-bench.ts";

const yaml = `drumlin: 1
site: saltmarsh-house
points: { supply: {} }
stages: { carbon: { kind: carbon, from: supply, to: after-carbon } }
drums: { fresh: { volume: 200 L, fed_by: after-carbon, stop: drums/float } }
`;
const float = "fresh.stop";

function bench() {
  const line = createLineBench(yaml);
  return {
    ...line,
    /** The contact for 8 s from `atS` on. */
    hold(closed: boolean, atS: number) {
      for (const at of [atS, atS + 4, atS + 8]) line.node("drums", [{ n: "float", vb: closed }], at);
    },
    result: () => line.outcomes.findLast((outcome) => outcome.kind === "proof")?.result,
  };
}

/** Hangs, is lifted, hangs again: proved. */
function proved() {
  const b = bench();
  b.hold(false, 0);
  expect(b.act({ type: "proof-start", float, method: "lifted" }, 10)).toBeNull();
  b.hold(true, 12);
  b.hold(false, 24);
  expect(b.result()).toBe("passed");
  return b;
}

describe("a float that was seen to work", () => {
  it("is not tested while it reads wet, and so is never seen the other way round", () => {
    const b = proved();
    b.hold(true, 100);
    expect(b.act({ type: "proof-start", float, method: "lifted" }, 110)).toBe("not-possible-in-state");
    b.hold(false, 120);
    expect(b.act({ type: "proof-start", float, method: "lifted" }, 130)).toBeNull();
  });
});

describe("a float of which nothing is known", () => {
  it("may be turned after a test that saw it the other way round, once", () => {
    const b = bench();
    b.hold(true, 0);
    expect(b.act({ type: "proof-start", float, method: "lifted" }, 10)).toBeNull();
    b.hold(false, 12);
    b.hold(true, 24);
    expect(b.result()).toBe("reversed");
    const test = `${float}@`;
    const { id } = b.outcomes.findLast((outcome) => outcome.kind === "proof") ?? { id: "" };
    expect(id.startsWith(test)).toBe(true);
    expect(b.act({ type: "proof-turn", float, test: id }, 40)).toBeNull();
    expect(b.result()).toBe("turned");
    // Seen to work now, the way it reads: no second turn brings it back.
    expect(b.act({ type: "proof-turn", float, test: id }, 50)).toBe("not-possible-in-state");
  });
});
