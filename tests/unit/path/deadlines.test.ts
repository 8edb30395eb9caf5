import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { Deadlines } from "../../../gateway/src/path/deadlines.ts";

/** What a reader would write: a list that is looked through each time. */
class PlainDeadlines {
  private readonly all = new Map<string, { stage: number; key: string; atMs: number }>();
  set(stage: number, key: string, atMs: number | null): void {
    if (atMs === null) this.all.delete(`${stage} ${key}`);
    else this.all.set(`${stage} ${key}`, { stage, key, atMs });
  }
  take(): { stage: number; key: string; atMs: number } | null {
    const [first] = [...this.all.values()].sort(
      (a, b) => a.atMs - b.atMs || a.stage - b.stage || (a.key < b.key ? -1 : 1),
    );
    if (first) this.all.delete(`${first.stage} ${first.key}`);
    return first ?? null;
  }
}

const deed = fc.record({
  stage: fc.nat(2),
  key: fc.constantFrom("a", "b", "c", "d"),
  deed: fc.oneof(fc.nat(9), fc.nat(9), fc.constant(null), fc.constant("take" as const)),
});

describe("deadlines", () => {
  it("come up by time, stage and key, whatever was set, moved either way and removed between", () => {
    fc.assert(
      fc.property(fc.array(deed, { maxLength: 60, size: "max" }), (deeds) => {
        const [deadlines, plain] = [new Deadlines(), new PlainDeadlines()];
        const same = () => {
          const [one, other] = [deadlines.take(), plain.take()];
          expect(one && { stage: one.stage, key: one.key, atMs: one.atMs }).toEqual(other);
          return other !== null;
        };
        for (const { stage, key, deed } of deeds) {
          if (deed === "take") same();
          else {
            deadlines.set(stage, key, deed);
            plain.set(stage, key, deed);
          }
        }
        while (same());
      }),
    );
  });
});
