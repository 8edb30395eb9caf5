import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { type Grip, gripped, keyed, stripOf } from "../../../monitor-ui/src/trend/brush-span.ts";
import { lastHours, spanOf } from "../../../monitor-ui/src/trend/window.ts";

const nowMs = Date.UTC(2026, 10, 25, 12);
const dayMs = 86_400_000;
const daysOf = (hours: number) => {
  const { fromMs, toMs } = stripOf(lastHours(hours, nowMs), nowMs);
  expect(toMs).toBe(nowMs);
  return (toMs - fromMs) / dayMs;
};

describe("the strip under the charts", () => {
  it("is the shortest in which the window has room", () => {
    expect([1, 8, 24, 168, 336, 2160].map(daysOf)).toEqual([1, 1, 14, 90, 90, 731]);
    // Three days that lie a month back.
    const past = { fromMs: nowMs - 33 * dayMs, toMs: nowMs - 30 * dayMs, live: false };
    expect(stripOf(past, nowMs).fromMs).toBe(nowMs - 90 * dayMs);
  });

  it("each end moves alone, the whole keeps its span; live again at the right end", () => {
    const window = lastHours(24, nowMs);
    const strip = stripOf(window, nowMs);
    const at = (grip: Grip, daysAgo: number) =>
      gripped(window, grip, nowMs - daysAgo * dayMs, { strip, nowMs });
    expect(at("from", 3)).toEqual({ fromMs: nowMs - 3 * dayMs, toMs: nowMs, live: true });
    expect(at("to", 0.5)).toEqual({ fromMs: nowMs - dayMs, toMs: nowMs - dayMs / 2, live: false });
    expect(at("whole", 5)).toEqual({ fromMs: nowMs - 5 * dayMs, toMs: nowMs - 4 * dayMs, live: false });
    expect(at("whole", 0)).toEqual(window);
  });

  it("wherever it is moved to, the ends don't pass each other, and nothing leaves the strip", () => {
    const grips = fc.constantFrom<Grip>("from", "to", "whole");
    fc.assert(
      fc.property(
        fc.array(fc.tuple(grips, fc.double({ min: -1, max: 2, noNaN: true })), { maxLength: 8 }),
        (moves) => {
          let window = lastHours(24, nowMs);
          const strip = stripOf(window, nowMs);
          for (const [grip, share] of moves) {
            const ms = strip.fromMs + share * (strip.toMs - strip.fromMs);
            window = gripped(window, grip, ms, { strip, nowMs });
            expect(spanOf(window)).toBeGreaterThan((0.9 * (14 * dayMs)) / 200);
            expect(window.fromMs).toBeGreaterThanOrEqual(strip.fromMs - 1);
            expect(window.toMs).toBeLessThanOrEqual(nowMs);
          }
        },
      ),
    );
  });

  it("arrow keys go a hundredth of the strip, with Shift five, Home and End to its ends", () => {
    const strip = { fromMs: nowMs - 100 * dayMs, toMs: nowMs };
    const atMs = nowMs - 50 * dayMs;
    const key = (name: string, isFar = false) => keyed(name, isFar, { atMs, strip });
    expect(key("ArrowLeft")).toBe(atMs - dayMs);
    expect(key("ArrowRight", true)).toBe(atMs + 5 * dayMs);
    expect([key("Home"), key("End"), key("Tab")]).toEqual([strip.fromMs, strip.toMs, null]);
  });
});
