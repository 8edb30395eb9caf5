import { createAttempts } from "@drumlin/gateway/accounts";
import fc from "fast-check";
import { describe, expect, it } from "vitest";

const limit = { key: "mara from 192.0.2.7", most: 5, withinMs: 900_000 };

describe("tries are counted", () => {
  it("five, then none until the first is a quarter of an hour old", () => {
    const attempts = createAttempts(100);
    const waits = [0, 1, 2, 3, 4, 5].map((second) => attempts.begin([limit], second * 1000));
    expect(waits).toEqual([0, 0, 0, 0, 0, 895_000]);
    expect(attempts.begin([limit], 899_999)).toBe(1);
    expect(attempts.begin([limit], 900_000)).toBe(0);
    expect(attempts.begin([limit], 900_001)).toBe(999);
  });

  it("a refused try uses up nothing of another key", () => {
    const attempts = createAttempts(100);
    const other = { key: "from 192.0.2.7", most: 1, withinMs: 900_000 };
    expect(attempts.begin([other], 0)).toBe(0);
    for (let number = 0; number < 20; number += 1) expect(attempts.begin([limit, other], 1)).toBe(899_999);
    attempts.forget(other.key);
    expect(attempts.begin([limit, other], 2)).toBe(0);
  });

  it("never more than `most` in any window, never more keys than fit, whoever tries", () => {
    fc.assert(
      fc.property(
        fc.array(fc.tuple(fc.integer({ min: 0, max: 5 }), fc.integer({ min: 0, max: 400 })), {
          maxLength: 80,
        }),
        (tries) => {
          const attempts = createAttempts(6);
          const passed = new Map<string, number[]>();
          let nowMs = 0;
          for (const [who, laterMs] of tries) {
            nowMs += laterMs;
            const key = `name ${who}`;
            if (attempts.begin([{ key, most: 3, withinMs: 1000 }], nowMs) > 0) continue;
            const times = [...(passed.get(key) ?? []), nowMs];
            passed.set(key, times);
            expect(times.filter((atMs) => nowMs - atMs < 1000).length).toBeLessThanOrEqual(3);
          }
          expect(attempts.size()).toBeLessThanOrEqual(6);
        },
      ),
      { seed: 26 },
    );
    const attempts = createAttempts(6);
    for (let number = 0; number < 50; number += 1)
      attempts.begin([{ key: `name ${number}`, most: 3, withinMs: 1000 }], number);
    expect(attempts.size()).toBe(6);
  });
});
