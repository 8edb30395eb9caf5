import { createAttempts } from "@drumlin/gateway/accounts";
import fc from "fast-check";
import { describe, expect, it } from "vitest";

const limit = { key: "mara from 192.0.2.7", burst: 5, everyMs: 60_000 };

describe("tries are counted", () => {
  it("five at once, then one a minute, for ever", () => {
    const attempts = createAttempts(100);
    const waits = [0, 1, 2, 3, 4, 5].map((second) => attempts.begin([limit], second * 1000));
    expect(waits).toEqual([0, 0, 0, 0, 0, 55_000]);
    expect(attempts.begin([limit], 59_999)).toBe(1);
    for (let minute = 1; minute < 100; minute += 1) {
      expect(attempts.begin([limit], minute * 60_000)).toBe(0);
      expect(attempts.begin([limit], minute * 60_000)).toBe(60_000);
    }
  });

  it("a refused try uses up nothing of another key, and a right one is given back", () => {
    const attempts = createAttempts(100);
    const other = { key: "from 192.0.2.7", burst: 1, everyMs: 900_000 };
    expect(attempts.begin([other], 0)).toBe(0);
    for (let number = 0; number < 20; number += 1) expect(attempts.begin([limit, other], 1)).toBe(899_999);
    attempts.giveBack([other], 1);
    for (let number = 0; number < 100; number += 1) {
      expect(attempts.begin([limit, other], 2)).toBe(0);
      attempts.giveBack([limit, other], 2);
    }
    expect(attempts.size()).toBe(0);
  });

  it("never more than burst and what time gave back, never more keys than fit, whoever tries", () => {
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
            if (attempts.begin([{ key, burst: 3, everyMs: 1000 }], nowMs) > 0) continue;
            const times = [...(passed.get(key) ?? []), nowMs];
            passed.set(key, times);
            for (const fromMs of times) {
              const within = times.filter((atMs) => atMs >= fromMs).length;
              expect(within).toBeLessThanOrEqual(3 + (nowMs - fromMs) / 1000 + 1e-9);
            }
          }
          expect(attempts.size()).toBeLessThanOrEqual(6);
        },
      ),
    );
    const attempts = createAttempts(6);
    for (let number = 0; number < 50; number += 1)
      attempts.begin([{ key: `name ${number}`, burst: 3, everyMs: 1000 }], number);
    expect(attempts.size()).toBe(6);
  });
});
